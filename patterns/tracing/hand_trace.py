"""A garment's outline walked round by hand, point by point on the table, until it closes into a half piece.

The fold is set first, its top and then its bottom; the points follow from the fold's top round to its bottom.
An edge ends at each corner and runs smoothly through the curve points between two.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import cached_property
from itertools import pairwise
from typing import Final, TypeVar

import numpy as np
import shapely

from patterns.curves import Array, Curve
from patterns.cutting.placement import Placement
from patterns.errors import PatternError
from patterns.loop import crossing_of, edges_at
from patterns.measures import Unit
from patterns.parts import Bend, CutCount, Edge, Kind, check_name
from patterns.piece import MEETS_IN, Piece
from patterns.saying import LengthError
from patterns.tracing.edge_names import NAMES, fold_name
from patterns.tracing.traced_edges import DIGITS, MOST_POINTS, kind_of, path_of

TOGETHER_IN: Final = 1 / 32  # two points nearer than that are one: a second touch of the key
FOLD_ENDS: Final = 2
SMALLEST_IN2: Final = 1.0  # no piece of clothing is less

Place = tuple[float, float]
T = TypeVar("T")


class Way(Enum):
    """How the outline passes a point: turning there, or running on smoothly."""

    CORNER = "corner"
    CURVE = "curve point"


@dataclass(frozen=True, slots=True, kw_only=True)
class TracedPoint:
    """A point that was set, in table inches."""

    at_in: Place
    way: Way


@dataclass(frozen=True, kw_only=True)
class HandTrace:
    """`fold` has its top and bottom, once set; `names` are the edges' once the outline is closed, "" if not known.

    Places are numbered: the fold's top 0, its bottom 1, then the points. Raises PatternError where two
    neighbours lie together, or for more points than a piece may have.
    """

    fold: tuple[Place, ...] = ()
    points: tuple[TracedPoint, ...] = ()
    names: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for one, other in pairwise(self._stops):
            if math.dist(one, other) < TOGETHER_IN:
                raise PatternError("two points lie together; move the cross on")
        if len(self.fold) == FOLD_ENDS and math.dist(*self.fold) < TOGETHER_IN:
            raise PatternError("the fold's ends lie together; move the cross on to its bottom")
        if len(self.points) + FOLD_ENDS > MOST_POINTS:
            raise PatternError(f"{MOST_POINTS} points are the most; set fewer where the edge is straight")

    @property
    def closed(self) -> bool:
        """Whether the last edge runs to the fold's bottom."""
        return bool(self.names)

    @property
    def has_fold(self) -> bool:
        """Whether both its ends are set."""
        return len(self.fold) == FOLD_ENDS

    @property
    def places_in(self) -> Array:
        """(n, 2) table inches of all that was set, by number."""
        return np.array([*self.fold, *(point.at_in for point in self.points)], dtype=np.float64).reshape(
            -1, 2
        )

    @cached_property
    def edges(self) -> tuple[Curve, ...]:
        """The edges so far as curves in table inches, from the fold's top on; the last may not have ended yet."""
        return tuple(Curve.smooth(np.array(run)) for run in self._runs() if len(run) > 1)

    def nearest(self, at_in: Place) -> int:
        """The number of the place nearest to a point of the table; PatternError while there is none."""
        if not self.fold:
            raise PatternError("nothing is set yet")
        return int(np.argmin(np.hypot(*(self.places_in - at_in).T)))

    def nearest_edge(self, at_in: Place) -> int:
        """The number of the edge nearest to a point of the table; PatternError while there is none."""
        if not self.edges:
            raise PatternError("there is no edge yet")
        spot = shapely.Point(at_in)
        return int(np.argmin([shapely.LineString(edge.points).distance(spot) for edge in self.edges]))

    def with_point(self, at_in: Place, way: Way) -> "HandTrace":
        """One more: the fold's ends first, then points one after the other."""
        if not self.has_fold:
            return replace(self, fold=(*self.fold, at_in))
        if self.closed:
            raise PatternError("the outline is closed: insert a point in one of its edges")
        return replace(self, points=(*self.points, TracedPoint(at_in=at_in, way=way)))

    def inserted(self, at_in: Place, way: Way) -> "HandTrace":
        """One more, between the two neighbours to whose part of the outline it is nearest."""
        spans = [span for edge in self.edges for span in edge.beziers]
        if not spans:
            raise PatternError("there is no edge yet to insert a point in")
        spot = shapely.Point(at_in)
        away = [shapely.LineString(Curve(span[None]).points).distance(spot) for span in spans]
        after = int(np.argmin(away))
        made = TracedPoint(at_in=at_in, way=way)
        return self._recounted(replace(self, points=(*self.points[:after], made, *self.points[after:])))

    def moved(self, number: int, to_in: Place) -> "HandTrace":
        """With one place elsewhere."""
        if number < FOLD_ENDS:
            return replace(self, fold=tuple(to_in if i == number else at for i, at in enumerate(self.fold)))
        return self._with(number, replace(self._point(number), at_in=to_in))

    def turned(self, number: int) -> "HandTrace":
        """With a corner made a curve point, or a curve point a corner."""
        point = self._point(number)
        return self._recounted(
            self._with(number, replace(point, way=Way.CURVE if point.way is Way.CORNER else Way.CORNER))
        )

    def without(self, number: int) -> "HandTrace":
        """With one point fewer."""
        self._point(number)
        at = number - FOLD_ENDS
        return self._recounted(replace(self, points=self.points[:at] + self.points[at + 1 :]))

    def closed_up(self, names: Sequence[str] = ()) -> "HandTrace":
        """Closed on the fold's bottom, with these names, or the usual ones where there are as many edges as those.

        Raises PatternError where the fold or an outline is missing, where edges cross, or for other than one name
        an edge; the fold's own, "centre ...", may follow them.
        """
        if not self.has_fold or not self.points:
            raise PatternError("set the fold's two ends, then the outline round from its top")
        given = tuple(names[:-1] if names and names[-1].startswith("centre") else names)
        count = 1 + sum(point.way is Way.CORNER for point in self.points)
        if given and len(given) != count:
            raise PatternError(f"{count} edges, but {len(given)} names were given: {', '.join(given)}")
        whole = replace(self, names=given or _usual(count))
        whole.check()
        return whole

    def named(self, number: int, name: str) -> "HandTrace":
        """With a name for an edge, counted from the fold's top; PatternError for one that cannot be."""
        check_name(name)
        if name in self.names[:number] + self.names[number + 1 :]:
            raise PatternError(f"there is a {name} already")
        return replace(self, names=(*self.names[:number], name, *self.names[number + 1 :]))

    def said(self, number: int) -> str:
        """What an edge is called for now."""
        return (self.names[number] if number < len(self.names) else "") or f"edge {number + 1}"

    def length_in(self, number: int) -> float:
        """How long an edge is so far, in inches."""
        return self.edges[number].length_in

    def at_point(self, number: int) -> tuple[str, tuple[int, ...]]:
        """What a place is called, and the numbers of the edges that change with it."""
        if number < FOLD_ENDS:
            return ("the fold's top", (0,)) if number == 0 else ("the fold's bottom", (len(self.edges) - 1,))
        way = self._point(number).way
        first = sum(point.way is Way.CORNER for point in self.points[: number - FOLD_ENDS])
        both = (first, first + 1) if way is Way.CORNER else (first,)
        return way.value, tuple(edge for edge in both if edge < len(self.edges))

    def check(self) -> None:
        """PatternError, naming them, where edges of a closed outline cross, or reach over the fold."""
        stops = np.round(self._lifted, DIGITS)
        edges = [Curve.smooth(np.array(part)) for part in self._split(list(stops))]
        curves = (*edges, Curve.straight(stops[[-1, 0]]))
        names = [*(self.said(i) for i in range(len(edges))), "the fold"]
        ring = np.concatenate([curve.points[:-1] for curve in curves])
        if shapely.MultiPoint(ring).convex_hull.area < SMALLEST_IN2:
            raise PatternError("the outline encloses nothing: set points round the garment")
        for name, edge in zip(names, edges, strict=False):
            over = -float(edge.points[:, 0].min())
            if over > MEETS_IN:
                raise _over_the_fold(name, over)
        if not shapely.is_valid(shapely.Polygon(ring)):
            touched = [names[i] for i in edges_at(crossing_of(ring), curves)]
            crossing = f"{' and '.join(touched)} cross" if len(touched) > 1 else "the outline crosses itself"
            raise PatternError(f"{crossing}: pull a point, or undo")

    @property
    def placement(self) -> Placement:
        """From piece inches, y = 0 at the first edge's end, the high shoulder point, to the table."""
        top, bottom = np.array(self.fold)
        down = (bottom - top) / math.dist(*self.fold)
        turn = math.atan2(float(down[0]), -float(down[1]))
        out = np.array([math.cos(turn), math.sin(turn)])
        shoulder = self.edges[0].end
        x, y = top + down * float((shoulder - top) @ down)
        middle = self.places_in[FOLD_ENDS:].mean(axis=0) - top
        return Placement(
            x_in=float(x), y_in=float(y), turn_deg=math.degrees(turn), mirrored=float(middle @ out) < 0
        )

    def piece(self, name: str, unit: Unit = Unit.IN) -> Piece:
        """The half piece of a closed outline, its fold at x = 0; `placement` lays it where the garment lies.

        Raises PatternError while an edge has no name, and as `check`.
        """
        for number, given in enumerate(self.names):
            if not given:
                raise PatternError(f"edge {number + 1} has no name yet")
        self.check()
        path = path_of(self._lifted, unit)
        edges = [
            Edge(
                name=given,
                kind=kind_of(given),
                path=tuple(part),
                bend=Bend.SMOOTH if len(part) > 2 else Bend.STRAIGHT,
            )
            for given, part in zip(self.names, self._split(path), strict=True)
        ]
        fold = Edge(name=fold_name(name), kind=Kind.FOLD, path=(path[-1], path[0]))
        return Piece(name=name, cut=CutCount(on_fold=True), edges=(*edges, fold))

    @property
    def _stops(self) -> tuple[Place, ...]:
        """What the outline passes, from the fold's top on."""
        walked = (*self.fold[:1], *(point.at_in for point in self.points))
        return (*walked, self.fold[1]) if self.closed else walked

    @property
    def _lifted(self) -> Array:
        """(n, 2) piece inches of what a closed outline passes, the fold's ends at x = 0."""
        lifted = self.placement.lifted(np.array(self._stops))
        lifted[[0, -1], 0] = 0.0
        return lifted

    def _runs(self) -> Iterator[Sequence[Place]]:
        """The stops of each edge."""
        return self._split(self._stops)

    def _split(self, stops: Sequence[T]) -> Iterator[Sequence[T]]:
        corners = [i for i, point in enumerate(self.points, start=1) if point.way is Way.CORNER]
        for one, other in pairwise([0, *corners, len(stops) - 1]):
            yield stops[one : other + 1]

    def _point(self, number: int) -> TracedPoint:
        if number < FOLD_ENDS:
            raise PatternError("that is an end of the fold: it can be moved, and nothing else")
        return self.points[number - FOLD_ENDS]

    def _with(self, number: int, point: TracedPoint) -> "HandTrace":
        at = number - FOLD_ENDS
        return replace(self, points=(*self.points[:at], point, *self.points[at + 1 :]))

    def _recounted(self, changed: "HandTrace") -> "HandTrace":
        """The changed trace; a closed one whose edges are no longer as many is named anew."""
        count = len(tuple(changed._runs()))
        return replace(changed, names=_usual(count)) if self.closed and count != len(self.names) else changed


def _usual(count: int) -> tuple[str, ...]:
    return NAMES if count == len(NAMES) else ("",) * count


def _over_the_fold(name: str, over_in: float) -> LengthError:
    return LengthError(lambda say: f"{name} reaches {say(over_in, 32)} over the fold: pull a point, or undo")
