"""How far it is round the garment at a level, from its half pieces."""

from typing import Final

import numpy as np
import shapely

from patterns.cutting.drafted import DraftedPattern, DraftedPiece
from patterns.errors import PatternError
from patterns.saying import LengthError, lengths_said_in

SIDE: Final = "side"
_BEYOND_IN: Final = 1.0
_TOUCHES_IN: Final = 1e-6


def girth_in(pattern: DraftedPattern, drop_in: float) -> float:
    """Inches round the seam line, `drop_in` below the high shoulder point: both halves of all pieces with a side.

    Raises PatternError if no half piece has a side, or the level misses one.
    """
    halves = [piece for piece in pattern.pieces.values() if SIDE in piece.edges and piece.fold is not None]
    if not halves:
        raise PatternError(
            f"{pattern.name} has no half piece with an edge named {SIDE}, so nothing to measure round"
        )
    with lengths_said_in(pattern.unit):
        return 2 * sum(half_width_in(piece, drop_in) for piece in halves)


def half_width_in(piece: DraftedPiece, drop_in: float) -> float:
    """Inches from the fold to the side at that level; PatternError where no level line joins the two."""
    outline = shapely.Polygon(piece.seam_line)
    reach = float(piece.seam_line[:, 0].max()) + _BEYOND_IN
    level = shapely.LineString([(0.0, drop_in), (reach, drop_in)])
    across = [part for part in shapely.get_parts(outline.intersection(level)) if _from_fold(part)]
    side = shapely.LineString(piece.edges[SIDE].points)
    if across:
        width = across[0].bounds[2]
        if side.distance(shapely.Point(width, drop_in)) <= _TOUCHES_IN:
            return float(width)
    top, bottom = (float(f(piece.edges[SIDE].points[:, 1])) for f in (np.min, np.max))
    raise LengthError(
        lambda say: (
            f"{piece.name}: {say(drop_in)} below the high shoulder point no level line runs from the centre to the "
            f"side, which lies between {say(top)} and {say(bottom)}; give a level below the underarm and the neck, "
            "and above the hem"
        )
    )


def _from_fold(part: shapely.Geometry) -> bool:
    return isinstance(part, shapely.LineString) and part.bounds[0] <= _TOUCHES_IN
