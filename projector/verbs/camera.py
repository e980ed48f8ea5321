"""By camera, while the person lays the sheets: `align --camera` and `check --camera`."""

from argparse import Namespace
from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

from calibration.cameras.camera import Camera
from calibration.cameras.watch import Watch
from calibration.photos.sightings import PhotoSighting
from calibration.sheets.sheet import PAPERS
from calibration.sheets.targets import Targets
from calibration.solving.from_photos import Solved, print_scale, solved
from projector.aligning.camera_work import CameraWork
from projector.errors import ProjectorError
from projector.session import Session
from projector.stations.camera import CameraStation
from projector.verbs.align import finish
from projector.verbs.drift import NewLook, keep_and_report, new_look, sheets_lying
from projector.verbs.where import screen_name_asked, screen_to_align, setup_on_screen, where_asked
from projector.window import run

R = TypeVar("R")
WORDS_ROWS = 1


def align_by_camera(arguments: Namespace) -> int:
    """An alignment from what a camera sees; the exit code."""
    print_scale(arguments.printed_ruler)  # a slip of typing is told before the light goes on
    screen_px, screen_name = screen_to_align(arguments), screen_name_asked(arguments)
    paper = PAPERS[arguments.paper]
    targets = Targets(screen_px=screen_px, sheets=arguments.sheets, paper=paper, dark_rows=WORDS_ROWS)
    tapes = dict(arguments.tape)

    def judge(sighting: PhotoSighting) -> Solved:
        return solved([sighting], paper, screen_px, arguments.printed_ruler, tapes)

    def verdict(found: Solved) -> str:
        return found.alignment.verdict

    found = _watched(arguments, targets, judge, verdict)
    finish(replace(found, alignment=replace(found.alignment, screen_name=screen_name)), arguments)
    return 0


def check_by_camera(arguments: Namespace) -> int:
    """Whether anything has moved, by what a camera sees, and with `--realign` the alignment by it; the exit code."""
    setup = setup_on_screen(arguments)
    paper, sheets = sheets_lying(arguments, setup.alignment)
    targets = Targets(screen_px=setup.screen_px, sheets=sheets, paper=paper, dark_rows=WORDS_ROWS)

    def judge(sighting: PhotoSighting) -> NewLook:
        return new_look([sighting], setup, realign=arguments.realign)

    keep_and_report(arguments, _watched(arguments, targets, judge, lambda found: found.words))
    return 0


def _watched(
    arguments: Namespace, targets: Targets, judge: Callable[[PhotoSighting], R], verdict: Callable[[R], str]
) -> R:
    """What the judge made of what the camera saw; raises where the person left before, or the camera failed."""
    watch = Watch(paper=targets.paper, sheets=targets.sheets, targets=targets)
    session = Session(CameraStation.begun(targets), preview=arguments.window is not None)
    with Camera(arguments.camera) as camera, CameraWork(camera, watch, judge, verdict) as work:
        run(session, where_asked(arguments), targets.screen_px, lambda _: None, work.keep_up)
    if work.failure is not None:
        raise work.failure
    if work.result is None:
        raise ProjectorError("left before all was seen; nothing is kept of it")
    return work.result
