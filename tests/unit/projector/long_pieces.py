"""A harbour pilot's cloak: a half on the fold that is longer than most lights."""

from functools import cache

from patterns.cutting.drafted import DraftedPiece, drafted_piece
from patterns.measures import Length
from patterns.parts import Allowance, Bend, CutCount, Edge, Grain, Kind, Notch, Point
from patterns.piece import Piece
from patterns.shape import Shape

HALF_INCH = Allowance(parts=(Length(spelling="1/2"),))


def _path(*points: tuple[float, float]) -> tuple[Point, ...]:
    return tuple(Point(x=Length.of(x), y=Length.of(y)) for x, y in points)


@cache
def cloak() -> DraftedPiece:
    """62 in long on the fold, 13 in wide at the shoulder and 20 in at the hem."""
    piece = Piece(
        name="cloak",
        cut=CutCount(count=1, on_fold=True),
        edges=(
            Edge(name="neck", kind=Kind.SEAM, path=_path((0, 3), (2, 2.4), (3.5, 0)), bend=Bend.SMOOTH),
            Edge(name="shoulder", kind=Kind.SEAM, path=_path((3.5, 0), (13, 4))),
            Edge(name="side", kind=Kind.SEAM, path=_path((13, 4), (15, 24), (20, 60)), bend=Bend.SMOOTH),
            Edge(name="hem", kind=Kind.HEM, path=_path((20, 60), (0, 62))),
            Edge(name="centre back", kind=Kind.FOLD, path=_path((0, 62), (0, 3))),
        ),
        grain=Grain(start=_path((4, 40))[0], end=_path((4, 12))[0]),
        notches=(
            Notch(edge="side", at=Length(spelling="9")),
            Notch(edge="side", at=Length(spelling="28"), count=2),
        ),
    )
    return drafted_piece(Shape.of(piece, {Kind.SEAM: HALF_INCH, Kind.HEM: HALF_INCH}))
