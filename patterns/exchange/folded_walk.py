"""The way round a drawn piece: closed, or from one end of its fold to the other, once it is known where that lies."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from patterns.curves import Array
from patterns.errors import PatternError
from patterns.exchange.drawn import SAME_IN, without_repeats
from patterns.exchange.drawn_outlines import ON_FOLD_IN
from patterns.exchange.turns import kinks
from patterns.saying import LengthError
from patterns.shape import signed_area

SIDES: Final = ("left", "right", "top", "bottom")
SHORTEST_IN: Final = 1.0  # of a fold
STRAIGHT_IN: Final = 0.01  # that a straight side strays at most
MITRES: Final = (
    50.0  # times the allowance that an offset's corner may reach: every corner of a garment keeps its point
)
_FAR_IN: Final = 10_000.0
_GRID_IN: Final = 1e-7


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Walk:
    """`points` (n, 2) round a piece, in drawing inches; where `folded`, from one end of the fold to the other.

    The fold is the straight line from the last point to the first. The last point of a closed walk is not its first.
    """

    points: Array
    folded: bool = False

    def clockwise(self) -> "Walk":
        """The same, walked clockwise as it is drawn."""
        return self if signed_area(self.points) > 0 else Walk(points=self.points[::-1], folded=self.folded)


def along_line(ring: Array, lines: Sequence[Array]) -> Walk | None:
    """The closed (n, 2) ring as a walk with that fold, of lines (2, 2), along which it runs; None if along none."""
    for line in lines:
        onward = line[1] - line[0]
        onward = onward / max(float(np.hypot(*onward)), SAME_IN)
        off = np.abs((ring - line[0]) @ (-onward[1], onward[0]))
        near = np.flatnonzero(off <= ON_FOLD_IN)
        if len(near) < 2:
            continue
        along = (ring[near] - line[0]) @ onward
        first, last = (int(near[i]) for i in (np.argmin(along), np.argmax(along)))
        for start, end in ((first, last), (last, first)):
            fold = _from_to(ring, start, end)
            if (
                len(fold) > 1
                and float(np.abs((fold - line[0]) @ (-onward[1], onward[0])).max()) <= ON_FOLD_IN
            ):
                return Walk(points=_from_to(ring, end, start), folded=True)
    return None


def at_side(ring: Array, side: str) -> Walk:
    """The closed (n, 2) ring as a walk whose fold is its straight side at the left, right, top or bottom.

    Raises PatternError where there is none.
    """
    axis = 0 if side in ("left", "right") else 1
    sign = 1.0 if side in ("right", "bottom") else -1.0
    found = [
        (float(sign * ring[[start, end], axis].mean()), start, end)
        for start, end in _straight_sides(ring)
        if abs(float(ring[end, axis] - ring[start, axis]))
        < abs(float(ring[end, 1 - axis] - ring[start, 1 - axis]))
    ]
    outermost = float((sign * ring[:, axis]).max())
    best = max(found, default=None)
    if best is None or best[0] < outermost - float(np.ptp(ring[:, axis])) / 2:
        raise PatternError(
            f"no straight side lies at its {side}, as a fold would; name another side with --fold"
        )
    return Walk(points=_from_to(ring, best[2], best[1]), folded=True)


def _straight_sides(ring: Array) -> Iterator[tuple[int, int]]:
    """Numbers of the points at both ends of each straight side with all of the outline on one side of it.

    They need not be corners: a deep V leaves its fold at less than one.
    """
    _, sharp = kinks(ring)
    ends = [int(i) for i in np.flatnonzero(sharp)]
    for start, end in zip(ends, [*ends[1:], *ends[:1]], strict=True):
        chord = ring[end] - ring[start]
        length = float(np.hypot(*chord))
        if length < SHORTEST_IN:
            continue
        across = np.array([-chord[1], chord[0]]) / length
        within = np.abs((_from_to(ring, start, end) - ring[start]) @ across)
        off = (ring - ring[start]) @ across
        if float(within.max()) <= STRAIGHT_IN and min(float(off.max()), float(-off.min())) <= STRAIGHT_IN:
            yield start, end


def inset(walk: Walk, allowance_in: float) -> Walk:
    """The walk so far within itself, but for its fold; LengthError where nothing is left or it falls apart."""
    area: BaseGeometry = shapely.Polygon(walk.points).buffer(0)
    if walk.folded:
        area = shapely.union(area, _mirrored(area, walk.points), grid_size=_GRID_IN)
    inner: BaseGeometry = area.buffer(-allowance_in, join_style="mitre", mitre_limit=MITRES)
    if walk.folded:
        inner = inner.intersection(_side(walk.points))
    if inner.is_empty or inner.geom_type != "Polygon":
        raise LengthError(
            lambda say: f"an allowance of {say(allowance_in)} leaves nothing of it whole; say less"
        )
    ring = without_repeats(shapely.get_coordinates(shapely.get_exterior_ring(inner)), closed=True)
    if signed_area(ring) * signed_area(walk.points) < 0:
        ring = ring[::-1]
    if not walk.folded:
        return Walk(points=ring)
    inside = along_line(ring, [walk.points[[0, -1]]])
    if inside is None:
        raise LengthError(
            lambda say: f"an allowance of {say(allowance_in)} leaves nothing at its fold; say less"
        )
    return inside


def _mirrored(area: BaseGeometry, points: Array) -> BaseGeometry:
    """The area mirrored about the fold of a walk's points."""
    origin, onward = _fold(points)
    flip = 2 * np.outer(onward, onward) - np.eye(2)
    return shapely.transform(area, lambda places: (places - origin) @ flip + origin)


def _side(points: Array) -> shapely.Polygon:
    """All the plane on that side of the fold on which the walk lies."""
    origin, onward = _fold(points)
    across = np.array([-onward[1], onward[0]])
    across = across if float(((points - origin) @ across).sum()) > 0 else -across
    low, high = origin - onward * _FAR_IN, origin + onward * _FAR_IN
    return shapely.Polygon([low, high, high + across * _FAR_IN, low + across * _FAR_IN])


def _fold(points: Array) -> tuple[Array, Array]:
    """A point on the fold of a walk, and its unit direction."""
    chord = points[0] - points[-1]
    return points[-1], chord / np.hypot(*chord)


def _from_to(ring: Array, start: int, end: int) -> Array:
    """The points of a closed ring from one on to another, both with it; all of it where they are one."""
    count = (end - start) % len(ring) or len(ring)
    part: Array = ring[np.arange(start, start + count + 1) % len(ring)]
    return part
