"""`trace`: what may be typed."""

from argparse import ArgumentParser, ArgumentTypeError, Namespace
from pathlib import Path

from projector.arguments import camera, edge_in, edge_out, place_in, positive_in, sheet_count
from projector.usage.shared import add_paper, add_where, is_same_file
from projector.usage.tape import add_taped
from projector.usage.verb import Verb

SIDES = ("left", "right", "top", "bottom")
BY_PHOTO = ("sheets", "printed_ruler", "standing", "fold", "use", "picture", "taped", "json")
TOUCHES = ("smooth", "straighten", "moves", "shoulder_forward")
USES = ("first", "second")
MOST_PHOTOS = 2


def names(text: str) -> tuple[str, ...]:
    """Names of edges from "a,b,c".

    >>> names("neck, overarm,sleeve hem")
    ('neck', 'overarm', 'sleeve hem')
    """
    found = tuple(name.strip() for name in text.split(","))
    if not all(found):
        raise ArgumentTypeError(f'"{text}" is not a list of names such as "neck,overarm,sleeve hem,side,hem"')
    return found


def forward(text: str) -> str:
    """A length of more than nothing, as typed; bare, it is of the pattern's unit, which is not known here."""
    positive_in(text)
    return text


def options(verb: ArgumentParser) -> None:
    """Add them."""
    _add_sources(verb)
    _add_piece(verb)
    _add_touches(verb)
    looks = verb.add_argument_group("what is looked at")
    looks.add_argument(
        "--picture", type=Path, metavar="F.png", help="write the outline over the photo laid flat"
    )
    add_taped(looks)
    looks.add_argument("--json", action="store_true", help="print the result as one JSON object")
    light = verb.add_argument_group("the light on the table, with --table")
    light.add_argument(
        "--offset",
        type=place_in,
        metavar="RIGHT,AWAY",
        help='where the cross of light is beside the pointer, such as "-1 in, 1 1/2 in" (on it)',
    )
    add_where(light)


def _add_sources(verb: ArgumentParser) -> None:
    sources = verb.add_argument_group("what it is traced from")
    sources.add_argument(
        "--photo",
        type=Path,
        nargs="+",
        metavar="F",
        help="the folded garment beside printed sheets; two photos, of its left and right half or of both faces, are "
        "averaged",
    )
    sources.add_argument(
        "--camera",
        type=camera,
        metavar="N",
        help="the same, seen by a camera; its number, from 0. With --table, a camera that stands where it stood for "
        "the alignment needs no sheet",
    )
    add_paper(sources)
    sources.add_argument(
        "--sheets",
        type=sheet_count,
        metavar="N",
        help="how many sheets lie there, from sheet 1 (those that are seen)",
    )
    sources.add_argument(
        "--printed-ruler",
        type=positive_in,
        metavar="LENGTH",
        help="what the printed ruler measures with a tape",
    )
    sources.add_argument(
        "--table",
        type=Path,
        metavar="T.yaml",
        help="the table file from align: with nothing else, trace on the table with a cross of light; with a photo or "
        "a camera, show the outline on the garment (not with --json)",
    )
    sources.add_argument("--setup", metavar="NAME", help="with --table: which of the file's set-ups")
    sources.add_argument(
        "--standing",
        action="store_true",
        help="with --photo and --table: its camera stands where it stood for the alignment and needs no sheet; a phone "
        "held in the hand does not",
    )


def _add_piece(verb: ArgumentParser) -> None:
    piece = verb.add_argument_group("the piece it becomes")
    piece.add_argument(
        "--out", type=Path, required=True, metavar="P.yaml", help="the pattern file to write, or to add to"
    )
    piece.add_argument("--piece", default="front", metavar="NAME", help="the piece's name (front)")
    piece.add_argument(
        "--fold",
        choices=(*SIDES, "none"),
        nargs="+",
        metavar="SIDE",
        help="the side of the garment, in the photo, that is the fold: left, right, top or bottom; one for both "
        "photos, or one for each; none for a whole piece, such as a pocket",
    )
    piece.add_argument(
        "--edges",
        type=names,
        metavar="A,B,...",
        help="the edges' names in order from the fold's top; of a whole piece, clockwise from its top left corner",
    )
    piece.add_argument(
        "--use", choices=USES, help="of two photos, the one to use alone where the two differ too much"
    )
    piece.add_argument(
        "--again",
        action="store_true",
        help="take the outline of a piece that the file has anew; allowances, notches and changes stay",
    )


