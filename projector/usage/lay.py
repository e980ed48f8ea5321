"""`lay`: what may be typed."""

import re
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from projector.arguments import area_in, length_in, place_in, positive_in
from projector.usage.shared import add_where
from projector.usage.verb import Verb

if TYPE_CHECKING:
    from patterns.measures import Length

BEST: Final = "best"
UNITS_SOLD: Final = {
    "yd": ("in", 36),
    "yard": ("in", 36),
    "yards": ("in", 36),
    "m": ("cm", 100),
}  # how many of which
PLANNING: Final = (
    "selvedge",
    "length",
    "nap",
    "shrink",
    "repeat",
    "match",
    "flaw",
    "gap",
    "crosswise",
    "fold",
    "remnant-first",
    "seconds",
    "seed",
    "keep",
)
FOLDS: Final = ("selvedges", "partial", "centre", "both", "crosswise", "refolded", "single")
SHARE: Final = re.compile(r"\s*(\d+(?:\.\d+)?)\s*%\s*")


class Shares(NamedTuple):
    """What washing takes of the length and of the width, as fractions."""

    along: float
    across: float


class Match(NamedTuple):
    """The point of a piece that lies at one place of the repeat, in piece inches."""

    piece: str
    x_in: float
    y_in: float


def width(text: str) -> "Length":
    """A width as it is spelled: its unit is the one in which the lay is said."""
    from patterns.measures import Length

    positive_in(text)
    return Length(spelling=text)


def cloth_length(text: str) -> float:
    """Inches of a length of cloth, which shops sell by the yard or the metre too.

    >>> cloth_length("1 3/4 yd"), cloth_length("63 in")
    (63.0, 63.0)
    """
    sold = re.fullmatch(rf"(.*\d)\s*({'|'.join(UNITS_SOLD)})", text.strip())
    if sold is None:
        return positive_in(text)
    small, how_many = UNITS_SOLD[sold[2]]
    return positive_in(f"{sold[1]} {small}") * how_many


def shares(text: str) -> Shares:
    """Two shares, along and across, from "3%,1%"; one for both.

    >>> shares("3%, 1.5%")
    Shares(along=0.03, across=0.015)
    """
    parts = [SHARE.fullmatch(part) for part in text.split(",")]
    found = [float(part[1]) / 100 for part in parts if part is not None]
    if len(found) != len(parts) or len(found) not in (1, 2):
        raise ArgumentTypeError(f'"{text}" is not a shrinkage along and across the cloth such as "3%,1%"')
    return Shares(along=found[0], across=found[-1])


def repeat(text: str) -> tuple[float | None, float | None]:
    """The repeat along and across in inches, from "6 in x 4 in"; None where 0 says that nothing repeats.

    >>> repeat("6 in x 0")
    (6.0, None)
    """
    parts = re.split(r"\s*[xX]\s*", text.strip())
    if len(parts) != 2:
        raise ArgumentTypeError(f'"{text}" is not a repeat along and across the cloth such as "6 in x 4 in"')
    along, across = (length_in(part) for part in parts)
    if along < 0 or across < 0 or not (along or across):
        raise ArgumentTypeError(f'"{text}" is no repeat; give 0 where nothing repeats, but not for both')
    return along or None, across or None


def match(text: str) -> Match:
    """A point of a piece, from "front=0 in,12 in".

    >>> match("front = 0, 12 in")
    Match(piece='front', x_in=0.0, y_in=12.0)
    """
    piece, equals, place = text.partition("=")
    if not equals or not piece.strip():
        raise ArgumentTypeError(f'"{text}" is not a point of a piece such as "front=0 in,12 in"')
    x, y = place_in(place)
    return Match(piece.strip(), x, y)


class Box(NamedTuple):
    """An area of the cloth by its sides."""

    left_in: float
    bottom_in: float
    right_in: float
    top_in: float


def flaw(text: str) -> Box:
    """Left, near, right and far side on the cloth, from "4 in,20 in,7 in,22 in"."""
    parts = text.split(",")
    if len(parts) != 4:
        raise ArgumentTypeError(
            f'"{text}" is not an area by its left, near, right and far side such as "4 in,20 in,7 in,22 in"'
        )
    left, near, right, far = (length_in(part.strip()) for part in parts)
    return Box(left, near, right, far)


def scale(text: str) -> int:
    """How many times smaller a plan is drawn, from "1:8".

    >>> scale("1:8")
    8
    """
    one, colon, times = text.partition(":")
    if one.strip() != "1" or not colon or not times.strip().isdecimal() or not 1 <= int(times) <= 100:
        raise ArgumentTypeError(f'"{text}" is not a scale such as 1:8')
    return int(times)


def seconds(text: str) -> float:
    """How long to search."""
    try:
        value = float(text)
    except ValueError as error:
        raise ArgumentTypeError(f'"{text}" is not a number of seconds') from error
    if not 0 < value <= 3600:
        raise ArgumentTypeError(f'"{text}" is not a time to search; give more than 0 and at most 3600 s')
    return value


