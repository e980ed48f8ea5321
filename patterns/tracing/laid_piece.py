"""A traced piece where its garment lies on the table: any point can be pulled, any edge smoothed or moved."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import chain, islice

import numpy as np
import shapely

from patterns.curves import Array, Curve
from patterns.cutting.placement import Placement
from patterns.errors import PatternError
from patterns.parts import Bend, Kind
from patterns.piece import Piece, in_inches
from patterns.tracing.edge_shift import shifted
from patterns.tracing.hand_trace import Place, Way
from patterns.tracing.smoothing import carried, point_added, point_removed, pulled, smoothed, straightened


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidPoint:
    """A point of an edge's path, in table inches; the end of an edge is a corner, at the fold or not."""

    edge: int
    at_in: Place
    way: Way
    at_fold: bool


@dataclass(frozen=True, kw_only=True)
class LaidPiece:
    """`placement` lays the piece on the table. What cannot be done is a PatternError."""

    piece: Piece
    placement: Placement

    @property
    def curves(self) -> tuple[Curve, ...]:
        """The edges' curves in piece inches, the fold's with them."""
        return self.piece.curves

    @cached_property
    def paths_in(self) -> tuple[Array, ...]:
        """(n, 2) table inches along each edge."""
        return tuple(self.placement.placed(curve.points) for curve in self.curves)

    @cached_property
    def points(self) -> tuple[LaidPoint, ...]:
        """All that can be pulled, each once, an edge's start with it."""
        edges = self.piece.edges
        paths = [edge.path[: -1 : 3 if edge.bend is Bend.BEZIER else 1] for edge in edges]
        places = iter(self.placement.placed(in_inches(tuple(chain(*paths)))).tolist())
        found = []
        for number, (edge, path) in enumerate(zip(edges, paths, strict=True)):
            at_fold = Kind.FOLD in (edge.kind, edges[number - 1].kind)
            for i, (x, y) in enumerate(islice(places, len(path))):
                way = Way.CURVE if i else Way.CORNER
                found.append(LaidPoint(edge=number, at_in=(x, y), way=way, at_fold=at_fold and not i))
        return tuple(found)

    @cached_property
    def places_in(self) -> Array:
        """(n, 2) table inches of `points`."""
        return np.array([point.at_in for point in self.points])

    def nearest(self, at_in: Place) -> int:
        """The number of the point nearest to a place on the table."""
        return int(np.argmin(np.hypot(*(self.places_in - at_in).T)))

    def nearest_edge(self, at_in: Place) -> int:
        """The number of the edge nearest to a place on the table, the fold left out."""
        spot = shapely.Point(at_in)
        away = [
            np.inf if edge.kind is Kind.FOLD else shapely.LineString(path).distance(spot)
            for edge, path in zip(self.piece.edges, self.paths_in, strict=True)
        ]
        return int(np.argmin(away))

    def said(self, number: int) -> str:
        """What an edge is called."""
        return self.piece.edges[number].name

    def length_in(self, number: int) -> float:
        """How long an edge is, in inches."""
        return self.curves[number].length_in

    def at_point(self, number: int) -> tuple[str, tuple[int, ...]]:
        """What a point is called, and the numbers of the edges that change with it."""
        point = self.points[number]
        both = ((point.edge - 1) % len(self.curves), point.edge)
        return point.way.value, both if point.way is Way.CORNER else both[1:]

    def moved(self, number: int, to_in: Place) -> "LaidPiece":
        """With one point pulled to a place on the table; what lies on the fold stays on it."""
        point = self.points[number]
        name = self.piece.edges[point.edge].name
        return replace(self, piece=pulled(self.piece, name, self._lifted(point.at_in), self._lifted(to_in)))

    def nearest_on(self, edge: int, at_in: Place) -> Place:
        """The place on an edge, in table inches, that is nearest to a place on the table."""
        path = shapely.LineString(self.paths_in[edge])
        x, y = shapely.get_coordinates(path.interpolate(path.project(shapely.Point(at_in))))[0].tolist()
        return x, y

    def carried(self, edge: int, from_in: Place, to_in: Place) -> "LaidPiece":
        """With a whole edge moved across itself, as far as one place on it lies from another on the table."""
        start, end = self._lifted(from_in), self._lifted(to_in)
        curve = self.curves[edge]
        along = curve.tangent_at(float(shapely.LineString(curve.points).project(shapely.Point(start))))
        across = np.array([-along[1], along[0]])
        move = across * ((end - start) @ across)
        return replace(self, piece=carried(self.piece, self.piece.edges[edge].name, move))

    def inserted(self, at_in: Place) -> "LaidPiece":
        """With a point more in the edge nearest to a place on the table, and the edge drawn through it."""
        name = self.piece.edges[self.nearest_edge(at_in)].name
        return replace(self, piece=point_added(self.piece, name, self._lifted(at_in)))

    def without(self, number: int) -> "LaidPiece":
        """With a point fewer; the end of an edge stays."""
        point = self.points[number]
        if point.way is Way.CORNER:
            raise PatternError("an edge ends there: it can be pulled, and nothing else")
        name = self.piece.edges[point.edge].name
        return replace(self, piece=point_removed(self.piece, name, self._lifted(point.at_in)))

    def smoothed(self, edge: int) -> "LaidPiece":
        """With an edge run through few points, near where it was."""
        return self._redrawn(smoothed, edge)

    def straightened(self, edge: int) -> "LaidPiece":
        """With an edge straight from end to end."""
        return self._redrawn(straightened, edge)

    def shifted(self, edge: int, out_in: float) -> "LaidPiece":
        """With an edge moved out by a length, or in where that is negative."""
        return replace(self, piece=shifted(self.piece, self.piece.edges[edge].name, out_in))

    def renamed(self, edge: int, name: str) -> "LaidPiece":
        """With another name for an edge; what refers to it in the piece follows."""
        old = self.piece.edges[edge]
        edges = (*self.piece.edges[:edge], replace(old, name=name), *self.piece.edges[edge + 1 :])
        notches = tuple(
            replace(one, edge=name) if one.edge == old.name else one for one in self.piece.notches
        )
        return replace(self, piece=replace(self.piece, edges=edges, notches=notches))

    def _redrawn(self, redraw: Callable[[Piece, str], Piece], edge: int) -> "LaidPiece":
        return replace(self, piece=redraw(self.piece, self.piece.edges[edge].name))

    def _lifted(self, at_in: Place) -> Array:
        """(2,) piece inches."""
        lifted: Array = self.placement.lifted(np.array([at_in]))[0]
        return lifted
