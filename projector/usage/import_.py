"""`import`: what may be typed."""

from argparse import ArgumentParser, ArgumentTypeError, Namespace
from collections import Counter
from pathlib import Path

from projector.arguments import length_in, positive_in
from projector.usage.shared import is_same_file
from projector.usage.trace import SIDES, names
from projector.usage.verb import Verb

UNITS = ("in", "cm", "mm")
FOLDS = (*SIDES, "none")


def edges(text: str) -> tuple[str, tuple[str, ...]]:
    """A piece and the names of its edges, or no piece for the only one there is.

    >>> edges("front: neck, side,hem"), edges("top,side")
    (('front', ('neck', 'side', 'hem')), ('', ('top', 'side')))
    """
    piece, _, listed = text.rpartition(":")
    return piece.strip(), names(listed)


def fold(text: str) -> tuple[str, str]:
    """A piece and the side of it that is its fold, or no piece for all of them.

    >>> fold("front: left"), fold("none")
    (('front', 'left'), ('', 'none'))
    """
    piece, _, side = text.rpartition(":")
    if side.strip() not in FOLDS:
        raise ArgumentTypeError(f'"{text}" names no side; say one of {", ".join(FOLDS)}, or "front: left"')
    return piece.strip(), side.strip()


def allowance_in(text: str) -> float:
    """Inches of nothing or more."""
    value = length_in(text)
    if value < 0:
        raise ArgumentTypeError(f'"{text}" is no allowance; it is nothing or more')
    return value


def options(verb: ArgumentParser) -> None:
    """Add them."""
    verb.add_argument("drawing", type=Path, metavar="F", help="an SVG, DXF or PDF file with closed outlines")
    verb.add_argument(
        "--out", type=Path, required=True, metavar="P.yaml", help="the pattern file to write, or to add to"
    )
    verb.add_argument(
        "--unit", choices=UNITS, help="the unit of a new pattern file (as the drawing has it, or in)"
    )
    size = verb.add_mutually_exclusive_group()
    size.add_argument(
        "--scale",
        type=positive_in,
        metavar="LENGTH",
        help="how long one unit of the drawing is, such as 1mm, where it does not say so itself",
    )
    size.add_argument(
        "--across",
        type=positive_in,
        metavar="LENGTH",
        help="instead, how wide all its outlines are together, from the far left to the far right",
    )
    verb.add_argument(
        "--piece", nargs="+", default=[], metavar="NAME", help="names for the pieces, as the drawing has them"
    )
    verb.add_argument(
        "--fold",
        type=fold,
        action="append",
        default=[],
        metavar="[PIECE:]SIDE",
        help="the side that is a piece's fold, where the drawing does not say so: left, right, top, bottom, or none; "
        "may be given again",
    )
    verb.add_argument(
        "--edges",
        type=edges,
        action="append",
        default=[],
        metavar="[PIECE:]A,B,...",
        help="the names of a piece's edges, clockwise from the fold's top or from its top left corner; may be given "
        "again",
    )
    verb.add_argument(
        "--allowance",
        type=allowance_in,
        metavar="LENGTH",
        help="the outlines are cut lines, with so much outside the seam line all round but at the fold",
    )
    verb.add_argument("--json", action="store_true", help="print the result as one JSON object")


def complaint(typed: Namespace) -> str | None:
    """What argparse cannot see."""
    if is_same_file(typed.out, typed.drawing):
        return (
            f"--out {typed.out} is the drawing itself, which the pattern would overwrite; name another file"
        )
    for option in ("fold", "edges"):
        twice = [
            piece
            for piece, count in Counter(piece for piece, _ in getattr(typed, option)).items()
            if count > 1
        ]
        if twice:
            return f"--{option} is given twice for {twice[0] or 'every piece'}"
    twice = [piece for piece, count in Counter(typed.piece).items() if count > 1]
    return f"--piece names two pieces {twice[0]}" if twice else None


IMPORT = Verb(
    name="import",
    does="make the closed outlines of an SVG, DXF or PDF pieces of a pattern file, on their seam lines",
    example="  chalkbeam import apron.svg --out apron.yaml\n"
    "  # cut lines, and what the drawing does not say\n"
    '  chalkbeam import apron.dxf --out apron.yaml --scale 1mm --allowance "1/2 in" --piece apron bib \\\n'
    '      --fold "apron: left" --edges "bib: top,right side,waist,left side"',
    options=options,
    runs=lambda _: "projector.verbs.import_.import_",
    complaint=complaint,
)
