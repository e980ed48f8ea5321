"""`cut`: what may be typed."""

from argparse import ArgumentParser, Namespace
from pathlib import Path

from projector.arguments import line_wide_in, place_in, text_high_in, turn_deg
from projector.lighting.limits import LIMIT_WORDS, LOOK_NAMES
from projector.usage.shared import add_table, add_where
from projector.usage.verb import Verb


def options(verb: ArgumentParser) -> None:
    """Add them."""
    verb.add_argument("pattern", type=Path, metavar="PATTERN.yaml")
    add_table(verb)
    verb.add_argument("--version", metavar="NAME", help="a version of the pattern that the file names")
    verb.add_argument("--piece", metavar="NAME", help="the piece to show first")
    add_where(verb)
    verb.add_argument(
        "--frame", type=Path, metavar="F.png", help="write what the projector would show; no window"
    )
    verb.add_argument("--at", type=place_in, metavar="X,Y", help="where the piece's origin lies on the table")
    verb.add_argument("--turn", type=turn_deg, metavar="DEG", help="anticlockwise, seen from above")
    verb.add_argument("--mirrored", action="store_true", help="the piece turned over")
    verb.add_argument("--opened", action="store_true", help="both halves of a piece on the fold")
    verb.add_argument(
        "--without-lay",
        action="store_true",
        help="each piece by itself, though a lay is kept beside the pattern",
    )
    look = verb.add_mutually_exclusive_group()
    look.add_argument("--look", choices=LOOK_NAMES, help="how lines are drawn, by the kind of cloth (light)")
    look.add_argument(
        "--cloth",
        type=Path,
        metavar="F",
        help="a photo of the cloth that tells the look; see check --cloth-frame",
    )
    verb.add_argument(
        "--line", type=line_wide_in, metavar="LENGTH", help=f"width of the cut line: {LIMIT_WORDS['line']}"
    )
    verb.add_argument(
        "--text",
        type=text_high_in,
        metavar="LENGTH",
        help=f"height of the strip's words: {LIMIT_WORDS['text']}",
    )
    verb.add_argument(
        "--json", action="store_true", help="with --frame: print where it lies as one JSON object"
    )


def complaint(typed: Namespace) -> str | None:
    """What argparse cannot see."""
    if typed.json and typed.frame is None:
        return "--json goes with --frame: a window has no result to print"
    return None


CUT = Verb(
    name="cut",
    does="a pattern's pieces as light on the table, true to size",
    example="  chalkbeam cut overtop.yaml --table table.yaml --display 1\n"
    "  chalkbeam cut overtop.yaml --table table.yaml --frame front.png --piece front --json",
    options=options,
    runs=lambda _: "projector.verbs.cut.cut",
    complaint=complaint,
)
