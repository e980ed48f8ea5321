"""The formulas of cubics that are held as arrays (n, 4, 2): point, handle, handle, point, piece by piece."""

import math
from functools import cache

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(12)
NODES, WEIGHTS = (_NODES + 1) / 2, _WEIGHTS / 2  # of Gauss-Legendre quadrature over a parameter from 0 to 1
_DERIVED = np.array([3.0, 2.0, 1.0])[:, None, None]
_FINEST = 1024  # cells of a piece: what stands still at none is as good as it will be


def powers(pieces: Array) -> Array:
    """(4, n, 2) what the third, second, first and zeroth powers of the parameter are multiplied by."""
    p0, p1, p2, p3 = pieces.transpose(1, 0, 2)
    return np.array([p3 - 3 * p2 + 3 * p1 - p0, 3 * (p2 - 2 * p1 + p0), 3 * (p1 - p0), p0])


def derived(by_powers: Array) -> Array:
    """(3, n, 2) the same of the first derivative: of its second, first and zeroth powers."""
    slopes: Array = by_powers[:3] * _DERIVED
    return slopes


def arc_table(slopes: Array, still_in: float) -> tuple[Array, Array]:
    """Cells (m,), as many for each piece, and (m + 1,) lengths from the start up to each cell's end.

    `slopes` (3, n, 2) are the pieces', `derived`. Gauss-Legendre on ever finer cells, until the whole length changes by
    less than `still_in`.
    """
    per_piece, before = 2, math.inf
    while True:
        cells = speeds(slopes, _looks(per_piece)).reshape(-1, len(NODES)) @ WEIGHTS / per_piece
        lengths = np.concatenate([[0.0], np.cumsum(cells)])
        if abs(lengths[-1] - before) < still_in or per_piece >= _FINEST:
            return cells, lengths
        per_piece, before = per_piece * 2, float(lengths[-1])


@cache
def _looks(per_piece: int) -> Array:
    """(m,) parameters of the nodes in so many cells of a piece."""
    cells = np.arange(per_piece) / per_piece
    looks: Array = (cells[:, None] + NODES / per_piece).ravel()
    return looks


def speeds(slopes: Array, along: Array) -> Array:
    """(n, m) inches per unit of the parameter, at parameters (m,) of each piece or (n, m) of its own.

    `slopes` (3, n, 2) are the pieces', `derived`.
    """
    squared, plain, start = slopes[:, :, None]
    t = along[..., None]
    velocities = (squared * t + plain) * t + start
    found: Array = np.hypot(velocities[..., 0], velocities[..., 1])
    return found


def leaving(pieces: Array) -> Array:
    """(n, 2) unit directions in which the pieces leave their starts, past handles that lie on them."""
    steps = pieces[:, 1:] - pieces[:, :1]
    reaches = np.hypot(steps[..., 0], steps[..., 1])
    far = reaches > 1e-9
    if not far.any(axis=1).all():
        raise ValueError("a path's piece must be longer than nothing")
    first = (np.arange(len(pieces)), far.argmax(axis=1))
    unit: Array = steps[first] / reaches[first][:, None]
    return unit


def split(piece: Array, along: float) -> tuple[Array, Array]:
    """Both parts of one piece (4, 2) cut at parameter `along` (de Casteljau)."""
    a, b, c = piece[:-1] + (piece[1:] - piece[:-1]) * along
    d, e = a + (b - a) * along, b + (c - b) * along
    middle = d + (e - d) * along
    return np.array([piece[0], a, d, middle]), np.array([middle, e, c, piece[3]])


def natural_slopes(points: Array, chords: Array) -> Array:
    """(n, 2) slopes at (n, 2) points of their natural cubic spline, whose knots lie `chords` (n - 1,) apart.

    The second derivative is the same on both sides of a point, and 0 at both ends: n equations with three slopes
    each (de Boor, A Practical Guide to Splines, chapter IV). For the few points of a path they are solved sooner
    than a spline is imported.
    """
    weights = np.concatenate([[0.0], 1 / chords, [0.0]])
    before, after = weights[:-1], weights[1:]
    sums = np.diag(2 * (before + after)) + np.diag(after[:-1], 1) + np.diag(before[1:], -1)
    steps = np.zeros((len(points) + 1, 2))
    steps[1:-1] = 3 * np.diff(points, axis=0) / chords[:, None] ** 2
    return np.asarray(np.linalg.solve(sums, steps[:-1] + steps[1:]), dtype=np.float64)
