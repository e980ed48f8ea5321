"""`trace`: what may be typed."""

from argparse import ArgumentParser, ArgumentTypeError, Namespace
from pathlib import Path

from projector.arguments import edge_in, edge_out, place_in, positive_in, sheet_count
from projector.usage.shared import add_paper, add_where
from projector.usage.verb import Verb

SIDES = ("left", "right", "top", "bottom")
BY_PHOTO = ("sheets", "printed_ruler", "fold", "picture", "json")


def names(text: str) -> tuple[str, ...]:
    """Names of edges from "a,b,c".

    >>> names("neck, overarm,sleeve hem")
    ('neck', 'overarm', 'sleeve hem')
    """
    found = tuple(name.strip() for name in text.split(","))
    if not all(found):
        raise ArgumentTypeError(f'"{text}" is not a list of names such as "neck,overarm,sleeve hem,side,hem"')
    return found


def options(verb: ArgumentParser) -> None:
    """Add them."""
    verb.add_argument("--photo", type=Path, metavar="F", help="the folded garment beside printed sheets")
    verb.add_argument(
        "--table",
        type=Path,
        metavar="T.yaml",
        help="the table file from align: without a photo, trace on the table with a cross of light; with one, show "
        "the outline on the garment",
    )
    verb.add_argument("--setup", metavar="NAME", help="with --table: which of the file's set-ups")
    add_paper(verb)
    verb.add_argument(
        "--sheets",
        type=sheet_count,
        metavar="N",
        help="how many sheets lie there, from sheet 1 (those that are seen)",
    )
    verb.add_argument(
        "--printed-ruler",
        type=positive_in,
        metavar="LENGTH",
        help="what the printed ruler measures with a tape",
    )
    verb.add_argument("--piece", default="front", metavar="NAME", help="the piece it becomes (front)")
    verb.add_argument("--fold", choices=SIDES, help="the side of the garment, in the photo, that is the fold")
    verb.add_argument(
        "--edges", type=names, metavar="A,B,...", help="the edges' names in order from the fold's top"
    )
    verb.add_argument(
        "--out", type=Path, required=True, metavar="P.yaml", help="the pattern file to write, or to add to"
    )
    verb.add_argument(
        "--picture", type=Path, metavar="F.png", help="write the outline over the photo laid flat"
    )
    verb.add_argument(
        "--folded-away",
        type=edge_out,
        action="append",
        dest="moves",
        default=[],
        metavar="EDGE:LENGTH",
        help='what is folded under at an edge, such as "hem: 1/2 in": the edge is moved out by it',
    )
    verb.add_argument(
        "--left-off",
        type=edge_in,
        action="append",
        dest="moves",
        default=[],
        metavar="EDGE:LENGTH",
        help='lace or a band that the piece is to be without, such as "hem: 1 in": the edge is moved in by it',
    )
    verb.add_argument(
        "--offset",
        type=place_in,
        metavar="RIGHT,AWAY",
        help='with --table: where the cross is beside the pointer, such as "-1 in, 1 1/2 in" (on it)',
    )
    add_where(verb)
    verb.add_argument("--json", action="store_true", help="print the result as one JSON object")


def complaint(typed: Namespace) -> str | None:
    """What argparse cannot see."""
    if typed.photo is None and typed.table is None:
        return "--photo is needed, or --table to trace with a cross of light"
    if typed.photo is None:
        for option in BY_PHOTO:
            if getattr(typed, option) not in (None, False):
                return f"--{option.replace('_', '-')} goes with --photo"
    if typed.table is None:
        for option in ("setup", "offset", "window"):
            if getattr(typed, option) is not None:
                return f"--{option} goes with --table"
    return None


def runs(typed: Namespace) -> str:
    """The function for the way that was asked for."""
    if typed.photo is None:
        return "projector.verbs.trace_window.trace_in_window"
    if typed.table is not None:
        return "projector.verbs.trace_window.trace_photo_and_show"
    return "projector.verbs.trace.trace"


TRACE = Verb(
    name="trace",
    does="make a folded garment a piece with named edges, from a photo or with a cross of light",
    example="  chalkbeam trace --photo front.jpg --paper letter --piece front --out overtop.yaml \\\n"
    '      --printed-ruler "8 in" --picture front.png\n'
    "  chalkbeam trace --table table.yaml --display 1 --piece front --out overtop.yaml\n"
    "  chalkbeam trace --photo front.jpg --table table.yaml --display 1 --out overtop.yaml",
    options=options,
    runs=runs,
    complaint=complaint,
)
