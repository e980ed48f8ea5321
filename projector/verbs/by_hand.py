"""By hand, without a camera: `align --by-hand`, and the checks `--by-hand` and `--loop`."""

import json
from argparse import Namespace
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any, Final

from calibration.frames import Array
from calibration.hand.by_hand import HandAlignment
from calibration.hand.drift import (
    LaidMark,
    laid_marks,
    loop_by_eye,
    moved_by_hand,
    spread_marks,
    widest_three,
)
from calibration.sheets.sheet import PAPERS
from calibration.table.setups import Setup
from calibration.table.table_file import load_table, save_alignment, save_table
from calibration.trust.closed_loop import LoopTest
from calibration.trust.drift import DriftTest
from patterns.measures import in_words
from projector.aligning.crosses import crosses_path, keep_crosses, set_aside, with_kept_crosses
from projector.errors import ProjectorError
from projector.pictures.alignment_picture import Known, write_alignment_picture
from projector.session import Session
from projector.stations.align import AlignStation
from projector.stations.nudge import NudgeStation, Verdict
from projector.trust import rounded_up
from projector.verbs.align import report
from projector.verbs.where import screen_name_asked, screen_to_align, setup_on_screen, where_asked
from projector.window import run

LOOP_MARKS: Final = 9
RULER_PARTS: Final = 64


def by_hand(arguments: Namespace) -> int:
    """An alignment from crosses moved on to marks; the exit code."""
    screen_px, screen_name = screen_to_align(arguments), screen_name_asked(arguments)
    kept_in = crosses_path(arguments.table)
    begun = _begun(arguments, screen_px)
    aside = set_aside(kept_in, begun)
    notice = "" if aside is None else f"crosses of another table, mat or screen are kept in {aside.name}"
    station = AlignStation.begun(with_kept_crosses(kept_in, begun), arguments.setup, notice)
    session = Session(station, preview=arguments.window is not None)

    def keep(station: AlignStation) -> None:
        if station.alignment.crosses or kept_in.exists():
            keep_crosses(kept_in, station.alignment)

    run(session, where_asked(arguments), screen_px, keep)
    result = session.station.result
    if result is None:
        if not session.station.alignment.placed:
            raise ProjectorError("left without an alignment, before any cross was placed")
        raise ProjectorError(
            f"left without an alignment; the crosses placed so far wait in {kept_in} for the next time"
        )
    result = replace(result, screen_name=screen_name)
    save_alignment(arguments.table, result)
    kept_in.unlink(missing_ok=True)
    if arguments.picture is not None:
        known = Known(alignment=result, arrows_in=session.station.alignment.residual_arrows)
        write_alignment_picture(arguments.picture, known)
    report(result, arguments)
    return 0


def drift_by_hand(arguments: Namespace) -> int:
    """Whether anything has moved, by three crosses nudged on to their marks; the exit code."""
    setup = setup_on_screen(arguments)

    def test_of(marks_in: Array, moved_in: Array) -> DriftTest:
        alignment = setup.alignment
        return moved_by_hand(alignment.map, marks_in, moved_in, _now(), alignment.turn_deg)

    marks = widest_three(laid_marks(setup.alignment))
    station = _nudged(arguments, setup, marks, lambda *seen: test_of(*seen).what)
    test = test_of(station.placed_in, station.moved_in)
    _keep(arguments, setup, test)
    result = {"moved": test.moved, "moved_in": test.moved_in, "what": test.what, "by": "hand"}
    _tell(arguments, result, test.what)
    return 0


def loop_by_hand(arguments: Namespace) -> int:
    """How far off the light is, by crosses nudged on to their marks all over the table; the exit code."""
    setup = setup_on_screen(arguments)

    def test_of(marks_in: Array, misses_in: Array) -> LoopTest:
        return loop_by_eye(setup.alignment.map, marks_in, misses_in, _now())

    marks = spread_marks(laid_marks(setup.alignment), LOOP_MARKS)
    station = _nudged(arguments, setup, marks, lambda *seen: _loop_words(test_of(*seen)))
    test = test_of(station.placed_in, station.moved_in)
    _keep(arguments, setup, test)
    claim_in = setup.tested(test).in_force().p95_in
    result = {
        "marks": test.marks,
        "rms_in": test.rms_in,
        "p95_in": test.p95_in,
        "most_in": test.most_in,
        "claim_in": claim_in,
        "by": test.by,
    }
    _tell(arguments, result, f"{_loop_words(test)}; the light is good to {rounded_up(claim_in)}")
    return 0


def _nudged(
    arguments: Namespace, setup: Setup, marks: tuple[LaidMark, ...], verdict: Verdict
) -> NudgeStation:
    """The station with its crosses placed; ProjectorError where the person left before.

    The marks lie in the plane that was aligned, so a raised cutting surface is left out.
    """
    alignment = setup.alignment
    station = NudgeStation.begun(alignment.map, marks, verdict, on_mat=alignment.mat is not None)
    session = Session(station, preview=arguments.window is not None)
    run(session, where_asked(arguments), alignment.map.screen_px, lambda _: None)
    if not session.station.done:
        raise ProjectorError(
            f"left after {len(session.station.left_px)} of {len(marks)} marks; nothing is kept of it"
        )
    return session.station


def _loop_words(test: LoopTest) -> str:
    far = "on their marks, as far as the eye can tell"
    if test.most_in > 0:
        far = f"up to {rounded_up(test.most_in)} off (RMS {in_words(test.rms_in, RULER_PARTS)}), less the hand's own"
    return f"{test.marks} crosses {far}"


def _keep(arguments: Namespace, setup: Setup, test: DriftTest | LoopTest) -> None:
    save_table(arguments.table, load_table(arguments.table).with_setup(setup.tested(test)))


def _tell(arguments: Namespace, result: Mapping[str, Any], words: str) -> None:
    print(json.dumps(result) if arguments.json else f"{arguments.table}: {words}")


def _now() -> datetime:
    return datetime.now().astimezone()


def _begun(arguments: Namespace, screen_px: tuple[int, int]) -> HandAlignment:
    if arguments.mat_pitch is not None:
        return HandAlignment.over_mat(screen_px, arguments.mat_pitch, arguments.mat_size)
    paper = PAPERS[arguments.paper]
    return HandAlignment.over_sheets(screen_px, paper, arguments.sheets, arguments.printed_ruler)
