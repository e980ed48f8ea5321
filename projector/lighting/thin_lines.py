"""A wide stroke as thin lines side by side, whose centres OpenCV draws true; two rails as two such bands."""

from collections.abc import Sequence
from math import ceil
from typing import Final

import numpy as np

from calibration.frames import Array
from projector.lighting.strokes import Plane, Stroke, in_plane, in_rows, split

THIN_PX: Final = 1.3  # light of one anti-aliased line, mean over angles
UNSEEN_PX: Final = 0.25  # of a line's width
SPACING_PX: Final = 1.0  # thin lines this close together merge without a gap
SHARPEST: Final = 0.35  # cosine of half a corner's turn below which its mitre is cut short
NO_LENGTH_PX: Final = 1e-9


def thin_lines(strokes: Sequence[Stroke]) -> list[Array]:
    """Each stroke, (k, n, 2), as thin lines that are together as wide as it, none within its core."""
    offsets = [_offsets(stroke) for stroke in strokes]
    wide = [stroke for stroke, across in zip(strokes, offsets, strict=True) if len(across) > 1]
    mitres = iter(_mitres(wide))
    return [
        _side_by_side(stroke, across, next(mitres)) if len(across) > 1 else stroke.points[None]
        for stroke, across in zip(strokes, offsets, strict=True)
    ]


def _side_by_side(stroke: Stroke, offsets: Array, mitres: Plane) -> Array:
    lines = in_plane(stroke.points) + offsets[:, None] * mitres
    return in_rows(lines).reshape(-1, len(mitres), 2)


def _offsets(stroke: Stroke) -> Array:
    """How far to the left of its middle each of its thin lines is."""
    spread = stroke.width_px - THIN_PX
    if spread <= UNSEEN_PX:
        return np.zeros(1)
    return _rails(spread, stroke.core_px + THIN_PX) if stroke.core_px else _evenly(spread)


def _evenly(spread: float) -> Array:
    gaps = max(1, ceil(spread / SPACING_PX))
    offsets: Array = spread * (np.arange(gaps + 1) / gaps - 0.5)
    return offsets


def _rails(spread: float, apart: float) -> Array:
    """Offsets of two rails whose innermost thin lines are so far apart, and their outermost `spread`."""
    rail = (spread - apart) / 2
    if rail <= UNSEEN_PX:
        return np.array([-spread / 2, spread / 2])
    left = _evenly(rail) - (spread + apart) / 4
    return np.concatenate([left, -left[::-1]])


def _mitres(strokes: Sequence[Stroke]) -> list[Plane]:
    """Of each stroke, (n,) steps that move each point one pixel to the left of its path, longer at corners."""
    if not strokes:
        return []
    points = in_plane(np.concatenate([stroke.points for stroke in strokes]))
    stroke_ends = np.cumsum([len(stroke.points) for stroke in strokes])
    each = zip(strokes, stroke_ends, strict=True)
    ends = np.concatenate([stroke.ends + (end - len(stroke.points)) for stroke, end in each])
    along = points[1:] - points[:-1]
    left = along * -1j / np.maximum(np.abs(along), NO_LENGTH_PX)
    last = ends - 1
    first = np.concatenate([[0], ends[:-1]])
    before, after = np.concatenate([left[:1], left]), np.concatenate([left, left[-1:]])
    closed = points[first] == points[last]
    before[first] = np.where(closed, before[last], after[first])
    after[last] = np.where(closed, after[first], before[last])
    middle = before + after
    # A mitre has the direction of the sum of both normals and the length 1 / cos(half the turn).
    steps = middle * (2 / np.maximum(middle.real**2 + middle.imag**2, 4 * SHARPEST**2))
    return split(steps, stroke_ends)
