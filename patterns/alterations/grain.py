"""The grainline of a piece whose outline has changed."""

from typing import Final, cast

import numpy as np
import shapely

from patterns.curves import Array
from patterns.loop import Loop

GRAIN_PART: Final = 0.7  # of the longest straight way down a piece
_INSETS: Final = (1 - GRAIN_PART) / 2 * np.array([[1.0], [-1.0]])  # of its whole length, at either end
_SHARES: Final = np.linspace(0, 1, 26)[1:-1]  # of a piece's width: where it is looked at how long it is
_ALIKE_IN: Final = 1e-6  # of two columns as long as that the first is taken, whatever their last digits say


def longest_grain(ring: Array) -> Array:
    """(2, 2) inches: a grainline along x = const, where the closed (n, 2) ring is longest that way."""
    closed = np.concatenate([ring, ring[:1]])
    across = closed[:, 0]
    left, right = across.min(), across.max()
    columns = left + (right - left) * _SHARES
    before = across < columns[:, None]
    crossings = before[:, :-1] != before[:, 1:]
    column, crossed = np.divmod(crossings.ravel().nonzero()[0], len(ring))
    (x, y), (next_x, next_y) = closed.take(crossed, axis=0).T, closed.take(crossed + 1, axis=0).T
    levels = y + (next_y - y) * (columns.take(column) - x) / (next_x - x)
    # A closed ring is left as often as entered.
    ends = levels[np.lexsort((levels, column))].reshape(-1, 2)
    lengths = ends[:, 1] - ends[:, 0]
    longest = (lengths > lengths.max() - _ALIKE_IN).argmax()
    (top, bottom), at = ends[longest], columns[column[2 * longest]]
    return _inset(np.array([[at, bottom], [at, top]]))


def grain_within(grain: Array, outline: Loop) -> Array:
    """(2, 2) inches: the grainline as it is where it lies within the outline, else what of it does.

    A grainline that lies wholly outside is drawn anew where the piece is longest.
    """
    line = cast(shapely.LineString, shapely.linestrings(grain))
    if outline.room.covers(line) or outline.crosses_itself:
        return grain
    parts = [part for part in shapely.get_parts(line.intersection(outline.room)) if part.length > 0]
    if not parts:
        return longest_grain(outline.ring)
    kept = shapely.get_coordinates(max(parts, key=lambda part: float(part.length)))[[0, -1]]
    return _inset(kept if (kept[1] - kept[0]) @ (grain[1] - grain[0]) > 0 else kept[::-1])


def _inset(line: Array) -> Array:
    grain: Array = line + (line[1] - line[0]) * _INSETS
    return grain
