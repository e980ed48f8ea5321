"""The usual names for the edges of a half piece that its drawing leaves unnamed, where its shape alone tells them."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from patterns.curves import Array
from patterns.errors import PatternError
from patterns.tracing.contour import Contour
from patterns.tracing.corner_finding import given_corners
from patterns.tracing.fold_choice import chosen_reading
from patterns.tracing.fold_line import pointed_side

_UP: Final = np.array([1.0, -1.0])


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedByShape:
    """The numbers of the points at which the edges begin and end, from the fold's top on; the usual names go with them.

    `upside_down` where the last of the points given, and not the first, is the fold's top.
    """

    ends: tuple[int, ...]
    upside_down: bool


def named_by_shape(points: Array, corners: Sequence[int]) -> NamedByShape | None:
    """How a garment with cut-on sleeves reads, from (n, 2) piece inches round it from one end of the fold to the other.

    `corners` are the numbers of those points at which edges may end. None where its shape leaves any doubt.
    """
    try:
        contour = Contour.read(points * _UP, 0.0)
        found = given_corners(contour, points[list(corners)] * _UP)
        fold = pointed_side(contour, found, (points[0] + points[-1]) / 2 * _UP)
        reading, doubts = chosen_reading(contour, fold, found)
    except PatternError:
        return None
    if doubts:
        return None
    every = [0, *corners, len(points) - 1]
    places = points[every] * _UP
    stops = contour.at(np.array([reading.stops[i].along_in for i in reading.landmarks]))
    ends = [every[int(np.argmin(np.hypot(*(places - stop).T)))] for stop in stops]
    upside_down = ends[0] > ends[-1]
    if len(set(ends)) < len(ends):
        return None
    return NamedByShape(ends=tuple(ends), upside_down=upside_down)
