"""`sheet`: what may be typed."""

from argparse import ArgumentParser
from pathlib import Path

from projector.arguments import MOST_SHEETS, sheet_count
from projector.usage.shared import add_paper
from projector.usage.verb import Verb


def options(verb: ArgumentParser) -> None:
    """Add them."""
    add_paper(verb)
    verb.add_argument(
        "--count", type=sheet_count, default=5, metavar="N", help=f"how many, 1 to {MOST_SHEETS} (5)"
    )
    verb.add_argument("--out", type=Path, required=True, metavar="F.pdf", help="the PDF to write")


SHEET = Verb(
    name="sheet",
    does="the alignment sheets to print, as a PDF",
    example="  chalkbeam sheet --paper a4 --count 5 --out sheets.pdf",
    options=options,
    runs=lambda _: "projector.verbs.sheet.sheet",
)
