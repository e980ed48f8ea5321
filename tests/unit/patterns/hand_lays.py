"""Lays made by hand: pieces of the half top put where a test wants them."""

from dataclasses import replace

from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement
from patterns.laying.folding import FoldLine
from patterns.laying.lay import PieceOnCloth


def on_fold(piece: DraftedPiece, line: FoldLine, start_in: float) -> PieceOnCloth:
    """A half piece with its fold edge on a lengthwise fold, its lowest point so far from the cut end."""
    placement = Placement(x_in=line.at_in, mirrored=line.below < 0)
    low = float(placement.placed(piece.cut_line)[:, 1].min())
    return PieceOnCloth(piece=piece, placement=replace(placement, y_in=start_in - low), fold_line=line)


def opened(piece: DraftedPiece, left_in: float, start_in: float, *, turn_deg: float = 0.0) -> PieceOnCloth:
    """All of a piece in a single layer, from its left and its lowest point."""
    placed = PieceOnCloth(piece=piece, placement=Placement(turn_deg=turn_deg, opened=piece.fold is not None))
    low = placed.outline_in.min(axis=0)
    x, y = left_in - float(low[0]), start_in - float(low[1])
    return replace(placed, placement=replace(placed.placement, x_in=x, y_in=y))
