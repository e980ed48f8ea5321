"""A wide stroke as thin lines side by side, whose centres OpenCV draws true; two rails as two such bands."""

from math import ceil
from typing import Final

import numpy as np

from calibration.frames import Array
from projector.lighting.strokes import Ends, Stroke

THIN_PX: Final = 1.3  # light of one anti-aliased line, mean over angles
UNSEEN_PX: Final = 0.25  # of a line's width
SPACING_PX: Final = 1.0  # thin lines this close together merge without a gap
SHARPEST: Final = 0.35  # cosine of half a corner's turn below which its mitre is cut short
NO_LENGTH_PX: Final = 1e-9


def thin_lines(stroke: Stroke) -> Array:
    """(k, n, 2) the stroke as thin lines that are together as wide as it, none within its core."""
    spread = stroke.width_px - THIN_PX
    if spread <= UNSEEN_PX:
        return stroke.points[None]
    offsets = _rails(spread, stroke.core_px + THIN_PX) if stroke.core_px else _side_by_side(spread)
    lines: Array = stroke.points + offsets[:, None, None] * _mitres(stroke.points, stroke.ends)
    return lines


def _side_by_side(spread: float) -> Array:
    gaps = max(1, ceil(spread / SPACING_PX))
    offsets: Array = spread * (np.arange(gaps + 1) / gaps - 0.5)
    return offsets


def _rails(spread: float, apart: float) -> Array:
    """Offsets of two rails whose innermost thin lines are so far apart, and their outermost `spread`."""
    rail = (spread - apart) / 2
    if rail <= UNSEEN_PX:
        return np.array([-spread / 2, spread / 2])
    left = _side_by_side(rail) - (spread + apart) / 4
    return np.concatenate([left, -left[::-1]])


def _mitres(points: Array, ends: Ends) -> Array:
    """(n, 2) steps that move each point one pixel to the left of its path, longer at corners."""
    along = np.diff(points, axis=0)
    length = np.hypot(along[:, 0], along[:, 1])
    left = along[:, ::-1] * (1.0, -1.0) / np.maximum(length, NO_LENGTH_PX)[:, None]
    last = ends - 1
    first = np.concatenate([[0], ends[:-1]])
    before, after = np.concatenate([left[:1], left]), np.concatenate([left, left[-1:]])
    closed = (points[first] == points[last]).all(axis=1)[:, None]
    before[first] = np.where(closed, before[last], after[first])
    after[last] = np.where(closed, after[first], before[last])
    middle = before + after
    # A mitre has the direction of the sum of both normals and the length 1 / cos(half the turn).
    squared = middle[:, 0] ** 2 + middle[:, 1] ** 2
    steps: Array = middle * (2 / np.maximum(squared, 4 * SHARPEST**2))[:, None]
    return steps
