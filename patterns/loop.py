"""A closed outline of curves, and what is found out about it once for every piece and step that has it."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Final, cast

import numpy as np
import shapely

from patterns.curves import Array, Curve

_ON_EDGE_IN: Final = 1e-6  # a crossing this close to an edge is that edge's
_REMEMBERED: Final = 512  # more than any pattern at hand has


@dataclass(frozen=True, eq=False)
class Loop:
    """Curves in their order, each on from the last, that close on the first."""

    curves: tuple[Curve, ...]

    @cached_property
    def ring(self) -> Array:
        """(n, 2) inches of the curves flattened; the last point does not repeat the first."""
        ring = np.concatenate([curve.points[:-1] for curve in self.curves])
        ring.setflags(write=False)
        return ring

    @cached_property
    def room(self) -> shapely.Polygon:
        """What the ring encloses; nothing where it has too few points."""
        if len(self.ring) < 3:
            return shapely.Polygon()
        return cast(shapely.Polygon, shapely.polygons(self.ring))

    @cached_property
    def crosses_itself(self) -> bool:
        """Whether it crosses or touches itself anywhere."""
        return not self.room.is_valid

    def crossed(self) -> tuple[Array, list[int]]:
        """A place (2,) where it crosses itself, and the numbers of the curves that pass through it."""
        place = crossing_of(self.ring)
        return place, edges_at(place, self.curves)


@lru_cache(maxsize=_REMEMBERED)
def loop_of(curves: tuple[Curve, ...]) -> Loop:
    """The very same for the same curves: a piece keeps its outline through most of its changes."""
    return Loop(curves)


def crossing_of(ring: Array) -> Array:
    """(2,) inches, a place where the closed (n, 2) ring crosses or touches itself."""
    reason = shapely.is_valid_reason(shapely.Polygon(ring))
    numbers = reason[reason.index("[") + 1 : reason.index("]")].split()
    return np.array([float(number) for number in numbers[:2]])


def edges_at(place: Array, curves: Sequence[Curve]) -> list[int]:
    """Which of the curves pass through `place` (2,)."""
    spot = shapely.Point(place)
    return [
        i for i, curve in enumerate(curves) if shapely.LineString(curve.points).distance(spot) < _ON_EDGE_IN
    ]
