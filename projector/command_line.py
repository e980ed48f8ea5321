"""The command `chalkbeam`: parses, calls, prints. What a verb needs is imported when it is called."""

import os
import sys
from argparse import ArgumentParser, Namespace, RawDescriptionHelpFormatter
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from projector.arguments import area_in, pixels, place_in, positive_in, tape, turn_deg

if TYPE_CHECKING:
    from argparse import _SubParsersAction

    Verbs = _SubParsersAction[ArgumentParser]

PAPER_NAMES = ("letter", "a4")
MOST_SHEETS = 7
DONE, MENDABLE_EXIT, USAGE = 0, 1, 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the exit code: 0 done, 1 something a person can mend, 2 usage."""
    # Our matrices are small: OpenBLAS's own threads would wait for one another longer than they work.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    parser = _parser()
    typed = parser.parse_args(arguments)
    complaint = _complaint(typed)
    if complaint:
        parser.error(complaint)
    from projector.errors import MENDABLE

    try:
        return _run(typed)
    except MENDABLE as error:
        print(f"chalkbeam {typed.verb}: {error}", file=sys.stderr)
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        print(f"chalkbeam {typed.verb}: {where}{error.strerror or error}", file=sys.stderr)
    except KeyboardInterrupt:
        print(f"chalkbeam {typed.verb}: stopped", file=sys.stderr)
    return MENDABLE_EXIT


def _run(typed: Namespace) -> int:
    match typed.verb:
        case "sheet":
            from projector.verbs.sheet import sheet

            return sheet(typed)
        case "align":
            from projector.verbs.align import align

            return align(typed)
        case "cut":
            from projector.verbs.cut import cut

            return cut(typed)
        case _:
            from projector.demo import demo

            return demo(typed)


def _parser() -> ArgumentParser:
    parser = ArgumentParser(
        prog="chalkbeam",
        description="Full-scale cut lines, seam lines and fold marks, projected on cloth.",
        epilog="Each verb has its own --help with an example.",
    )
    verbs = parser.add_subparsers(dest="verb", required=True, metavar="VERB")
    _add_demo(verbs)
    _add_sheet(verbs)
    _add_align(verbs)
    _add_cut(verbs)
    return parser


def _verb(verbs: "Verbs", name: str, does: str, example: str) -> ArgumentParser:
    return verbs.add_parser(
        name,
        help=does,
        description=f"{does[0].upper()}{does[1:]}.",
        epilog=f"example:\n{example}",
        formatter_class=RawDescriptionHelpFormatter,
    )


def _add_demo(verbs: "Verbs") -> None:
    verb = _verb(
        verbs,
        "demo",
        "the whole job on a simulated table, without screen, camera or projector",
        "  chalkbeam demo --out demo-out",
    )
    verb.add_argument(
        "--out", type=Path, default=Path("demo-out"), metavar="DIR", help="where pictures and files go"
    )
    verb.add_argument("--json", action="store_true", help="print the measured errors as one JSON object")


def _add_sheet(verbs: "Verbs") -> None:
    verb = _verb(
        verbs,
        "sheet",
        "the alignment sheets to print, as a PDF",
        "  chalkbeam sheet --paper a4 --count 5 --out sheets.pdf",
    )
    _add_paper(verb)
    verb.add_argument("--count", type=int, default=5, metavar="N", help=f"how many, 1 to {MOST_SHEETS} (5)")
    verb.add_argument("--out", type=Path, required=True, metavar="F.pdf", help="the PDF to write")


def _add_align(verbs: "Verbs") -> None:
    verb = _verb(
        verbs,
        "align",
        "fit the projector's light to the table, from photos or by hand",
        "  chalkbeam align --targets targets.png --screen 1920x1080 --sheets 5\n"
        "  chalkbeam align --photo table.jpg --paper letter --screen 1920x1080 --sheets 5 \\\n"
        '      --printed-ruler "8 in" --tape "1-3=41 1/4 in" --table table.yaml\n'
        "  chalkbeam align --by-hand --display 1 --mat-pitch 1in --mat-size 36x24in --table table.yaml",
    )
    way = verb.add_mutually_exclusive_group(required=True)
    way.add_argument("--targets", type=Path, metavar="F.png", help="write the frame to project for the photo")
    way.add_argument(
        "--photo", type=Path, nargs="+", metavar="F", help="photos of the sheets lying in that frame"
    )
    way.add_argument("--by-hand", action="store_true", help="move crosses of light on to printed marks")
    verb.add_argument("--table", type=Path, metavar="T.yaml", help="the table file to write")
    _add_paper(verb)
    verb.add_argument(
        "--sheets", type=int, default=5, metavar="N", help=f"how many sheets, 1 to {MOST_SHEETS} (5)"
    )
    verb.add_argument("--screen", type=pixels, metavar="WxH", help="the projector's own pixels")
    verb.add_argument(
        "--printed-ruler",
        type=positive_in,
        metavar="LENGTH",
        help="what the printed ruler measures with a tape",
    )
    verb.add_argument(
        "--tape",
        type=tape,
        action="append",
        default=[],
        metavar="A-B=LENGTH",
        help="measured distance between the centre crosses of two sheets; may be given again",
    )
    verb.add_argument(
        "--mat-pitch",
        type=positive_in,
        metavar="LENGTH",
        help="by hand on a ruled cutting mat: between two lines",
    )
    verb.add_argument(
        "--mat-size", type=area_in, metavar="WxH", help="the ruled part of the mat, such as 36x24in"
    )
    _add_where(verb)
    verb.add_argument("--json", action="store_true", help="print the result as one JSON object")


def _add_cut(verbs: "Verbs") -> None:
    verb = _verb(
        verbs,
        "cut",
        "a pattern's pieces as light on the table, true to size",
        "  chalkbeam cut overtop.yaml --table table.yaml --display 1\n"
        "  chalkbeam cut overtop.yaml --table table.yaml --frame front.png --piece front --json",
    )
    verb.add_argument("pattern", type=Path, metavar="PATTERN.yaml")
    verb.add_argument("--table", type=Path, required=True, metavar="T.yaml", help="the table file from align")
    verb.add_argument("--version", metavar="NAME", help="a version of the pattern that the file names")
    verb.add_argument("--piece", metavar="NAME", help="the piece to show first")
    _add_where(verb)
    verb.add_argument(
        "--frame", type=Path, metavar="F.png", help="write what the projector would show; no window"
    )
    verb.add_argument("--at", type=place_in, metavar="X,Y", help="where the piece's origin lies on the table")
    verb.add_argument("--turn", type=turn_deg, metavar="DEG", help="anticlockwise, seen from above")
    verb.add_argument("--mirrored", action="store_true", help="the piece turned over")
    verb.add_argument("--opened", action="store_true", help="both halves of a piece on the fold")
    verb.add_argument(
        "--json", action="store_true", help="with --frame: print where it lies as one JSON object"
    )


def _add_paper(verb: ArgumentParser) -> None:
    verb.add_argument("--paper", choices=PAPER_NAMES, default="letter", help="the sheets' paper (letter)")


def _add_where(verb: ArgumentParser) -> None:
    where = verb.add_mutually_exclusive_group()
    where.add_argument(
        "--display", type=int, default=0, metavar="N", help="the projector's display, from 0 (0)"
    )
    where.add_argument(
        "--window", type=pixels, metavar="WxH", help="a preview window instead; it is not true to size"
    )


def _complaint(typed: Namespace) -> str | None:
    """What is missing between options that argparse cannot see together."""
    count = {"sheet": "count", "align": "sheets"}.get(typed.verb)
    if count is not None and not 1 <= getattr(typed, count) <= MOST_SHEETS:
        return f"--{count} is {getattr(typed, count)}; there are 1 to {MOST_SHEETS} sheets"
    if getattr(typed, "display", 0) < 0:
        return f"--display is {typed.display}; displays are numbered from 0"
    if typed.verb == "align":
        return _align_complaint(typed)
    if typed.verb == "cut" and typed.json and typed.frame is None:
        return "--json goes with --frame: a window has no result to print"
    return None


def _align_complaint(typed: Namespace) -> str | None:
    if not typed.by_hand and typed.screen is None:
        return "--screen is needed: the projector's own pixels, such as 1920x1080"
    if typed.targets is None and typed.table is None:
        return "--table is needed: the table file to write"
    if (typed.mat_pitch is None) != (typed.mat_size is None):
        return "--mat-pitch and --mat-size go together"
    return None
