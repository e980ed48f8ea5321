"""The grainline of a piece whose outline has changed."""

from typing import Final

import numpy as np
import shapely

from patterns.curves import Array
from patterns.loop import Loop

GRAIN_PART: Final = 0.7  # of the longest straight way down a piece
_COLUMNS: Final = 24


def longest_grain(ring: Array) -> Array:
    """(2, 2) inches: a grainline along x = const, where the closed (n, 2) ring is longest that way."""
    columns = np.linspace(ring[:, 0].min(), ring[:, 0].max(), _COLUMNS + 2)[1:-1]
    closed = np.concatenate([ring, ring[:1]])
    before = closed[:, 0] < columns[:, None]
    column, crossed = np.nonzero(before[:, :-1] != before[:, 1:])
    one, two, x = closed[crossed], closed[crossed + 1], columns[column]
    levels = one[:, 1] + (two[:, 1] - one[:, 1]) * (x - one[:, 0]) / (two[:, 0] - one[:, 0])
    tops, bottoms = (
        levels[np.lexsort((levels, column))].reshape(-1, 2).T
    )  # a closed ring is left as often as entered
    longest = int(np.argmax(bottoms - tops))
    return _inset(np.array([[x[2 * longest], bottoms[longest]], [x[2 * longest], tops[longest]]]))


def grain_within(grain: Array, outline: Loop) -> Array:
    """(2, 2) inches: the grainline as it is where it lies within the outline, else what of it does.

    A grainline that lies wholly outside is drawn anew where the piece is longest.
    """
    line = shapely.LineString(grain)
    if outline.room.covers(line) or outline.crosses_itself:
        return grain
    parts = [part for part in shapely.get_parts(line.intersection(outline.room)) if part.length > 0]
    if not parts:
        return longest_grain(outline.ring)
    kept = shapely.get_coordinates(max(parts, key=lambda part: float(part.length)))[[0, -1]]
    return _inset(kept if (kept[1] - kept[0]) @ (grain[1] - grain[0]) > 0 else kept[::-1])


def _inset(line: Array) -> Array:
    inset = (1 - GRAIN_PART) / 2 * (line[1] - line[0])
    grain: Array = line + np.stack([inset, -inset])
    return grain
