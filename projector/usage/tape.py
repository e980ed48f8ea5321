"""`tape`: what may be typed."""

from argparse import ArgumentParser, ArgumentTypeError
from pathlib import Path

from projector.usage.shared import TakesArguments
from projector.usage.verb import Verb


def taped(text: str) -> str:
    """What a tape said, as typed; its bare numbers are the pattern's, whose unit is not known here."""
    from patterns.checks.tape_check import read_taped
    from patterns.errors import PatternError

    try:
        read_taped(text)
    except PatternError as error:
        raise ArgumentTypeError(str(error)) from error
    return text


def add_taped(verb: TakesArguments) -> None:
    """The measures, for every verb that holds a piece against a tape."""
    verb.add_argument(
        "--taped",
        type=taped,
        action="append",
        default=[],
        metavar='"WHAT LENGTH [at DROP]"',
        help='what the tape says of the folded garment, such as "hem width 11 1/4 in" or "half bust 19 in at 12 in", '
        "12 in below the high shoulder point; may be given again",
    )


def options(verb: ArgumentParser) -> None:
    """Add them."""
    verb.add_argument("pattern", type=Path, metavar="PATTERN.yaml")
    verb.add_argument("--piece", default="front", metavar="NAME", help="the piece to measure (front)")
    add_taped(verb)
    verb.add_argument("--json", action="store_true", help="print the result as one JSON object")


TAPE = Verb(
    name="tape",
    does="hold a traced piece against a tape: its measures, and where the garment's differ by more than 1/8 in",
    example="  chalkbeam tape overtop.yaml --piece back\n"
    '  chalkbeam tape overtop.yaml --taped "hem width 11 1/4 in" --taped "half bust 27 cm at 30 cm"',
    options=options,
    runs=lambda _: "projector.verbs.tape.tape",
)
