"""A wide stroke as thin lines side by side, whose centres OpenCV draws true; two rails as two such bands."""

from collections.abc import Sequence
from itertools import accumulate
from math import ceil
from typing import Final

import numpy as np

from calibration.frames import Array
from projector.lighting.strokes import Plane, Stroke, in_plane

THIN_PX: Final = 1.3  # light of one anti-aliased line, mean over angles
UNSEEN_PX: Final = 0.25  # of a line's width
SPACING_PX: Final = 1.0  # thin lines this close together merge without a gap
SHARPEST: Final = 0.35  # cosine of half a corner's turn below which its mitre is cut short
NO_LENGTH_PX: Final = 1e-9


def thin_lines(strokes: Sequence[Stroke]) -> list[Plane]:
    """Each stroke, (k, n), as thin lines that are together as wide as it, none within its core."""
    offsets = [_offsets(stroke) for stroke in strokes]
    middles = [in_plane(stroke.points) for stroke in strokes]
    wide = [number for number, across in enumerate(offsets) if len(across) > 1]
    mitres = dict(zip(wide, _mitres([strokes[k] for k in wide], [middles[k] for k in wide]), strict=True))
    return [
        middle + across[:, None] * mitres[number] if number in mitres else middle[None]
        for number, (middle, across) in enumerate(zip(middles, offsets, strict=True))
    ]


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


def _mitres(strokes: Sequence[Stroke], middles: Sequence[Plane]) -> list[Plane]:
    """Of each stroke, (n,) steps that move each point one pixel to the left of its path, longer at corners."""
    if not strokes:
        return []
    points = np.concatenate(middles)
    stroke_ends = list(accumulate(map(len, middles)))
    each = zip(strokes, [0, *stroke_ends[:-1]], strict=True)
    ends = [begin + end for stroke, begin in each for end in stroke.ends.tolist()]
    first, last = np.array([0, *ends[:-1]]), np.array(ends) - 1
    along = points[1:] - points[:-1]
    left = along * -1j / np.maximum(np.abs(along), NO_LENGTH_PX)
    before, after = left[last - 1], left[np.minimum(first, len(left) - 1)]
    closed = points[first] == points[last]
    middle = np.empty_like(points)
    np.add(left[:-1], left[1:], out=middle[1:-1])
    middle[first] = np.where(closed, before, after) + after
    middle[last] = before + np.where(closed, after, before)
    # A mitre has the direction of the sum of both normals and the length 1 / cos(half the turn).
    steps = middle * (2 / np.maximum(middle.real**2 + middle.imag**2, 4 * SHARPEST**2))
    return [steps[a:b] for a, b in zip([0, *stroke_ends[:-1]], stroke_ends, strict=True)]
