"""The sides of a corner, each as a straight or bent arm that can be followed up to the corner's tip."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from patterns.curves import Array
from patterns.tracing.contour import WAVE_IN, Contour

GAP_IN: Final = 1 / 24  # next to a corner left out: cloth and cameras round it by so much
_ARM_IN: Final = 0.35  # of clean contour tells a corner from a curve
_MOST_ARM_IN: Final = 1.2
_ARMS: Final = ((4, 1), (2, 1), (4, 2), (1, 1), (2, 2), (1, 2))  # lengths and degrees, the steadiest first
_KEPT_IN: Final = 1 / 4000  # a clean contour keeps to its arm this closely
_SIGMAS: Final = 2.0


@dataclass(frozen=True, kw_only=True, eq=False)
class Arm:
    """One side of a corner: `terms` (3, 2) of a point by how far it lies from the corner, 1, r and r^2.

    `tip_in` is one sigma of where its tip lies, square to it, as far as the contour's noise goes.
    """

    terms: Array
    tip_in: float

    @classmethod
    def of(cls, contour: Contour, along_in: float, ahead: float, gap_in: float) -> "Arm":
        """The contour from `gap_in` past `along_in`, `ahead` 1 for on the walk and -1 for back.

        It is the steadiest arm whose tip agrees, within their noise, with the tips of all that are less steady
        but follow curves more closely: Lepski's rule (Theory of Probability and its Applications 35, 1990).
        What is hidden is passed over. ValueError where too few points lie there.
        """
        length = min(_ARM_IN + 30 * contour.noise_in, _MOST_ARM_IN)
        arms = [
            cls.fitted(contour, along_in, ahead, (gap_in, times * length), degree) for times, degree in _ARMS
        ]
        return next(arm for i, arm in enumerate(arms) if all(arm._agrees(other) for other in arms[i + 1 :]))

    @classmethod
    def fitted(
        cls, contour: Contour, along_in: float, ahead: float, reaches: tuple[float, float], degree: int
    ) -> "Arm":
        """The arm of least squares, by `reaches`: inches left out next to `along_in`, and of contour seen beyond.

        ValueError if it has too few points.
        """
        gap_in, length_in = reaches
        points, reach = contour.seen_from(along_in, ahead, gap_in, length_in)
        if len(points) < 4:
            raise ValueError("too few points for an arm")
        powers = reach[:, None] ** np.arange(degree + 1)
        terms = np.zeros((3, 2))
        terms[: degree + 1] = np.linalg.lstsq(powers, points, rcond=None)[0]
        alike = len(points) * WAVE_IN / length_in  # so many points are wrong alike
        at_tip = float(np.linalg.inv(powers.T @ powers)[0, 0]) * max(alike, 1.0)
        return cls(terms=terms, tip_in=(contour.waves_in + _KEPT_IN) * math.sqrt(at_tip))

    def _agrees(self, other: "Arm") -> bool:
        """Whether another arm's tip lies beside this one's by no more than noise would have it."""
        way = other.leaving()
        apart = self.at(0.0) - other.at(0.0)
        beside = abs(way[0] * apart[1] - way[1] * apart[0]) / max(float(np.hypot(*way)), 1e-9)
        return float(beside) <= _SIGMAS * other.tip_in

    def at(self, reach: float) -> Array:
        """(2,) the point so far from the corner."""
        point: Array = np.array([1.0, reach, reach**2]) @ self.terms
        return point

    def leaving(self, reach: float = 0.0) -> Array:
        """(2,) how the point moves away from the corner there."""
        move: Array = np.array([0.0, 1.0, 2 * reach]) @ self.terms
        return move


def gap_at_corner(contour: Contour) -> float:
    """Inches left out next to a corner."""
    return GAP_IN + 3 * contour.noise_in
