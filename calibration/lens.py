"""Radial lens bow about a centre that need not be the middle of the picture."""

from dataclasses import dataclass
from functools import lru_cache
from typing import TypeVar

import numpy as np

from calibration.frames import Array

_NEWTON_STEPS = 20
_CONVERGED = 1e-13
_LEAST_SLOPE = 0.1  # past the fold of a wild model the inverse creeps instead of leaping
_FARTHEST = 3.0  # and stays within this many times the picture

R = TypeVar("R", float, Array)


def bend(straight: Array, centre: Array, k1: float, k2: float) -> Array:
    """bent = centre + (straight - centre) (1 + k1 r^2 + k2 r^4); (n, 2) in units where r is about 1 at the rim.

    The even-order radial model of D. C. Brown, Close-range camera calibration (1971).
    """
    offset = straight - centre
    r2 = offset[:, :1] ** 2 + offset[:, 1:] ** 2
    bent: Array = centre + offset * (1 + r2 * (k1 + r2 * k2))
    return bent


def unbend(bent: Array, centre: Array, k1: float, k2: float) -> Array:
    """Inverse of `bend`, by Newton's method on the radius."""
    offset = bent - centre
    bent_r = np.hypot(offset[:, 0], offset[:, 1])
    alone = len(bent_r) == 1  # a pointer, in every picture: many times sooner without arrays
    r = np.array([_straight_radius(float(bent_r[0]), k1, k2)]) if alone else _straight_radii(bent_r, k1, k2)
    scale = np.divide(r, bent_r, out=np.ones_like(r), where=bent_r > 0)
    straight: Array = centre + offset * scale[:, None]
    return straight


def _straight_radii(bent_r: Array, k1: float, k2: float) -> Array:
    """(n,) radii that come out as those, (n,), once they are bent."""
    farthest = _FARTHEST * max(float(bent_r.max(initial=0.0)), 1.0)
    r = bent_r.copy()
    for _ in range(_NEWTON_STEPS):
        beyond, growth = _beyond(r, bent_r, k1, k2)
        step = beyond / np.maximum(growth, _LEAST_SLOPE)
        r = np.minimum(np.maximum(r - step, 0), farthest)
        if np.abs(step).max(initial=0.0) < _CONVERGED:
            break
    return r


def _straight_radius(bent_r: float, k1: float, k2: float) -> float:
    """The same of a single one."""
    farthest = _FARTHEST * max(bent_r, 1.0)
    r = bent_r
    for _ in range(_NEWTON_STEPS):
        beyond, growth = _beyond(r, bent_r, k1, k2)
        step = beyond / max(growth, _LEAST_SLOPE)
        r = min(max(r - step, 0.0), farthest)
        if abs(step) < _CONVERGED:
            break
    return r


def _beyond(r: R, bent_r: R, k1: float, k2: float) -> tuple[R, R]:
    """By how much a radius comes out too long once it is bent, and how fast that grows with it."""
    r2 = r * r
    return r * (1 + r2 * (k1 + r2 * k2)) - bent_r, 1 + r2 * (3 * k1 + r2 * 5 * k2)


def bend_slopes(straight: Array, centre: Array, k1: float, k2: float) -> tuple[Array, Array]:
    """Slopes of `bend`: (n, 2, 2) by the point; (n, 2, 4) by k1, k2, centre u, centre v."""
    offset = straight - centre
    u, v = offset.T
    r2 = u * u + v * v
    gain = 1 + r2 * (k1 + r2 * k2)
    growth = 2 * (k1 + 2 * r2 * k2)
    by_point = np.empty((len(offset), 2, 2))
    by_point[:, 0, 0] = gain + growth * u * u
    by_point[:, 0, 1] = by_point[:, 1, 0] = growth * u * v
    by_point[:, 1, 1] = gain + growth * v * v
    by_terms = np.empty((len(offset), 2, 4))
    by_terms[:, :, 0] = offset * r2[:, None]
    by_terms[:, :, 1] = by_terms[:, :, 0] * r2[:, None]
    by_terms[:, :, 2:] = np.eye(2) - by_point
    return by_point, by_terms


@lru_cache(maxsize=16)
def _scaled(centre_px: tuple[float, float], unit_px: float) -> Array:
    """(2,) the centre in units of so many pixels."""
    centre = np.array(centre_px) / unit_px
    centre.setflags(write=False)
    return centre


@dataclass(frozen=True, slots=True, kw_only=True)
class Lens:
    """`bend` and `unbend` in pixels: lengths are taken in units of `unit_px`, half the picture's width."""

    k1: float = 0.0
    k2: float = 0.0
    centre_px: tuple[float, float]
    unit_px: float

    def bend(self, straight_px: Array) -> Array:
        """Where the lens puts the points of an ideal picture; (n, 2) pixels to (n, 2) pixels."""
        unit = self.unit_px
        return bend(straight_px / unit, _scaled(self.centre_px, unit), self.k1, self.k2) * unit

    def unbend(self, bent_px: Array) -> Array:
        """Inverse of `bend`; (n, 2) pixels to (n, 2) pixels."""
        unit = self.unit_px
        return unbend(bent_px / unit, _scaled(self.centre_px, unit), self.k1, self.k2) * unit

    def bend_slopes(self, straight_px: Array) -> tuple[Array, Array]:
        """Slopes of `bend`: (n, 2, 2) by the point; (n, 2, 4) by k1, k2, centre u, centre v (pixels)."""
        unit = self.unit_px
        centre = _scaled(self.centre_px, unit)
        by_point, by_terms = bend_slopes(straight_px / unit, centre, self.k1, self.k2)
        return by_point, by_terms * (unit, unit, 1, 1)
