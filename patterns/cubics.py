"""The formulas of cubics. Places are complex numbers, x + iy: the plane is reckoned with at once, not by its halves.

A piece is four of them, point, handle, handle, point, and pieces are an array (n, 4). Whatever is linear in a piece's
places is a product with a constant matrix.
"""

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Final

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Plane = npt.NDArray[np.complex128]
Piece = Sequence[complex]  # four of them

_NOTHING_IN: Final = 1e-9  # a handle so near to its point lies on it
_STEPS: Final = 512  # that are remembered: as many as the chords of a long piece
_PLACES: Final = np.array([[-1, 3, -3, 1], [3, -6, 3, 0], [-3, 3, 0, 0], [1, 0, 0, 0]], dtype=np.complex128)
SLOPES: Final[Plane] = np.array([[3.0], [2.0], [1.0]]) * _PLACES[:3]
_BENDS: Final = np.array([[1, 0], [-2, 1], [1, -2], [0, 1]], dtype=np.complex128)


def in_plane(points: Array) -> Plane:
    """(..., ) complex numbers of (..., 2) points, x and y."""
    plane: Plane = np.ascontiguousarray(points, np.float64).view(np.complex128)[..., 0]
    return plane


def out_of_plane(places: Plane) -> Array:
    """(n, 2) points of (n,) complex numbers."""
    return places.view(np.float64).reshape(-1, 2)


def powers(pieces: Plane) -> Plane:
    """(4, n) what the third, second, first and zeroth powers of the parameter are multiplied by."""
    by_powers: Plane = _PLACES.dot(pieces.T)
    return by_powers


def slopes(pieces: Plane) -> Plane:
    """(3, n) the same of the first derivative: of its second, first and zeroth powers."""
    by_powers: Plane = SLOPES.dot(pieces.T)
    return by_powers


def bends(pieces: Plane) -> list[float]:
    """Inches by which the handles of each piece stray at most from even steps: a sixth of the greatest |B''|."""
    both_ends: list[list[float]] = abs(pieces.dot(_BENDS)).tolist()
    return [max(one, other) for one, other in both_ends]


def curved_at_most(piece: Piece, bend_in: float) -> float:
    """1/in that the curvature of a piece is nowhere beyond, given what `bends` says of it.

    |B''| is at most six times that, and B' a mean of the three steps between the piece's places, times three: along
    the chord it is never slower than the slowest of them. Infinite where one of them leads back.
    """
    start, one, other, end = piece
    chord = end - start
    steps = (one - start, other - one, end - other)
    slowest = min(step.real * chord.real + step.imag * chord.imag for step in steps)
    if slowest <= _NOTHING_IN * abs(chord):
        return math.inf
    return 2 / 3 * bend_in * (abs(chord) / slowest) ** 2


@lru_cache(maxsize=_STEPS)
def even_shares(steps: int) -> Array:
    """(steps,) parameters in even steps from 0 on, the end, 1, left out."""
    shares: Array = np.arange(steps) / steps
    shares.setflags(write=False)
    return shares


@lru_cache(maxsize=_STEPS)
def evenly(steps: int) -> Array:
    """(steps, 4) by which a piece's points are multiplied for its points at `even_shares`."""
    on = even_shares(steps)
    left = 1 - on
    return np.stack([left**3, 3 * on * left**2, 3 * on**2 * left, on**3], axis=1)


def leaving(piece: Piece) -> complex:
    """The unit direction in which a piece leaves its start, past handles that lie on it."""
    start = piece[0]
    for place in piece[1:]:
        step = place - start
        reach = abs(step)
        if reach > _NOTHING_IN:
            return step / reach
    raise ValueError("a path's piece must be longer than nothing")


def arriving(piece: Piece) -> complex:
    """The unit direction in which a piece arrives at its end, past handles that lie on it."""
    return -leaving(piece[::-1])


def is_nothing(piece: Piece) -> bool:
    """Whether all of a piece lies on its start."""
    return all(abs(place - piece[0]) <= _NOTHING_IN for place in piece[1:])


def split(piece: Piece, along: float) -> tuple[Piece, Piece]:
    """Both parts of a piece cut at parameter `along` (de Casteljau)."""
    start, one, other, end = piece
    a, b, c = start + (one - start) * along, one + (other - one) * along, other + (end - other) * along
    d, e = a + (b - a) * along, b + (c - b) * along
    middle = d + (e - d) * along
    return (start, a, d, middle), (middle, e, c, end)


def hermite(places: Sequence[complex], slopes: Sequence[complex], spans: Sequence[float]) -> list[Piece]:
    """The pieces through n places with slopes there, over n - 1 parameter spans."""
    reaches, ends = (span / 3 for span in spans), zip(pairwise(places), pairwise(slopes), strict=True)
    return [
        (start, start + leaves * reach, end - arrives * reach, end)
        for reach, ((start, end), (leaves, arrives)) in zip(reaches, ends, strict=True)
    ]


def natural_slopes(places: Sequence[complex], chords: Sequence[float]) -> list[complex]:
    """Slopes at n places of their natural cubic spline, whose knots lie n - 1 `chords` apart.

    The second derivative is the same on both sides of a place, and 0 at both ends: n equations with three slopes
    each (de Boor, A Practical Guide to Splines, chapter IV), solved from the first to the last and back again.
    """
    weights = [0.0, *(1 / chord for chord in chords), 0.0]
    steps = [(there - here) / chord**2 for (here, there), chord in zip(pairwise(places), chords, strict=True)]
    sums = [3 * (before + after) for before, after in pairwise([0j, *steps, 0j])]
    share, slope, partly = 0.0, 0j, []
    for (before, after), wanted in zip(pairwise(weights), sums, strict=True):
        whole = 2 * (before + after) - before * share
        share, slope = after / whole, (wanted - before * slope) / whole
        partly.append((share, slope))
    found, slope = [], 0j
    for share, less in reversed(partly):
        slope = less - share * slope
        found.append(slope)
    return found[::-1]
