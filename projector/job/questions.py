"""What a step asks before it begins, one question after the other, and the usual answers to each."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from calibration.sheets.sheet import RULER_IN
from projector.bindings import BLANK, Binding
from projector.job.found import Found
from projector.job.states import laid
from projector.tracing.bindings import NAMING
from projector.usage.shared import PAPER_NAMES

USUAL_PIECES: Final = ("front", "back", "sleeve")
USUAL_WIDTHS: Final = ("45 in", "60 in", "54 in", "112 cm", "140 cm", "150 cm")
USUAL_MAT: Final = ("1 in", "36x24 in")
NEW_GARMENT: Final = "garment"
AS_PLANNED: Final = "as planned"
BY_SHEETS, BY_MAT, BY_CAMERA = "sheets", "mat", "camera"
WORDS: Final = (replace(NAMING[0], says="the answer"), *NAMING[1:])
LENGTH: Final = (
    replace(NAMING[0], says="a length, such as 7 31/32 in or 20.3 cm", signs=NAMING[0].signs + '/."'),
    *NAMING[1:5],
    replace(BLANK, shown="F6", keys=("f6",)),  # "." may be meant
    *NAMING[6:],
)

Answers = tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A question, and the usual answers; where it is `closed`, there are no others."""

    question: str
    offers: tuple[str, ...]
    bindings: tuple[Binding, ...] = WORDS
    closed: bool = False


def of_nothing(_: Found, __: Answers) -> tuple[Asked, ...]:
    """No question: the step can begin."""
    return ()


def of_paper(found: Found, _: Answers) -> tuple[Asked, ...]:
    """What the sheets are printed on."""
    return (Asked(question="on which paper?", offers=_first(found.left.paper, PAPER_NAMES), closed=True),)


def of_alignment(found: Found, answers: Answers) -> tuple[Asked, ...]:
    """What it goes by; of a ruled mat its lines and size, of sheets how long their ruler was printed."""
    left = found.left
    last = BY_MAT if left.mat is not None else BY_CAMERA if left.camera is not None else BY_SHEETS
    ways = _first(last, (BY_SHEETS, BY_MAT, BY_CAMERA))
    way = Asked(question="by sheets, by a ruled mat, or by a camera?", offers=ways, closed=True)
    ruler = Asked(question="the printed ruler measures", offers=(f"{RULER_IN:g} in",), bindings=LENGTH)
    pitch, size = left.mat or USUAL_MAT
    following = {
        BY_SHEETS: (ruler,),
        BY_MAT: (
            Asked(
                question="from line to line of the mat:",
                offers=_first(pitch, ("1 in", "1 cm")),
                bindings=LENGTH,
            ),
            Asked(question="its ruled part is", offers=(size,), bindings=LENGTH),
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


def of_width(found: Found, _: Answers) -> tuple[Asked, ...]:
    """How wide the cloth is."""
    kept = (AS_PLANNED,) if laid(found) else ()
    return (Asked(question="how wide is the cloth?", offers=(*kept, *USUAL_WIDTHS), bindings=LENGTH),)


def _first(one: str, names: Sequence[str]) -> tuple[str, ...]:
    return (one, *(name for name in names if name != one))


def _new_name(patterns: Sequence[str]) -> str:
    """One that no pattern of the folder has."""
    numbered = (NEW_GARMENT, *(f"{NEW_GARMENT} {number}" for number in range(2, len(patterns) + 3)))
    return next(name for name in numbered if f"{name}.yaml" not in patterns)