def options(verb: ArgumentParser) -> None:
    """Add them."""
    verb.add_argument("pattern", type=Path, metavar="PATTERN.yaml")
    verb.add_argument("--version", metavar="NAME", help="a version of the pattern that the file names")
    _add_cloth(verb)
    verb.add_argument(
        "--fold",
        choices=(*FOLDS, BEST),
        help="how the cloth is folded; best compares all that are allowed (best)",
    )
    verb.add_argument("--gap", type=length_in, metavar="LENGTH", help="left between pieces (1/2 in)")
    verb.add_argument(
        "--crosswise", action="store_true", help="a piece that is too wide may lie with its grain across"
    )
    verb.add_argument(
        "--remnant-first", action="store_true", help="the largest whole remnant first, then the least cloth"
    )
    verb.add_argument(
        "--scarf",
        type=area_in,
        metavar="WxL",
        help="say whether what stays whole gives a rectangle of this size",
    )
    verb.add_argument(
        "--seconds",
        type=seconds,
        metavar="S",
        help="how long to search, for each fold; many pieces gain by it",
    )
    verb.add_argument("--seed", type=int, metavar="N", help="another one may find another lay (1)")
    verb.add_argument("--out", type=Path, metavar="DIR", help="write the lay plan there, as SVG and as PNG")
    verb.add_argument(
        "--scale", type=scale, metavar="1:N", help="of the plan (the largest that fits a sheet)"
    )
    verb.add_argument(
        "--keep", action="store_true", help="keep this lay beside the pattern, for the table and for cutting"
    )
    verb.add_argument("--json", action="store_true", help="print the result as one JSON object")
    verb.add_argument(
        "--table",
        type=Path,
        metavar="T.yaml",
        help="show the kept lay on the table, lit by this file from align",
    )
    verb.add_argument("--setup", metavar="NAME", help="with --table: which of the file's set-ups")
    add_where(verb)


def complaint(typed: Namespace) -> str | None:
    """What argparse cannot see."""
    planning = [name for name in PLANNING if _is_typed(getattr(typed, name.replace("-", "_")))]
    if typed.width is None and planning:
        return f"--{planning[0]} is of a lay that is planned, which needs --width"
    if typed.table is None:
        alone = [name for name in ("setup", "window") if getattr(typed, name) is not None]
        return f"--{alone[0]} goes with --table" if alone else None
    report = [name for name in ("json", "out", "scale", "scarf") if getattr(typed, name)]
    if report:
        return f"--{report[0]} is of the plan; leave --table out"
    return None


def _is_typed(value: object) -> bool:
    """Whether an option was given, if only as 0."""
    return value is not None and value is not False and value != []


def runs(typed: Namespace) -> str:
    """The plan, or the lay on the table."""
    return "projector.verbs.lay.lay_of" if typed.table is None else "projector.verbs.lay_window.lay_in_window"


def _add_cloth(verb: ArgumentParser) -> None:
    cloth = verb.add_argument_group("the cloth")
    cloth.add_argument(
        "--width",
        type=width,
        metavar="LENGTH",
        help="from edge to edge, as bought; without it, the kept lay is told",
    )
    cloth.add_argument("--selvedge", type=length_in, metavar="LENGTH", help="of each edge (1/2 in)")
    cloth.add_argument(
        "--length",
        type=cloth_length,
        metavar="LENGTH",
        help='what there is of it, as bought, such as "2 yd"; else as much as is needed',
    )
    cloth.add_argument(
        "--nap", action="store_true", help="pile, sheen, or a print with a top: all lie one way"
    )
    cloth.add_argument("--shrink", type=shares, metavar="L%,W%", help="what washing takes along and across")
    cloth.add_argument(
        "--repeat", type=repeat, metavar="ALONGxACROSS", help="of stripes or checks; 0 where nothing repeats"
    )
    cloth.add_argument(
        "--match",
        type=match,
        action="append",
        default=[],
        metavar="PIECE=X,Y",
        help="the point of a piece that lies at one place of the repeat; may be given again",
    )
    cloth.add_argument(
        "--flaw",
        type=flaw,
        action="append",
        default=[],
        metavar="X0,Y0,X1,Y1",
        help="an area that no piece may use, from the left selvedge and the cut end; may be given again",
    )


LAY = Verb(
    name="lay",
    does="the pieces on the cloth: how to fold it, what to buy, what stays whole; a plan to pin to the wall",
    example='  chalkbeam lay overtop.yaml --width "60 in" --out plan\n'
    "  chalkbeam lay overtop.yaml --width 140cm --fold partial --nap --shrink 3%,1% --scarf 30x150cm --keep\n"
    "  chalkbeam lay overtop.yaml --table table.yaml --display 1\n"
    "  chalkbeam lay overtop.yaml --out plan",
    options=options,
    runs=runs,
    complaint=complaint,
)
