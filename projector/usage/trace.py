"""`trace`: what may be typed."""

from argparse import ArgumentParser, ArgumentTypeError
from pathlib import Path

from projector.arguments import positive_in, sheet_count
from projector.usage.shared import add_paper
from projector.usage.verb import Verb

SIDES = ("left", "right", "top", "bottom")


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
    verb.add_argument(
        "--photo", type=Path, required=True, metavar="F", help="the folded garment beside printed sheets"
    )
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
    verb.add_argument("--json", action="store_true", help="print the result as one JSON object")


TRACE = Verb(
    name="trace",
    does="make a folded garment, photographed beside printed sheets, a piece with named edges",
    example="  chalkbeam trace --photo front.jpg --paper letter --piece front --out overtop.yaml \\\n"
    '      --printed-ruler "8 in" --picture front.png',
    options=options,
    runs=lambda _: "projector.verbs.trace.trace",
)
