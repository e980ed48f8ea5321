"""`draft`: what may be typed."""

import re
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from pathlib import Path
from typing import NamedTuple

from projector.arguments import positive_in
from projector.usage.shared import add_where
from projector.usage.verb import Verb

MEASURE = re.compile(r"(?P<name>[^\W\d][^\d]*?)\s+(?P<body>[\d½⅛¼⅜⅝¾⅞].*?)\s+at\s+(?P<drop>.+)")


LEAST_HEAD_IN, MOST_HEAD_IN = 12.0, 36.0  # round a newborn's, and round a large one with its hair up


class Measure(NamedTuple):
    """The body's girth and the level at which to compare the garment's with it, in inches."""

    name: str
    body_in: float
    drop_in: float


def measure(text: str) -> Measure:
    """A girth of the body at a level below the high shoulder point, from "bust 38 in at 12 in".

    >>> measure("bust 38 in at 12 in")
    Measure(name='bust', body_in=38.0, drop_in=12.0)
    """
    match = MEASURE.fullmatch(text.strip())
    if match is None:
        raise ArgumentTypeError(f'"{text}" is not a girth at a level such as "bust 38 in at 12 in"')
    return Measure(match["name"], positive_in(match["body"]), positive_in(match["drop"]))


def head_in(text: str) -> float:
    """Inches round a head; bare centimetres are no such thing.

    >>> round(head_in("57 cm"), 2)
    22.44
    """
    found = positive_in(text)
    if not LEAST_HEAD_IN <= found <= MOST_HEAD_IN:
        raise ArgumentTypeError(
            f'"{text}" is not round a head, which is 12 to 36 in, or 30 to 91 cm; a bare number is in inches: '
            "write 57 cm"
        )
    return found


def options(verb: ArgumentParser) -> None:
    """Add them."""
    verb.add_argument("pattern", type=Path, metavar="PATTERN.yaml")
    verb.add_argument("--version", metavar="NAME", help="a version of the pattern that the file names")
    verb.add_argument(
        "--out", type=Path, metavar="DIR", help="write each piece at true size there, as PIECE.svg"
    )
    verb.add_argument("--head", type=head_in, metavar="LENGTH", help="round the wearer's head (57 cm)")
    verb.add_argument(
        "--opening", type=positive_in, metavar="LENGTH", help="a slit at the neck, for the head to go through"
    )
    verb.add_argument(
        "--measure",
        type=measure,
        action="append",
        default=[],
        metavar='"NAME GIRTH at LEVEL"',
        help="the body's girth at a level below the high shoulder point; may be given again",
    )
    verb.add_argument("--json", action="store_true", help="print the result as one JSON object")
    verb.add_argument(
        "--table", type=Path, metavar="T.yaml", help="draft live on the table, lit by this file from align"
    )
    verb.add_argument("--setup", metavar="NAME", help="with --table: which of the file's set-ups")
    verb.add_argument("--piece", metavar="NAME", help="with --table: the piece to show first")
    add_where(verb)


def complaint(typed: Namespace) -> str | None:
    """What argparse cannot see."""
    if typed.table is None:
        alone = [name for name in ("setup", "piece", "window") if getattr(typed, name) is not None]
        return f"--{alone[0]} goes with --table" if alone else None
    report = [name for name in ("json", "out", "measure") if getattr(typed, name)]
    return f"--{report[0]} is of the report; leave --table out" if report else None


def runs(typed: Namespace) -> str:
    """The report, or the drafting table."""
    return (
        "projector.verbs.draft.draft_of"
        if typed.table is None
        else "projector.verbs.draft_window.draft_in_window"
    )


DRAFT = Verb(
    name="draft",
    does="a pattern's pieces with changes and allowances made: lengths, checks, and drawings at true size",
    example="  chalkbeam draft overtop.yaml --out pieces\n"
    '  chalkbeam draft overtop.yaml --version "round neck" --head 58cm --measure "bust 38 in at 12 in"\n'
    "  chalkbeam draft overtop.yaml --table table.yaml --display 1",
    options=options,
    runs=runs,
    complaint=complaint,
)
