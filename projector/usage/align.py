"""`align`: what may be typed."""

from argparse import ArgumentParser, Namespace
from pathlib import Path

from projector.arguments import MOST_SHEETS, area_in, camera, pixels, positive_in, sheet_count, tape
from projector.usage.shared import add_paper, add_where
from projector.usage.verb import Verb


def options(verb: ArgumentParser) -> None:
    """Add them."""
    _add_ways(verb)
    verb.add_argument("--table", type=Path, metavar="T.yaml", help="the table file to write")
    verb.add_argument(
        "--setup",
        default="table",
        metavar="NAME",
        help="the set-up to write in it; others in it stay (table)",
    )
    add_paper(verb)
    verb.add_argument(
        "--sheets", type=sheet_count, default=5, metavar="N", help=f"how many sheets, 1 to {MOST_SHEETS} (5)"
    )
    verb.add_argument("--screen", type=pixels, metavar="WxH", help="the projector's own pixels")
    verb.add_argument(
        "--printed-ruler",
        type=positive_in,
        metavar="LENGTH",
        help="what the printed ruler measures with a tape",
    )
    verb.add_argument(
        "--tape",
        type=tape,
        action="append",
        default=[],
        metavar="A-B=LENGTH",
        help="measured distance between the centre crosses of two sheets; may be given again",
    )
    verb.add_argument(
        "--mat-pitch",
        type=positive_in,
        metavar="LENGTH",
        help="by hand on a ruled cutting mat: between two lines",
    )
    verb.add_argument(
        "--mat-size", type=area_in, metavar="WxH", help="the ruled part of the mat, such as 36x24in"
    )
    verb.add_argument(
        "--picture", type=Path, metavar="F.png", help="write how far each mark is off, as arrows"
    )
    add_where(verb)
    verb.add_argument("--json", action="store_true", help="print the result as one JSON object")


def _add_ways(verb: ArgumentParser) -> None:
    way = verb.add_mutually_exclusive_group(required=True)
    way.add_argument("--targets", type=Path, metavar="F.png", help="write the frame to project for the photo")
    way.add_argument(
        "--photo", type=Path, nargs="+", metavar="F", help="photos of the sheets lying in that frame"
    )
    way.add_argument(
        "--camera", type=camera, metavar="N", help="the same, seen by a camera; its number, from 0"
    )
    way.add_argument("--by-hand", action="store_true", help="move crosses of light on to printed marks")


def complaint(typed: Namespace) -> str | None:
    """What is missing between options that argparse cannot see together."""
    in_the_light = typed.by_hand or typed.camera is not None
    if not in_the_light and typed.screen is None:
        return "--screen is needed: the projector's own pixels, such as 1920x1080"
    if typed.targets is None and typed.table is None:
        return "--table is needed: the table file to write"
    if typed.targets is not None and typed.picture is not None:
        return "--picture shows an alignment, and --targets makes none; it goes with the photos"
    if (typed.mat_pitch is None) != (typed.mat_size is None):
        return "--mat-pitch and --mat-size go together"
    return None


def runs(typed: Namespace) -> str:
    """The function for the way that was asked for."""
    if typed.targets is not None:
        return "projector.verbs.align.write_targets"
    if typed.photo is not None:
        return "projector.verbs.align.align_photos"
    if typed.camera is not None:
        return "projector.verbs.camera.align_by_camera"
    return "projector.verbs.by_hand.by_hand"


ALIGN = Verb(
    name="align",
    does="fit the projector's light to the table, from photos, by camera or by hand",
    example="  chalkbeam align --targets targets.png --screen 1920x1080 --sheets 5\n"
    "  chalkbeam align --photo table.jpg --paper letter --screen 1920x1080 --sheets 5 \\\n"
    '      --printed-ruler "8 in" --tape "1-3=41 1/4 in" --table table.yaml\n'
    "  chalkbeam align --camera 0 --display 1 --table table.yaml\n"
    "  chalkbeam align --by-hand --display 1 --mat-pitch 1in --mat-size 36x24in --table table.yaml",
    options=options,
    runs=runs,
    complaint=complaint,
)
