"""The allowance of an edge, measured between its seam line and the cut line that is drawn beside it."""

from fractions import Fraction
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array
from patterns.measures import Length, Unit, in_words
from patterns.parts import Allowance

EVEN_IN: Final = 0.01  # that the distance may change along an edge of one allowance
GAUGE_IN: Final = 0.004  # from a mark of a gauge at which that is what was meant
NOTHING_IN: Final = 0.004
_PLACES: Final = (0.25, 0.4, 0.5, 0.6, 0.75)  # along an edge, away from its corners
_INCH_PARTS: Final = 64
_MM_PARTS: Final = 2


def measured(edge: Array, cut_line: Array, unit: Unit) -> Allowance | None:
    """The allowance of an edge (n, 2) within a closed cut line (m, 2), inches; None where it is not of one width."""
    line, rim = shapely.LineString(edge), shapely.LinearRing(cut_line)
    places = shapely.line_interpolate_point(line, np.array(_PLACES), normalized=True)
    away = shapely.distance(places, rim)
    if float(np.ptp(away)) > EVEN_IN:
        return None
    return allowance_of(float(np.median(away)), unit)


def allowance_of(width_in: float, unit: Unit) -> Allowance:
    """So many inches as a seam gauge has them: a mark of inches or of half millimetres, where one is as near.

    >>> [str(allowance_of(width_in, Unit.IN)) for width_in in (0.5002, 0.5906, 0.52)]
    ['1/2 in', '15 mm', '0.52']
    >>> str(allowance_of(0.3937, Unit.CM)), str(allowance_of(0.0, Unit.CM))
    ('10 mm', '0')
    """
    if width_in < NOTHING_IN:
        return Allowance(parts=(Length(spelling="0", unit=unit),))
    inches = Fraction(round(width_in * _INCH_PARTS), _INCH_PARTS)
    half_mm = Fraction(round(width_in * 25.4 * _MM_PARTS), _MM_PARTS)
    marks = {Unit.IN: (float(inches), in_words(float(inches), _INCH_PARTS)), Unit.MM: (0.0, "")}
    marks[Unit.MM] = (float(half_mm) / 25.4, f"{float(half_mm):g} mm")
    near = [mark for mark in marks.values() if abs(mark[0] - width_in) <= GAUGE_IN]
    if unit is not Unit.IN:
        near.reverse()
    best = min(near, key=lambda mark: round(abs(mark[0] - width_in), 3), default=None)
    return Allowance(
        parts=(Length(spelling=best[1], unit=unit) if best else Length.of(round(width_in, 3), unit),)
    )
