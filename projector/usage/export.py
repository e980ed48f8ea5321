"""`export`: what may be typed."""

from argparse import ArgumentParser, Namespace
from pathlib import Path

from projector.usage.shared import PAPER_NAMES, is_same_file
from projector.usage.verb import Verb

FORMATS = ("svg", "dxf", "pdf")


def options(verb: ArgumentParser) -> None:
    """Add them."""
    verb.add_argument("pattern", type=Path, metavar="PATTERN.yaml")
    verb.add_argument(
        "--to",
        choices=FORMATS,
        help="svg for vector programs and cutters, dxf for pattern data (ASTM D6673), pdf to print; as --out ends, if "
        "it is left out",
    )
    verb.add_argument("--version", metavar="NAME", help="a version of the pattern that the file names")
    verb.add_argument("--piece", nargs="+", default=[], metavar="NAME", help="these pieces alone (all)")
    verb.add_argument(
        "--opened",
        action="store_true",
        help="open every piece on the fold out to its full shape; without, it is the half, as drafted",
    )
    verb.add_argument(
        "--paper",
        choices=PAPER_NAMES,
        help="of a pdf: over sheets of this paper, with a plan to stick them together; without, on one large page",
    )
    verb.add_argument("--out", type=Path, required=True, metavar="FILE", help="the file to write")
    verb.add_argument("--json", action="store_true", help="print the result as one JSON object")


def complaint(typed: Namespace) -> str | None:
    """What argparse cannot see."""
    if format_of(typed) not in FORMATS:
        return f"--to is needed, or an --out that ends in .{', .'.join(FORMATS)}; found {typed.out}"
    ends = typed.out.suffix.lower().removeprefix(".")
    if ends in FORMATS and ends != format_of(typed):
        return f"--to is {typed.to}, but --out ends in .{ends}; leave --to out, or name the file .{typed.to}"
    if typed.paper is not None and format_of(typed) != "pdf":
        return f"--paper is of a pdf; the {format_of(typed)} is one large sheet"
    if is_same_file(typed.out, typed.pattern):
        return f"--out {typed.out} is the pattern itself, which the export would overwrite; name another file"
    return None


def format_of(typed: Namespace) -> str:
    """The format asked for, or else what the file's name ends in."""
    named: str | None = typed.to
    return named if named is not None else typed.out.suffix.lower().removeprefix(".")


EXPORT = Verb(
    name="export",
    does="the drafted pieces for other programs: one SVG, DXF or PDF at true size, side by side, with every mark",
    example="  chalkbeam export overtop.yaml --to svg --out overtop.svg\n"
    "  # to print at home: sheets to stick together, with a plan\n"
    "  chalkbeam export overtop.yaml --to pdf --paper a4 --out overtop.pdf\n"
    "  # full shapes for a cutting machine, of one version\n"
    '  chalkbeam export overtop.yaml --version "round neck" --opened --piece front back --out overtop.dxf',
    options=options,
    runs=lambda _: "projector.verbs.export.export",
    complaint=complaint,
)
