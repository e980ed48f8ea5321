"""Where a piece lies on a flat surface seen from above."""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from patterns.curves import Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """A rigid placing of piece inches (y down) on surface inches (y up).

    The piece's origin comes to (x_in, y_in); `turn_deg` is counter-clockwise seen from above; `mirrored`
    turns the piece over about its centre line first; `opened` lays out both halves of a piece on the fold.
    """

    x_in: float = 0.0
    y_in: float = 0.0
    turn_deg: float = 0.0
    mirrored: bool = False
    opened: bool = False

    def __post_init__(self) -> None:
        if not all(math.isfinite(value) for value in (self.x_in, self.y_in, self.turn_deg)):
            raise ValueError("a placement must be finite")

    def placed(self, points_in: Array) -> Array:
        """(n, 2) surface inches of (n, 2) piece inches.

        >>> Placement(x_in=10, y_in=20).placed(np.array([[1.0, 2.0]]))
        array([[11., 18.]])
        """
        points: Array = np.asarray(points_in, dtype=np.float64) @ self._matrix().T + (self.x_in, self.y_in)
        return points

    def lifted(self, surface_in: Array) -> Array:
        """(n, 2) piece inches of (n, 2) surface inches: the inverse of `placed`."""
        points: Array = (np.asarray(surface_in, dtype=np.float64) - (self.x_in, self.y_in)) @ self._matrix()
        return points

    def direction(self, piece_direction: Array) -> Array:
        """(2,) direction on the surface of a (2,) direction on the piece."""
        turned: Array = self._matrix() @ piece_direction
        return turned

    def _matrix(self) -> Array:
        return _turned(self.turn_deg, self.mirrored)


def both_halves(half: Array) -> Array:
    """The closed outline of a half that begins and ends on x = 0, united with its mirror image."""
    other = half[-2:0:-1] * (-1.0, 1.0)
    return np.concatenate([half, other])


@lru_cache(maxsize=256)
def _turned(turn_deg: float, mirrored: bool) -> Array:
    """(2, 2) from piece directions to those on the surface."""
    turn = math.radians(turn_deg)
    cos, sin = math.cos(turn), math.sin(turn)
    flip = -1.0 if mirrored else 1.0
    matrix = np.array([[cos * flip, sin], [sin * flip, -cos]])
    matrix.setflags(write=False)
    return matrix
