"""How far it is round the garment at a level, from its half pieces."""

from typing import Final

import numpy as np
import shapely

from patterns.cutting.drafted import DraftedPattern, DraftedPiece
from patterns.errors import PatternError
from patterns.measures import Unit
from patterns.saying import LengthError, lengths_said_in

SIDE: Final = "side"
LEVELS_IN: Final = {Unit.IN: 1.0, Unit.CM: 2 / 2.54, Unit.MM: 20 / 25.4}  # between the levels that are tried
SLEEVE_SLOPE: Final = 1 / 2  # of inches across to inches down: what narrows faster is still the sleeve
_BEYOND_IN: Final = 1.0
_TOUCHES_IN: Final = 1e-6


def girth_in(pattern: DraftedPattern, drop_in: float) -> float:
    """Inches round the seam line, `drop_in` below the high shoulder point: both halves of all pieces with a side.

    A half is one that is cut on the fold, or one of a mirrored pair. Raises PatternError if none has a side, or the
    level misses one.
    """
    halves = _halves(pattern)
    if not halves:
        raise PatternError(
            f"{pattern.name} has no half piece with an edge named {SIDE}, so nothing to measure round"
        )
    with lengths_said_in(pattern.unit):
        return 2 * sum(half_width_in(piece, drop_in) for piece in halves)


def usual_girths(pattern: DraftedPattern) -> tuple[tuple[float, float], ...]:
    """Levels in inches, and the girths there, to be told unasked: the first below the sleeves, and the last.

    The levels are whole steps of a tape in the pattern's unit; none for a garment that has no girth.
    """
    halves, step_in = _halves(pattern), LEVELS_IN[pattern.unit]
    if len(halves) < 2:
        return ()  # one half alone goes round nothing
    deepest = max(float(piece.seam_line[:, 1].max()) for piece in halves)
    girths: dict[int, float] = {}
    for number in range(1, int(deepest / step_in) + 1):
        try:
            girths[number] = girth_in(pattern, number * step_in)
        except PatternError:
            continue
    narrows = 4 * SLEEVE_SLOPE * step_in  # in all four halves
    body = [at for at, girth in girths.items() if girth - girths.get(at + 1, 0.0) < narrows]
    told = dict.fromkeys((*body[:1], *list(girths)[-1:]))
    return tuple((at * step_in, girths[at]) for at in told)


def _halves(pattern: DraftedPattern) -> list[DraftedPiece]:
    return [
        piece
        for piece in pattern.pieces.values()
        if SIDE in piece.edges and (piece.fold is not None or piece.cut.mirrored)
    ]


def half_width_in(piece: DraftedPiece, drop_in: float) -> float:
    """Inches from the fold, or from the centre seam, to the side at that level.

    PatternError where no level line joins the two.
    """
    outline = shapely.Polygon(piece.seam_line)
    low, high = (float(f(piece.seam_line[:, 0])) for f in (np.min, np.max))
    level = shapely.LineString([(low - _BEYOND_IN, drop_in), (high + _BEYOND_IN, drop_in)])
    side = shapely.LineString(piece.edges[SIDE].points)
    for part in shapely.get_parts(outline.intersection(level)):
        if part.length > 0.0 and _joins(piece, part, side):
            return float(part.length)
    top, bottom = (float(f(piece.edges[SIDE].points[:, 1])) for f in (np.min, np.max))
    raise LengthError(
        lambda say: (
            f"{piece.name}: {say(drop_in)} below the high shoulder point no level line runs from the centre to the "
            f"side, which lies between {say(top)} and {say(bottom)}; give a level below the underarm and the neck, "
            "and above the hem"
        )
    )


def _joins(piece: DraftedPiece, part: shapely.Geometry, side: shapely.LineString) -> bool:
    """Whether the part of a level line runs to the side, from the fold where there is one."""
    ends = [shapely.Point(end) for end in shapely.get_coordinates(part)]
    to_side = min(side.distance(end) for end in ends) <= _TOUCHES_IN
    return to_side and (piece.fold is None or shapely.bounds(part)[0] <= _TOUCHES_IN)
