"""The closed outlines among some lines, one that stops at a fold closed along it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array
from patterns.exchange.drawn import DrawnPath, Role
from patterns.exchange.rings import joined

ON_FOLD_IN: Final = 0.02  # from a fold line, of an outline's ends that close along it: half a millimetre
SEAM_PART: Final = 0.5  # of an outline that another within it fills, if that is its seam line
WIDEST_IN: Final = 3.0  # of an allowance: no hem is wider that is drawn on its piece
_ALONG: Final = np.linspace(0.0, 1.0, 9)  # of the way between two ends


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outlines:
    """Closed outlines, each with the role of its lines; (2, 2) fold lines; and the lines that close to no outline."""

    rings: tuple[DrawnPath, ...]
    folds: tuple[Array, ...]
    open: tuple[DrawnPath, ...]

    def largest_first(self, role: Role) -> list[Array]:
        """The outlines (n, 2) of one role."""
        found = (ring.points for ring in self.rings if ring.role is role)
        return sorted(found, key=lambda points: -area_in2(points))


def area_in2(points: Array) -> float:
    """Square inches within a closed outline (n, 2)."""
    return float(shapely.Polygon(points).buffer(0).area)


def could_be_seam(inner: Array, outer: Array) -> bool:
    """Whether one outline within another could be its seam line: it fills most of it, an allowance away."""
    away = shapely.distance(shapely.LinearRing(outer), shapely.points(inner))
    return area_in2(inner) >= SEAM_PART * area_in2(outer) and float(np.max(away)) <= WIDEST_IN


def outlines(paths: Sequence[DrawnPath]) -> Outlines:
    """Those of some lines, role by role.

    One that ends at a fold line is closed along it. So is one that ends at a straight side of another that it fills:
    that is a seam line, and the side a fold.
    """
    folds = [path.points[[0, -1]] for path in paths if path.role is Role.FOLD and not path.closed]
    rings: list[DrawnPath] = []
    left: list[DrawnPath] = []
    for role in (Role.CUT, Role.SEAM, Role.UNSAID):
        found = joined(path for path in paths if path.role is role)
        rings += found.rings
        for path in found.open:
            if len(path.points) > 2 and any(_ends_on(path.points, fold) for fold in folds):
                rings.append(replace(path, closed=True))
            else:
                left.append(path)
    seams = list(_inner_seams(rings, left))
    closed = [replace(path, closed=True, role=Role.SEAM) for path in seams]
    return Outlines(
        rings=(*rings, *closed),
        folds=(*folds, *(path.points[[0, -1]] for path in seams)),
        open=tuple(path for path in left if not any(path is seam for seam in seams)),
    )


def _ends_on(points: Array, line: Array) -> bool:
    ends = shapely.points(points[[0, -1]])
    return bool(shapely.dwithin(shapely.LineString(line), ends, ON_FOLD_IN).all())


def _inner_seams(rings: Sequence[DrawnPath], left: Sequence[DrawnPath]) -> Iterator[DrawnPath]:
    """Open lines of no role that, closed along a straight side of an outline, fill most of it."""
    plain = [shapely.Polygon(ring.points).buffer(0) for ring in rings if ring.role in (Role.UNSAID, Role.CUT)]
    for path in left:
        if path.role is not Role.UNSAID or len(path.points) < 3:
            continue
        start, end = path.points[0], path.points[-1]
        chord = shapely.points(start + _ALONG[:, None] * (end - start))
        filled = area_in2(path.points)
        for area in plain:
            fits = SEAM_PART * area.area <= filled <= area.area
            if fits and shapely.dwithin(area.boundary, chord, ON_FOLD_IN).all():
                yield path
                break
