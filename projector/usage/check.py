"""`check`: what may be typed. One mode at a time; without one, the ruler test on the table."""

from argparse import ArgumentParser, Namespace
from pathlib import Path

from projector.arguments import camera, length_in, lens_in, positive_in, sheet_count
from projector.usage.shared import PAPER_NAMES, add_table, add_where
from projector.usage.verb import Verb

RULER_TEST = "projector.verbs.check.ruler_test"
MODES = {
    "taped": "projector.verbs.check.taped",
    "restore": "projector.verbs.check.restore",
    "history": "projector.verbs.history.history",
    "photo": "projector.verbs.drift.drift",
    "camera": "projector.verbs.camera.check_by_camera",
    "by_hand": "projector.verbs.by_hand.drift_by_hand",
    "loop_frame": "projector.verbs.loop.loop_frame",
    "loop_photo": "projector.verbs.loop.loop_photo",
    "loop": "projector.verbs.by_hand.loop_by_hand",
    "surface": "projector.verbs.surface.surface",
    "forecast": "projector.verbs.picture.show_forecast",
    "picture": "projector.verbs.picture.write_forecast",
    "cloth_frame": "projector.verbs.cloth.cloth_frame",
    "cloth": "projector.verbs.cloth.cloth",
}
SEES_SHEETS = ("photo", "camera", "loop_frame", "loop_photo")
GOES_WITH = {
    "realign": ("photo", "camera"),
    "paper": SEES_SHEETS,
    "sheets": SEES_SHEETS,
    "lens": ("surface",),
    "correct": ("surface",),
}
# The ruler test itself, which has no option of its own, is in neither list.
WITHOUT_WINDOW = (
    "taped", "restore", "history", "photo", "loop_frame", "loop_photo", "surface", "picture", "cloth_frame", "cloth",
)  # fmt: skip
WITHOUT_NUMBERS = ("restore", "loop_frame", "forecast", "picture", "cloth_frame")
WITHOUT_TABLE = ("cloth",)


def options(verb: ArgumentParser) -> None:
    """Add them."""
    add_table(verb, required=False)
    _add_modes(verb)
    verb.add_argument(
        "--realign", action="store_true", help="with --photo, --camera: align again, keeping the lens's bow"
    )
    verb.add_argument("--paper", choices=PAPER_NAMES, help="the sheets' paper (as in the table file)")
    verb.add_argument(
        "--sheets", type=sheet_count, metavar="N", help="how many sheets lie there (as in the table file)"
    )
    verb.add_argument(
        "--lens",
        type=lens_in,
        metavar="X,Y,H",
        help="with --surface: the point under the lens, and how high the lens is",
    )
    verb.add_argument(
        "--correct", action="store_true", help="with --surface: shift the light by what is predicted"
    )
    add_where(verb)
    verb.add_argument("--json", action="store_true", help="print the result as one JSON object")


def _add_modes(verb: ArgumentParser) -> None:
    modes = verb.add_mutually_exclusive_group()
    modes.add_argument(
        "--taped",
        type=positive_in,
        nargs=4,
        metavar=("ACROSS", "ALONG", "DIAGONAL", "DIAGONAL"),
        help="the ruler test without a window: what the tape said, in the order of its numbers",
    )
    modes.add_argument("--restore", action="store_true", help="put the last good copy of the file back")
    modes.add_argument(
        "--history", action="store_true", help="the file's set-ups, with their tests and what was before"
    )
    modes.add_argument(
        "--photo", type=Path, nargs="+", metavar="F", help="photos that show whether anything has moved"
    )
    modes.add_argument(
        "--camera", type=camera, metavar="N", help="the same, seen by a camera; its number, from 0"
    )
    modes.add_argument(
        "--by-hand", action="store_true", help="crosses on three marks say whether anything has moved"
    )
    modes.add_argument(
        "--loop-frame", type=Path, metavar="F.png", help="write a frame of crosses for the sheets' margins"
    )
    modes.add_argument(
        "--loop-photo", type=Path, nargs="+", metavar="F", help="photos that show how far those are off"
    )
    modes.add_argument("--loop", action="store_true", help="the same by eye, in the window")
    modes.add_argument(
        "--surface",
        type=length_in,
        metavar="LENGTH",
        help="height of the cloth or mat above the plane that was aligned; 0 takes it away",
    )
    modes.add_argument("--forecast", action="store_true", help="the error to expect, as light on the table")
    modes.add_argument(
        "--picture", type=Path, metavar="F.png", help="the same written as a picture; without --forecast"
    )
    modes.add_argument(
        "--cloth-frame",
        type=Path,
        metavar="F.png",
        help="write a frame with a bright window, to see cloth by",
    )
    modes.add_argument(
        "--cloth",
        type=Path,
        metavar="F",
        help="a photo of cloth, half of it in that window: the look that stands out on it; needs no --table",
    )


def mode(typed: Namespace) -> str | None:
    """Which one was asked for; None for the ruler test."""
    return next((name for name in MODES if _given(typed, name)), None)


def complaint(typed: Namespace) -> str | None:
    """Options that do not belong to the mode."""
    asked = mode(typed)
    if typed.table is None and asked not in WITHOUT_TABLE:
        return "the following arguments are required: --table"
    if typed.table is not None and asked in WITHOUT_TABLE:
        return f"{_spelled(asked)} needs no table file; leave --table out"
    for option, modes in GOES_WITH.items():
        if _given(typed, option) and asked not in modes:
            return f"{_spelled(option)} goes with {' or '.join(_spelled(name) for name in modes)}"
    if asked in WITHOUT_WINDOW and typed.window is not None:
        return f"{_spelled(asked)} opens no window; leave --window out"
    if asked in WITHOUT_NUMBERS and typed.json:
        return f"{_spelled(asked)} has no numbers to print; leave --json out"
    return None


def runs(typed: Namespace) -> str:
    """The function for the mode."""
    asked = mode(typed)
    return RULER_TEST if asked is None else MODES[asked]


def _given(typed: Namespace, option: str) -> bool:
    """Whether it was typed; a camera or a height of 0 is."""
    value = getattr(typed, option)
    return value is not None and value is not False


def _spelled(option: str) -> str:
    return f"--{option.replace('_', '-')}"


CHECK = Verb(
    name="check",
    does="whether the light can still be trusted: a ruler test on the table, or what the options say",
    example="  chalkbeam check --table table.yaml --display 1\n"
    '  chalkbeam check --table table.yaml --taped "36 in" "23 31/32" "31 in" "31 1/32"\n'
    "  chalkbeam check --table table.yaml --photo today.jpg --realign\n"
    '  chalkbeam check --table table.yaml --surface "1/4 in" --lens "2 in, -30 in, 72 in" --correct',
    options=options,
    runs=runs,
    complaint=complaint,
)
