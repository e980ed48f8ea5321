"""Points along an edge that is given exactly to a path of few points, by the fitter of traced edges."""

from itertools import pairwise
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array
from patterns.exchange.turns import Flags
from patterns.tracing.curve_fitting import Fitted, fitted

CLOSE_IN: Final = 0.0013  # from a drawn line to its fit: with flattening and rounding within two thousandths
_AIMS_IN: Final = (
    0.0007,
    0.0004,
    0.0002,
)  # tried in turn: a stray near an edge's end counts for less in a fit
_SPACING_IN: Final = 0.03  # of the points fitted to
_FEWEST: Final = 16


def fits_along(points: Array, sharp: Flags) -> list[tuple[Fitted, float]]:
    """Paths along (n, 2) points, one after another, broken where they are `sharp` (n,); and how far each strays."""
    breaks = [0, *(i for i in range(1, len(points) - 1) if sharp[i]), len(points) - 1]
    return [_fit(points[start : end + 1]) for start, end in pairwise(breaks)]


def _fit(points: Array) -> tuple[Fitted, float]:
    line = shapely.LineString(points)
    count = max(int(line.length / _SPACING_IN), _FEWEST)
    along = shapely.get_coordinates(shapely.line_interpolate_point(line, np.linspace(0, line.length, count)))
    tries: list[tuple[Fitted, float]] = []
    for aim_in in _AIMS_IN:
        fit = fitted(along[1:-1], points[0], points[-1], aim_in=aim_in)
        tries.append((fit, _stray(fit, points)))
        if tries[-1][1] <= CLOSE_IN:
            break
    return min(tries, key=lambda one: one[1])


def _stray(fit: Fitted, points: Array) -> float:
    """How far the two lie apart at most, both ways."""
    one, other = shapely.LineString(fit.curve.points), shapely.LineString(points)
    there = shapely.distance(other, shapely.points(fit.curve.points)).max()
    back = shapely.distance(one, shapely.points(points)).max()
    return float(max(there, back))
