"""`card`: what may be typed."""

from argparse import ArgumentParser, Namespace
from pathlib import Path

from projector.usage.shared import add_paper, is_same_file
from projector.usage.verb import Verb


def options(verb: ArgumentParser) -> None:
    """Add them."""
    verb.add_argument("pattern", type=Path, metavar="PATTERN.yaml")
    verb.add_argument("--version", metavar="NAME", help="a version of the pattern that the file names")
    verb.add_argument("--out", type=Path, metavar="F.pdf", help="write it to print; without, it is said here")
    add_paper(verb)
    verb.add_argument("--json", action="store_true", help="print the steps as one JSON object")


def complaint(typed: Namespace) -> str | None:
    """What argparse cannot see."""
    if is_same_file(typed.out, typed.pattern):
        return f"--out {typed.out} is the pattern itself, which the card would overwrite; name another file"
    return None


CARD = Verb(
    name="card",
    does="the sewing card: the steps for this garment in order, with its own lengths",
    example="  chalkbeam card overtop.yaml --out card.pdf --paper a4",
    options=options,
    runs=lambda _: "projector.verbs.card.card_of",
    complaint=complaint,
)
