"""What a step asks before it begins, one question after the other, and the usual answers to each."""

from collections.abc import Sequence
from typing import Final

from calibration.sheets.sheet import RULER_IN
from projector.arguments import area_in, positive_in
from projector.job.asked import LENGTH, Answers, Asked, first_of
from projector.job.found import Found
from projector.usage.shared import PAPER_NAMES

USUAL_PIECES: Final = ("front", "back", "sleeve")
USUAL_MAT: Final = ("1 in", "36x24 in")
NEW_GARMENT: Final = "garment"
BY_SHEETS, BY_MAT, BY_CAMERA = "sheets", "mat", "camera"


def of_paper(found: Found, _: Answers) -> tuple[Asked, ...]:
    """What the sheets are printed on."""
    return (Asked(question="on which paper?", offers=first_of(found.left.paper, PAPER_NAMES), closed=True),)


def of_alignment(found: Found, answers: Answers) -> tuple[Asked, ...]:
    """What it goes by; of a ruled mat its lines and size, of sheets how long their ruler was printed."""
    left = found.left
    last = BY_MAT if left.mat is not None else BY_CAMERA if left.camera is not None else BY_SHEETS
    ways = first_of(last, (BY_SHEETS, BY_MAT, BY_CAMERA))
    way = Asked(question="by sheets, by a ruled mat, or by a camera?", offers=ways, closed=True)
    ruler = Asked(
        question="the printed ruler measures",
        offers=(f"{RULER_IN:g} in",),
        bindings=LENGTH,
        reads=positive_in,
    )
    pitch, size = left.mat or USUAL_MAT
    following = {
        BY_SHEETS: (ruler,),
        BY_MAT: (
            Asked(
                question="from line to line of the mat:",
                offers=first_of(pitch, ("1 in", "1 cm")),
                bindings=LENGTH,
                reads=positive_in,
            ),
            Asked(question="its ruled part is", offers=(size,), bindings=LENGTH, reads=area_in),
        ),
        BY_CAMERA: (Asked(question="camera number", offers=(left.camera or "0",), bindings=LENGTH), ruler),
    }
    return (way, *(following[answers[0]] if answers else ()))


def of_piece(found: Found, _: Answers) -> tuple[Asked, ...]:
    """Which piece is traced, and before it, what a new garment is called."""
    known = () if found.pattern is None else tuple(piece.name for piece in found.pattern.pieces)
    begun = found.begun_traces
    missing = tuple(name for name in USUAL_PIECES if name not in (*known, *begun))
    piece = Asked(question="which piece?", offers=(*begun, *missing, *known))
    if found.left.pattern is not None:
        return (piece,)
    return (Asked(question="what is the garment called?", offers=(_new_name(found.patterns),)), piece)


def _new_name(patterns: Sequence[str]) -> str:
    """One that no pattern of the folder has."""
    numbered = (NEW_GARMENT, *(f"{NEW_GARMENT} {number}" for number in range(2, len(patterns) + 3)))
    return next(name for name in numbered if f"{name}.yaml" not in patterns)
