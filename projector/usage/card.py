"""`card`: what may be typed."""

from argparse import ArgumentParser, Namespace
from pathlib import Path

from projector.arguments import step_number
from projector.usage.shared import add_paper, add_table, add_where, is_same_file
from projector.usage.verb import Verb

ON_TABLE = ("setup", "window", "frame", "step")


def options(verb: ArgumentParser) -> None:
    """Add them."""
    verb.add_argument("pattern", type=Path, metavar="PATTERN.yaml")
    verb.add_argument("--version", metavar="NAME", help="a version of the pattern that the file names")
    verb.add_argument("--out", type=Path, metavar="F.pdf", help="write it to print; without, it is said here")
    add_paper(verb)
    verb.add_argument("--json", action="store_true", help="print the steps as one JSON object")
    add_table(verb, required=False)
    add_where(verb)
    verb.add_argument(
        "--step", type=step_number, metavar="N", help="with --table: the step to show (where it was left)"
    )
    verb.add_argument(
        "--frame", type=Path, metavar="F.png", help="write what the projector would show; no window"
    )


def complaint(typed: Namespace) -> str | None:
    """What argparse cannot see."""
    if is_same_file(typed.out, typed.pattern):
        return f"--out {typed.out} is the pattern itself, which the card would overwrite; name another file"
    if typed.table is None:
        alone = [name for name in ON_TABLE if getattr(typed, name) is not None]
        return f"--{alone[0]} goes with --table" if alone else None
    printed = [name for name in ("out", "json") if getattr(typed, name)]
    return f"--{printed[0]} is of the card on paper; leave --table out" if printed else None


def runs(typed: Namespace) -> str:
    """The card on paper, or on the table."""
    return (
        "projector.verbs.card.card_of" if typed.table is None else "projector.verbs.card_window.card_on_table"
    )


CARD = Verb(
    name="card",
    does="the sewing card: the steps for this garment in order, with its own lengths, on paper or on the table",
    example="  chalkbeam card overtop.yaml --out card.pdf --paper a4\n"
    "  chalkbeam card overtop.yaml --table table.yaml --display 1",
    options=options,
    runs=runs,
    complaint=complaint,
)
