"""Radial lens bow about a centre that need not be the middle of the picture."""

from dataclasses import dataclass

import numpy as np

from calibration.frames import Array

_NEWTON_STEPS = 20
_CONVERGED = 1e-13


@dataclass(frozen=True, slots=True, kw_only=True)
class Lens:
    """Two radial terms: bent = centre + (straight - centre) (1 + k1 r^2 + k2 r^4).

    r is the distance from `centre_px` in units of `unit_px` (half the picture's width), after the
    even-order radial model of Brown (1971).
    """

    k1: float = 0.0
    k2: float = 0.0
    centre_px: tuple[float, float]
    unit_px: float

    def bend(self, straight_px: Array) -> Array:
        """Where the lens puts the points of an ideal picture; (n, 2) pixels to (n, 2) pixels."""
        offset = straight_px - self.centre_px
        r2 = (offset**2).sum(axis=1, keepdims=True) / self.unit_px**2
        bent: Array = self.centre_px + offset * (1 + r2 * (self.k1 + r2 * self.k2))
        return bent

    def unbend(self, bent_px: Array) -> Array:
        """Inverse of `bend`: Newton's method on the radius; (n, 2) pixels to (n, 2) pixels."""
        offset = bent_px - self.centre_px
        bent_r = np.hypot(offset[:, 0], offset[:, 1]) / self.unit_px
        r = bent_r.copy()
        for _ in range(_NEWTON_STEPS):
            r2 = r * r
            slope = 1 + r2 * (3 * self.k1 + r2 * 5 * self.k2)
            step = (r * (1 + r2 * (self.k1 + r2 * self.k2)) - bent_r) / np.maximum(slope, 0.1)
            r -= step
            if np.abs(step).max(initial=0.0) < _CONVERGED:
                break
        scale = np.divide(r, bent_r, out=np.ones_like(r), where=bent_r > 0)
        straight: Array = self.centre_px + offset * scale[:, None]
        return straight
