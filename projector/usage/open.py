"""`open`: what may be typed; it is also what `chalkbeam` alone does."""

from argparse import ArgumentParser, Namespace
from pathlib import Path

from projector.arguments import display_number, pixels
from projector.usage.shared import PAPER_NAMES
from projector.usage.verb import Verb


def options(verb: ArgumentParser) -> None:
    """Add them."""
    verb.add_argument(
        "folder",
        type=Path,
        nargs="?",
        metavar="FOLDER",
        help="where the table file and the patterns are kept, or one of the patterns (where it was left; "
        "the first time, here)",
    )
    where = verb.add_mutually_exclusive_group()
    where.add_argument(
        "--display", type=display_number, metavar="N", help="the projector's display, from 0 (the last one)"
    )
    where.add_argument(
        "--window", type=pixels, metavar="WxH", help="a preview window instead; it is not true to size"
    )
    verb.add_argument("--paper", choices=PAPER_NAMES, help="the sheets' paper (letter)")
    verb.add_argument("--camera", metavar="N", help="offer to align by this camera; its number, from 0")
    verb.add_argument(
        "--mat-pitch", metavar="LENGTH", help="offer to align on a ruled mat: between two lines"
    )
    verb.add_argument("--mat-size", metavar="WxH", help="the ruled part of the mat, such as 36x24in")


def complaint(typed: Namespace) -> str | None:
    """What argparse cannot see."""
    if (typed.mat_pitch is None) != (typed.mat_size is None):
        return "--mat-pitch and --mat-size go together"
    if typed.mat_pitch is not None and typed.camera is not None:
        return "a mat is aligned by hand; leave --camera or the mat out"
    return None


OPEN = Verb(
    name="open",
    does="the whole job in one window, where it was left: the same as chalkbeam alone",
    example="  chalkbeam open\n  chalkbeam open chorus-tops --display 1",
    options=options,
    runs=lambda _: "projector.verbs.open.open_job",
    complaint=complaint,
)
