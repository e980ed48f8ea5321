"""The verb `check --photo`: whether projector, table or sheets have moved since the alignment."""

import json
from argparse import Namespace
from datetime import datetime

from calibration.errors import AlignmentError
from calibration.from_photos import look
from calibration.look_again import LookAgain, look_again
from calibration.moved import Drift, aligned_again, judged
from calibration.saved import Alignment
from calibration.setups import Setup
from calibration.sheet import PAPERS, Paper
from calibration.table_file import load_table, save_table
from projector.errors import ProjectorError
from projector.trust import rounded_up


def drift(arguments: Namespace) -> int:
    """Look at the photos, keep what they tell, and with `--realign` the alignment by them; the exit code."""
    table = load_table(arguments.table)
    setup = table.setup(arguments.setup)
    alignment = setup.alignment
    paper, sheets = sheets_lying(arguments, alignment)
    again = look_again(look(arguments.photo, paper, alignment.map.screen_px, sheets), alignment)
    now = datetime.now().astimezone()
    told = _told(again, alignment, now, without=arguments.realign)
    if told is not None:
        setup = setup.tested(told.test)
    if arguments.realign:
        setup = setup.realigned(aligned_again(again, alignment, now))
    save_table(arguments.table, table.with_setup(setup))
    _report(arguments, setup, told)
    return 0


def sheets_lying(arguments: Namespace, alignment: Alignment) -> tuple[Paper, int]:
    """The paper and number of the sheets: as typed, or else as the table file has them."""
    paper = arguments.paper or alignment.paper
    if paper not in PAPERS:
        raise ProjectorError(
            "The table file does not say what paper the sheets are; name it with --paper letter or --paper a4"
        )
    return PAPERS[paper], arguments.sheets or alignment.sheets


def _told(again: LookAgain, alignment: Alignment, now: datetime, *, without: bool) -> Drift | None:
    """What has moved; None where that cannot be told and the table is aligned again without it."""
    try:
        return judged(again, alignment, now)
    except AlignmentError:
        if without:
            return None
        raise


def _report(arguments: Namespace, setup: Setup, told: Drift | None) -> None:
    words = (
        "What has moved cannot be told: the sheets have been laid anew." if told is None else told.test.what
    )
    alignment = setup.alignment
    if arguments.json:
        result = {
            "moved": None if told is None else told.test.moved,
            "moved_in": None if told is None else told.test.moved_in,
            "cause": None if told is None else told.cause,
            "moved_sheets": [] if told is None else list(told.moved_sheets),
            "what": words,
            "realigned": arguments.realign,
            "p95_in": alignment.p95_in,
        }
        print(json.dumps(result))
        return
    print(f"{arguments.table}: {words}")
    if arguments.realign:
        print(f"aligned again; good to {rounded_up(alignment.p95_in)} nearly everywhere")
