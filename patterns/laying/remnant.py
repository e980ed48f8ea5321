"""What stays whole: the largest rectangle of the flat cloth, along the grain, that no piece takes any of."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array
from patterns.laying.profile import PITCH_IN, Profile

CELL_IN: Final = 1 / 8  # of the lattice on which it is found; its sides are then pushed out as far as they go
_SAME_IN: Final = 1e-9
_OPPOSITE: Final = {
    "left_in": "right_in",
    "right_in": "left_in",
    "bottom_in": "top_in",
    "top_in": "bottom_in",
}

Standing = tuple[Profile, float, float]  # an outline, and x and y of its origin on the cloth


@dataclass(frozen=True, slots=True, kw_only=True)
class Rectangle:
    """A box on the cloth from (left, bottom) to (right, top), inches."""

    left_in: float
    bottom_in: float
    right_in: float
    top_in: float

    @property
    def width_in(self) -> float:
        """Inches across the cloth."""
        return self.right_in - self.left_in

    @property
    def length_in(self) -> float:
        """Inches along it."""
        return self.top_in - self.bottom_in

    @property
    def area_in2(self) -> float:
        """Square inches."""
        return self.width_in * self.length_in


def largest_free(cloth: Rectangle, taken: Iterable[Array]) -> Rectangle:
    """The largest rectangle within `cloth` into which none of the closed rings (n, 2) reaches.

    It is the largest on a lattice of CELL_IN, each of its sides then pushed out as far as it goes.
    """
    rings = tuple(taken)
    found = largest_on_lattice(cloth, [(Profile.of(ring, 0.0), 0.0, 0.0) for ring in rings], CELL_IN)
    return _pushed_out(found, cloth, [shapely.Polygon(ring) for ring in rings])


def largest_on_lattice(cloth: Rectangle, standing: Sequence[Standing], cell_in: float) -> Rectangle:
    """The largest rectangle of whole cells within `cloth` that no outline touches; perhaps without an area.

    Row by row, each cell keeps how far down it is free and how far to both sides all of that is.
    """
    columns = max(int((cloth.width_in + _SAME_IN) / cell_in), 1)
    rows = max(int((cloth.length_in + _SAME_IN) / cell_in), 1)
    free = _free_cells(cloth, standing, cell_in, rows, columns)
    place = np.arange(columns)
    height, left, right = np.zeros(columns), np.zeros(columns), np.full(columns, float(columns))
    best, box = 0.0, (0.0, 0.0, 0.0, 0.0)
    for row in range(rows):
        here = free[row]
        from_left = np.maximum.accumulate(np.where(here, 0, place + 1))
        to_right = np.minimum.accumulate(np.where(here, columns, place)[::-1])[::-1]
        height = np.where(here, height + 1, 0)
        left = np.where(here, np.maximum(left, from_left), 0)
        right = np.where(here, np.minimum(right, to_right), columns)
        area = (right - left) * height
        at = int(area.argmax())
        if area[at] > best:
            best = float(area[at])
            box = (left[at], row + 1 - height[at], right[at], row + 1)
    return Rectangle(
        left_in=cloth.left_in + float(box[0]) * cell_in,
        bottom_in=cloth.bottom_in + float(box[1]) * cell_in,
        right_in=cloth.left_in + float(box[2]) * cell_in,
        top_in=cloth.bottom_in + float(box[3]) * cell_in,
    )


def _free_cells(
    cloth: Rectangle, standing: Sequence[Standing], cell_in: float, rows: int, columns: int
) -> Array:
    """(rows, columns) whether no outline reaches into a cell."""
    steps = np.zeros((rows + 1, columns), dtype=np.int64)
    for profile, x, y in standing:
        for chain in profile.chains:
            across = x - cloth.left_in + (chain.first + np.arange(len(chain.lower))) * PITCH_IN
            low = y - cloth.bottom_in + np.minimum(chain.lower[:-1], chain.lower[1:])
            high = y - cloth.bottom_in + np.maximum(chain.upper[:-1], chain.upper[1:])
            lowest, highest = np.full(columns, np.inf), np.full(columns, -np.inf)
            for touched in (across[:-1] + _SAME_IN, across[1:] - _SAME_IN):
                column = np.floor(touched / cell_in).astype(np.intp)
                inside = (column >= 0) & (column < columns)
                np.minimum.at(lowest, column[inside], low[inside])
                np.maximum.at(highest, column[inside], high[inside])
            met = np.flatnonzero(lowest < highest)
            first = np.clip(np.floor(lowest[met] / cell_in + _SAME_IN), 0, rows).astype(np.intp)
            last = np.clip(np.ceil(highest[met] / cell_in - _SAME_IN), 0, rows).astype(np.intp)
            np.add.at(steps, (first, met), 1)
            np.add.at(steps, (last, met), -1)
    free: Array = np.cumsum(steps, axis=0)[:rows] == 0
    return free


def _pushed_out(found: Rectangle, cloth: Rectangle, polygons: list[shapely.Polygon]) -> Rectangle:
    """The rectangle with each side in turn moved out until a polygon or the edge of the cloth stops it."""
    if not found.area_in2:
        return found
    others = shapely.union_all(polygons)
    for side, number, outward in (
        ("left_in", 2, -1),
        ("right_in", 0, 1),
        ("bottom_in", 3, -1),
        ("top_in", 1, 1),
    ):
        edge, limit = getattr(found, side), getattr(cloth, side)
        beyond = replace(found, **{_OPPOSITE[side]: edge, side: limit})
        if beyond.area_in2 <= 0:
            continue
        met = others & shapely.box(beyond.left_in, beyond.bottom_in, beyond.right_in, beyond.top_in)
        solid = [part.bounds[number] for part in shapely.get_parts(met) if part.area > 0]
        nearest = min((outward * stop for stop in solid), default=outward * limit)
        found = replace(found, **{side: outward * max(nearest, outward * edge)})
    return found