def _add_touches(verb: ArgumentParser) -> None:
    touches = verb.add_argument_group(
        "touching up, of what is traced or, with nothing to trace from, of the piece in the file"
    )
    touches.add_argument(
        "--smooth",
        action="append",
        default=[],
        metavar="EDGE",
        help="run an edge smoothly through fewer points, within 1/16 in; may be given again",
    )
    touches.add_argument(
        "--straighten",
        action="append",
        default=[],
        metavar="EDGE",
        help="make an edge straight from end to end; may be given again",
    )
    touches.add_argument(
        "--folded-away",
        type=edge_out,
        action="append",
        dest="moves",
        default=[],
        metavar="EDGE:LENGTH",
        help='what is folded under at an edge, such as "hem: 1/2 in": the edge is moved out by it',
    )
    touches.add_argument(
        "--left-off",
        type=edge_in,
        action="append",
        dest="moves",
        default=[],
        metavar="EDGE:LENGTH",
        help='lace or a band that the piece is to be without, such as "hem: 1 in": the edge is moved in by it',
    )
    touches.add_argument(
        "--shoulder-forward",
        type=forward,
        metavar="LENGTH",
        help="how far in front of the fold at the top the shoulder seam lies: the front gives so much to the back",
    )


def complaint(typed: Namespace) -> str | None:
    """What argparse cannot see."""
    if typed.photo is not None and typed.camera is not None:
        return "--photo and --camera do not go together"
    if typed.photo is None and typed.camera is None:
        return _unseen(typed)
    for source in (typed.out, typed.table, *(typed.photo or ())):
        if is_same_file(typed.picture, source):
            return f"--picture {typed.picture} would overwrite {source}; name another file for the picture"
    photos = len(typed.photo or "1")
    if photos > MOST_PHOTOS:
        return f"--photo takes one photo or two, found {photos}"
    if typed.fold is not None and len(typed.fold) > photos:
        return f"--fold names {len(typed.fold)} sides for {photos} photo"
    if photos > 1 and "none" in (typed.fold or ()):
        return "--fold none is for one photo: without a fold there is nothing to lay two halves together by"
    if typed.use is not None and photos < MOST_PHOTOS:
        return "--use chooses between two photos, found one"
    return _without_table(typed)


def _unseen(typed: Namespace) -> str | None:
    """The same where neither photo nor camera shows the garment."""
    if typed.table is None and not any(getattr(typed, option) for option in TOUCHES):
        return "--photo or --camera is needed, or --table to trace with a cross of light"
    for option in BY_PHOTO:
        if getattr(typed, option) not in (None, False, []):
            instead = "; chalkbeam tape checks a piece of a file" if option == "taped" else ""
            return f"{_spelled(option)} goes with --photo or --camera{instead}"
    if typed.again and typed.table is None:
        return "--again goes with --photo or --camera, or with --table"
    for option in ("smooth", "straighten", "shoulder_forward"):
        if typed.table is not None and getattr(typed, option):
            return f"{_spelled(option)} does not go with the cross of light; touch the piece up when it is in its file"
    return _without_table(typed)


def _without_table(typed: Namespace) -> str | None:
    for option in ("setup", "standing", "offset", "window"):
        if typed.table is None and getattr(typed, option) not in (None, False):
            return f"{_spelled(option)} goes with --table"
    return None


def _spelled(option: str) -> str:
    return f"--{option.replace('_', '-')}"


def runs(typed: Namespace) -> str:
    """The function for the way that was asked for."""
    seen = typed.photo is not None or typed.camera is not None
    if typed.table is None:
        return "projector.verbs.trace.trace" if seen else "projector.verbs.touch_up.touch_up"
    if not seen:
        return "projector.verbs.trace_window.trace_in_window"
    return f"projector.verbs.{'trace.trace' if typed.json else 'trace_window.trace_photo_and_show'}"


TRACE = Verb(
    name="trace",
    does="make a folded garment a piece with named edges, from photos or with a cross of light",
    example="  chalkbeam trace --photo front.jpg --paper letter --piece front --out overtop.yaml \\\n"
    '      --printed-ruler "8 in" --picture front.png --taped "hem width 11 1/4 in"\n'
    "  # its left and its right half, averaged\n"
    "  chalkbeam trace --photo left.jpg right.jpg --fold right left --piece back --out overtop.yaml\n"
    "  # a photo, and its outline in light on the garment\n"
    "  chalkbeam trace --photo front.jpg --table table.yaml --display 1 --out overtop.yaml\n"
    "  # by the camera of the alignment, where it stood then: no sheet\n"
    "  chalkbeam trace --camera 0 --table table.yaml --display 1 --out overtop.yaml\n"
    "  # on the table, with a cross of light\n"
    "  chalkbeam trace --table table.yaml --display 1 --piece front --out overtop.yaml\n"
    "  # a piece that the file has: its outline anew, or touched up as it is\n"
    "  chalkbeam trace --photo front2.jpg --out overtop.yaml --piece front --again\n"
    '  chalkbeam trace --out overtop.yaml --piece back --smooth side --shoulder-forward "3/8 in"',
    options=options,
    runs=runs,
    complaint=complaint,
)
