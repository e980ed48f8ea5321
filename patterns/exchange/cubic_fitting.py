"""Cubic Béziers along a drawn curve: what was drawn as one comes back as one, with its own directions at both ends.

The spline of traced edges (`tracing.curve_fitting`) has no curvature at its ends. A drawn curve often has, and there
the spline needs many points, and still leaves a fold a degree off square. Least squares for the handles, the points'
parameters moved to their feet in turn, as in Plass and Stone, Curve-fitting with piecewise parametric cubics (1983).
"""

from itertools import pairwise
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array, Curve

MOST_CUBICS: Final = 12  # of one run, its straight parts not counted; what wants more is drawn unevenly
_FEWEST: Final = 24  # points to fit one cubic to
_ROUNDS: Final = 20
_LONGER: Final = 5.0  # times the next, a chord of a straight line that runs into a curve
_ALONG: Final = 0.05  # of a stray across the curve counts one along it, which the parameters take up
_STILL: Final = 1e-7  # change of a parameter that ends the rounds


def cubics_along(points: Array, close_in: float) -> tuple[Array, float]:
    """(3k + 1, 2) point, handle, handle, point, ..., no further than `close_in` from (n, 2) points if that can be.

    And how far they stray at most. Where one goes on to the next, neither of them straight, the direction is one.
    """
    breaks = joints(points)
    parts = [_cubic(points, start, end) for start, end in pairwise(breaks)]
    most = MOST_CUBICS + len(parts)
    while True:
        worst = max(range(len(parts)), key=lambda i: parts[i][1])
        first, last = breaks[worst : worst + 2]
        if parts[worst][1] <= close_in or len(parts) == most or last - first < 2:
            chain = np.concatenate([*(cubic[:3] for cubic, _ in parts), points[-1:]])
            return chain, parts[worst][1]
        middle = (first + last) // 2
        breaks.insert(worst + 1, middle)
        parts[worst : worst + 1] = [_cubic(points, first, middle), _cubic(points, middle, last)]


def joints(points: Array) -> list[int]:
    """The numbers of the points at both ends, and where a straight line runs into a curve."""
    chords = np.hypot(*np.diff(points, axis=0).T)
    before, after = chords[:-1], chords[1:]
    inner = np.flatnonzero(np.maximum(before, after) > _LONGER * np.minimum(before, after)) + 1
    return [0, *(int(i) for i in inner), len(points) - 1]


def strays_in(curve: Curve, points: Array) -> float:
    """How far a curve and chords through (n, 2) points lie apart at most, both ways."""
    one, other = shapely.LineString(curve.points), shapely.LineString(points)
    there = shapely.distance(other, shapely.points(curve.points)).max()
    back = shapely.distance(one, shapely.points(points)).max()
    return float(max(there, back))


def _cubic(points: Array, start: int, end: int) -> tuple[Array, float]:
    """The cubic (4, 2) along points `start` to `end`, its directions free at the very ends; and how far it strays."""
    part = points[start : end + 1]
    leaves = None if start == 0 else _direction(points, start)
    arrives = None if end == len(points) - 1 else _direction(points, end)
    arrives = None if arrives is None else -arrives
    fitted_to = _dense(part)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(fitted_to, axis=0).T))])
    at = along / along[-1]
    cubic = _least(fitted_to, at, leaves, arrives)
    for _ in range(_ROUNDS):
        moved, onward = _feet(cubic, fitted_to, at)
        still = float(np.abs(moved - at).max()) < _STILL
        at = moved
        cubic = _least(fitted_to, at, leaves, arrives, onward)
        if still:
            break
    if (
        float(np.hypot(*(cubic[1:3] - cubic[[0, 3]]).T).max()) > along[-1]
    ):  # handles that run away fit nothing
        cubic = np.linspace(part[0], part[-1], 4)
    return cubic, strays_in(Curve(cubic[None]), part)


def _direction(points: Array, number: int) -> Array | None:
    """(2,) the unit direction at a point, on the circle through its neighbours; None beside a straight line.

    There the curve may well arrive at a degree to the line, which to force would bend it too tightly.
    """
    before, after = points[number] - points[number - 1], points[number + 1] - points[number]
    near, far = np.hypot(*before), np.hypot(*after)
    if max(near, far) > _LONGER * min(near, far):
        return None
    along = before / near * far + after / far * near
    return np.asarray(along / np.hypot(*along), dtype=np.float64)


def _dense(points: Array) -> Array:
    """The points, chords divided where they are few."""
    parts = -(-_FEWEST // (len(points) - 1))
    if parts == 1:
        return points
    steps = np.arange(parts)[:, None, None] / parts
    between = points[:-1] + steps * np.diff(points, axis=0)
    return np.concatenate([between.transpose(1, 0, 2).reshape(-1, 2), points[-1:]])


def _least(
    points: Array, at: Array, leaves: Array | None, arrives: Array | None, onward: Array | None = None
) -> Array:
    """The cubic (4, 2) nearest to points (n, 2) at parameters (n,), its handles along directions that are given.

    With `onward` (n, 2), the curve's unit directions there, what is across them counts most: so few rounds are needed.
    """
    t, s = at, 1 - at
    rest = points - np.outer(s**3 + 3 * s**2 * t, points[0]) - np.outer(t**3 + 3 * s * t**2, points[-1])
    columns = [
        np.outer(weight, way)
        for weight, direction in ((3 * s**2 * t, leaves), (3 * s * t**2, arrives))
        for way in (np.eye(2) if direction is None else direction[None])
    ]
    design = np.stack([*columns, rest], axis=2)
    if onward is not None:
        across = np.stack([-onward[:, 1], onward[:, 0]], axis=1)
        axes = np.stack([across, onward * _ALONG], axis=1)
        design = axes @ design
    flat = design.reshape(-1, design.shape[2])
    found, *_ = np.linalg.lstsq(flat[:, :-1], flat[:, -1], rcond=None)
    handles = []
    for direction in (leaves, arrives):
        count = 2 if direction is None else 1
        handles.append(found[:count] if direction is None else found[0] * direction)
        found = found[count:]
    return np.stack([points[0], points[0] + handles[0], points[-1] + handles[1], points[-1]])


def _feet(cubic: Array, points: Array, at: Array) -> tuple[Array, Array]:
    """(n,) the parameters, each a Newton step nearer to the foot of its point, and (n, 2) unit directions as yet."""
    p0, p1, p2, p3 = cubic
    t = at[:, None]
    s = 1 - t
    off = s**3 * p0 + 3 * s**2 * t * p1 + 3 * s * t**2 * p2 + t**3 * p3 - points
    first = 3 * (s**2 * (p1 - p0) + 2 * s * t * (p2 - p1) + t**2 * (p3 - p2))
    second = 6 * (s * (p2 - 2 * p1 + p0) + t * (p3 - 2 * p2 + p1))
    slope = (first**2).sum(axis=1) + (off * second).sum(axis=1)
    step = (off * first).sum(axis=1) / np.where(np.abs(slope) < 1e-12, 1.0, slope)
    moved: Array = np.maximum.accumulate(np.clip(at - step, 0.0, 1.0))
    moved[0], moved[-1] = 0.0, 1.0
    speed = np.maximum(np.hypot(first[:, 0], first[:, 1]), 1e-12)
    return moved, first / speed[:, None]
