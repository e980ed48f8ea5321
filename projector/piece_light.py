"""A placed piece's light; its dashes are cut once, since a rigid move does not change them."""

from dataclasses import replace
from functools import lru_cache

from patterns.drafted import DraftedPiece
from patterns.marks import marks_of
from patterns.placement import Placement
from projector.light import Chalk, chalk, chalk_light, labels_light
from projector.lit_area import LitArea
from projector.person import Person
from projector.strokes import Drawing


def piece_light(piece: DraftedPiece, placement: Placement, lit: LitArea, person: Person) -> Drawing:
    """Strokes and words in projector pixels of the piece as it lies, with words the person can read."""
    at_rest = _at_rest(piece, placement.opened, lit.span_in)
    # At rest, y is up already; the piece's own y is down.
    placed = replace(at_rest, points_in=placement.placed(at_rest.points_in * (1.0, -1.0)))
    return (*chalk_light(placed, lit), *labels_light(person.labels(piece, placement), lit))


@lru_cache(maxsize=64)
def _at_rest(piece: DraftedPiece, opened: bool, span_in: float) -> Chalk:
    return chalk(marks_of(piece, Placement(opened=opened)).lines, span_in)
