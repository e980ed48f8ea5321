"""The sides of a corner, each as a straight or bent arm that can be followed up to the corner's tip."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from patterns.contour import WAVE_IN, Contour
from patterns.curves import Array

GAP_IN: Final = 1 / 24  # next to a corner left out: cloth and cameras round it by so much
_ARM_IN: Final = 0.35  # of clean contour tells a corner from a curve
_MOST_ARM_IN: Final = 1.2
_ARMS: Final = ((4, 1), (2, 1), (4, 2), (1, 1), (2, 2), (1, 2))  # lengths and degrees, the steadiest first
_KEPT_IN: Final = 1 / 2000  # a clean contour keeps to its arm this closely


@dataclass(frozen=True, kw_only=True, eq=False)
class Arm:
    """One side of a corner: `terms` (3, 2) of a point by how far it lies from the corner, 1, r and r^2."""

    terms: Array

    @classmethod
    def of(cls, contour: Contour, along_in: float, ahead: float, gap_in: float) -> "Arm":
        """The contour from `gap_in` past `along_in`, `ahead` 1 for on the walk and -1 for back.

        It is the steadiest arm that the contour keeps to but for its noise and whose tip agrees with that of
        the short bent arm, which follows every curve: long before short, straight before bent. What is hidden
        is passed over. ValueError where too few points lie there.
        """
        length = min(_ARM_IN + 30 * contour.noise_in, _MOST_ARM_IN)
        *steadier, (times, degree) = _ARMS
        surest, _ = cls.fitted(contour, along_in, ahead, (gap_in, times * length), degree)
        way = surest.leaving() / max(float(np.hypot(*surest.leaving())), 1e-9)
        kept, agreed = _KEPT_IN + 2.5 * contour.waves_in, _KEPT_IN + 3 * contour.waves_in
        for times, degree in steadier:
            arm, stray = cls.fitted(contour, along_in, ahead, (gap_in, times * length), degree)
            apart = arm.at(0.0) - surest.at(0.0)
            if stray <= kept and abs(way[0] * apart[1] - way[1] * apart[0]) <= agreed:
                return arm
        return surest

    @classmethod
    def fitted(
        cls, contour: Contour, along_in: float, ahead: float, reaches: tuple[float, float], degree: int
    ) -> tuple["Arm", float]:
        """The arm of least squares, and how far the contour, averaged over WAVE_IN, strays from it.

        `reaches` are inches left out next to `along_in`, and of contour seen beyond. ValueError if it has too
        few points.
        """
        gap_in, length_in = reaches
        points, reach = contour.seen_from(along_in, ahead, gap_in, length_in)
        if len(points) < 4:
            raise ValueError("too few points for an arm")
        powers = reach[:, None] ** np.arange(degree + 1)
        terms = np.zeros((3, 2))
        terms[: degree + 1] = np.linalg.lstsq(powers, points, rcond=None)[0]
        arm = cls(terms=terms)
        off = points - powers @ terms[: degree + 1]
        way = arm.leaving(float(reach.mean()))
        beside = (way[0] * off[:, 1] - way[1] * off[:, 0]) / max(float(np.hypot(*way)), 1e-9)
        width = min(max(round(len(points) * WAVE_IN / length_in), 1), len(points))
        calm = np.convolve(beside, np.full(width, 1 / width), mode="valid")
        return arm, float(np.abs(calm).max())

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
