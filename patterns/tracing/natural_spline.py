"""Natural cubic splines as sums of their points, each by a weight: what a least-squares fit needs.

`Curve.smooth` draws the same splines. The formulas are the textbook ones, by second derivatives at the knots
(de Boor, A Practical Guide to Splines, chapter IV).
"""

import numpy as np

from patterns.curves import Array


def chord_places(points: Array) -> Array:
    """(k,) chord lengths from the first of (k, 2) points up to each: the knots of their spline."""
    return np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])


def natural_weights(knots: Array, at: Array) -> tuple[Array, Array]:
    """Weights (n, k) of the spline's points in its value, and in its slope, at parameters `at` (n,).

    `knots` (k,) rise. The spline's second derivative is 0 at both ends.

    >>> natural_weights(np.array([0.0, 2.0]), np.array([0.5]))[0]
    array([[0.75, 0.25]])
    """
    gaps = np.diff(knots)
    bends = _bends(gaps)
    span = np.clip(np.searchsorted(knots, at, side="right") - 1, 0, len(gaps) - 1)
    gap = gaps[span]
    high = (at - knots[span]) / gap
    low = 1 - high
    ends = np.eye(len(knots))
    first, last = ends[span], ends[span + 1]
    first_bend, last_bend = bends[span], bends[span + 1]
    curved = (low**3 - low)[:, None] * first_bend + (high**3 - high)[:, None] * last_bend
    values: Array = low[:, None] * first + high[:, None] * last + curved * (gap**2 / 6)[:, None]
    curving = (3 * high**2 - 1)[:, None] * last_bend - (3 * low**2 - 1)[:, None] * first_bend
    slopes: Array = (last - first) / gap[:, None] + curving * (gap / 6)[:, None]
    return values, slopes


def _bends(gaps: Array) -> Array:
    """(k, k) the second derivative at each knot, row by row, as weights of the points."""
    count = len(gaps) + 1
    sums, kinks = np.eye(count), np.zeros((count, count))
    for i in range(1, count - 1):
        before, after = gaps[i - 1], gaps[i]
        sums[i, i - 1 : i + 2] = before, 2 * (before + after), after
        kinks[i, i - 1 : i + 2] = 6 / before, -6 / before - 6 / after, 6 / after
    return np.asarray(np.linalg.solve(sums, kinks), dtype=np.float64)
