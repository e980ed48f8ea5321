"""A placed piece's light; its dashes are cut once, since a rigid move does not change them."""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.marks import Line, piece_lines
from patterns.cutting.placement import Placement
from projector.lighting.light import Chalk, chalk, chalk_light, chalk_scale, labels_light
from projector.lighting.lit_area import LitArea
from projector.lighting.looks import USUAL, Look
from projector.lighting.strokes import Drawing
from projector.person import Person


def lines_light(piece: DraftedPiece, placement: Placement, lit: LitArea, look: Look = USUAL) -> Drawing:
    """The piece's lines as it lies."""
    drawn = _chalked(piece, placement.opened, lit.span_in, look)
    return look.seen(chalk_light(_placed(drawn, placement), lit))


def some_lines_light(
    lines: Sequence[Line], piece: DraftedPiece, placement: Placement, lit: LitArea
) -> Drawing:
    """Some lines in piece inches, placed and as wide as those of the piece."""
    drawn = _placed(chalk(lines, lit.span_in), placement)
    return chalk_light(drawn, lit, _scale(piece, placement, lit))


@lru_cache(maxsize=8)
def _scale(piece: DraftedPiece, placement: Placement, lit: LitArea) -> float | None:
    return chalk_scale(_placed(_chalked(piece, placement.opened, lit.span_in, USUAL), placement), lit)


def _placed(drawn: Chalk, placement: Placement) -> Chalk:
    return replace(drawn, points_in=placement.placed(drawn.points_in))


def words_on_piece(
    piece: DraftedPiece, placement: Placement, lit: LitArea, person: Person, look: Look = USUAL
) -> Drawing:
    """The piece's words as it lies, to be read by the person."""
    return look.seen(labels_light(person.labels(piece, placement), lit))


@lru_cache(maxsize=64)
def _chalked(piece: DraftedPiece, opened: bool, span_in: float, look: Look) -> Chalk:
    """In the piece's own inches."""
    return chalk(piece_lines(piece, opened), span_in, look)
