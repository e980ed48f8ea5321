"""Where an outline that is given exactly turns: at corners, at kinks within an edge, or along a curve in chords.

A camera's contour is noisy, and its corners are found by what its sides do (`tracing.corner_finding`); a drawn outline
has its corners at its own points, and only chords of curves must be told from them.
"""

import math
from typing import Final

import numpy as np
import numpy.typing as npt

from patterns.curves import Array
from patterns.tracing.corner_finding import LEAST_JUMP_DEG

CORNER_RAD: Final = math.radians(LEAST_JUMP_DEG)
KINK_RAD: Final = math.radians(2)  # less is what rounding leaves between two parts of one curve
COARSE_IN: Final = 0.02  # that chords of a curve stray from it at most, in the roughest files
_ALIKE: Final = 1 / 3  # of a turn: a neighbour that turns so much the same way is of the same curve
_NEAR_IN: Final = 1e-9

Flags = npt.NDArray[np.bool_]


def kinks(ring: Array) -> tuple[Array, Flags]:
    """Radians (n,) by which the closed (n, 2) ring turns at its points, and which of them (n,) are no curve's.

    A point is a curve's where a point next to it turns alike and the chord to that one strays no more than COARSE_IN.
    """
    steps = np.roll(ring, -1, axis=0) - ring
    chords = np.maximum(np.hypot(*steps.T), _NEAR_IN)
    before = np.roll(steps, 1, axis=0)
    turns = np.arctan2(before[:, 0] * steps[:, 1] - before[:, 1] * steps[:, 0], (before * steps).sum(axis=1))
    on_curve = np.zeros(len(ring), dtype=np.bool_)
    for shift, chord in ((-1, chords), (1, np.roll(chords, 1))):
        neighbours = np.roll(turns, shift)
        alike = neighbours * np.sign(turns) >= np.abs(turns) * _ALIKE
        on_curve |= alike & (chord * np.abs(turns) / 8 <= COARSE_IN)
    sharp: Flags = (np.abs(turns) >= KINK_RAD) & ~on_curve
    return turns, sharp


def corners(ring: Array) -> list[int]:
    """The numbers of the points at which the closed (n, 2) ring has a corner, a flatter one being sewn as a curve."""
    turns, sharp = kinks(ring)
    return [int(i) for i in np.flatnonzero(sharp & (np.abs(turns) >= CORNER_RAD))]
