"""The verb `check --photo`: whether projector, table or sheets have moved since the alignment."""

import json
from argparse import Namespace
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from calibration.errors import AlignmentError
from calibration.photos.sightings import PhotoSighting
from calibration.sheets.sheet import PAPERS, Paper
from calibration.solving.from_photos import look
from calibration.table.saved import Alignment
from calibration.table.setups import Setup
from calibration.table.table_file import load_table, save_table
from calibration.trust.look_again import LookAgain, look_again
from calibration.trust.moved import Drift, aligned_again, judged
from projector.errors import ProjectorError
from projector.trust import rounded_up


@dataclass(frozen=True, slots=True, kw_only=True)
class NewLook:
    """The set-up after a new look at its table, and what has moved; None where that cannot be told."""

    setup: Setup
    told: Drift | None

    @property
    def words(self) -> str:
        """What has moved, in a sentence."""
        if self.told is None:
            return "What has moved cannot be told: the sheets have been laid anew."
        return self.told.test.what


def drift(arguments: Namespace) -> int:
    """Look at the photos, keep what they tell, and with `--realign` the alignment by them; the exit code."""
    setup = load_table(arguments.table).setup(arguments.setup)
    paper, sheets = sheets_lying(arguments, setup.alignment)
    seen = look(arguments.photo, paper, setup.alignment.map.screen_px, sheets)
    keep_and_report(arguments, new_look(seen, setup, realign=arguments.realign))
    return 0


def sheets_lying(arguments: Namespace, alignment: Alignment) -> tuple[Paper, int]:
    """The paper and number of the sheets: as typed, or else as the table file has them."""
    paper = arguments.paper or alignment.paper
    if paper not in PAPERS:
        raise ProjectorError(
            "The table file does not say what paper the sheets are; name it with --paper letter or --paper a4"
        )
    return PAPERS[paper], arguments.sheets or alignment.sheets


def new_look(seen: Sequence[PhotoSighting], setup: Setup, *, realign: bool) -> NewLook:
    """What has moved by what is seen, and `realign`: the alignment by it.

    Raises AlignmentError where it cannot be told what has moved, and the table is not aligned again either.
    """
    again, now = look_again(seen, setup.alignment), datetime.now().astimezone()
    told = _told(again, setup.alignment, now, without=realign)
    after = setup if told is None else setup.tested(told.test)
    if realign:
        after = after.realigned(aligned_again(again, setup.alignment, now))
    return NewLook(setup=after, told=told)


def _told(again: LookAgain, alignment: Alignment, now: datetime, *, without: bool) -> Drift | None:
    """What has moved; None where that cannot be told and the table is aligned again without it."""
    try:
        return judged(again, alignment, now)
    except AlignmentError:
        if without:
            return None
        raise


def keep_and_report(arguments: Namespace, found: NewLook) -> None:
    """Into the table file with it, and say it."""
    save_table(arguments.table, load_table(arguments.table).with_setup(found.setup))
    told, alignment = found.told, found.setup.alignment
    if arguments.json:
        result = {
            "moved": None if told is None else told.test.moved,
            "moved_in": None if told is None else told.test.moved_in,
            "cause": None if told is None else told.cause,
            "moved_sheets": [] if told is None else list(told.moved_sheets),
            "sure": None if told is None else told.test.sure,
            "doubt_in": None if told is None else told.doubt_in,
            "look_from": None if told is None else told.look_from,
            "what": found.words,
            "realigned": arguments.realign,
            "p95_in": alignment.p95_in,
        }
        print(json.dumps(result))
        return
    print(f"{arguments.table}: {found.words}")
    if arguments.realign:
        print(f"aligned again; good to {rounded_up(alignment.p95_in)} nearly everywhere")
