"""A traced piece where its garment lies on the table: any point can be pulled, any edge smoothed or moved."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import NamedTuple

import numpy as np
import shapely

from patterns.curves import Array, Curve
from patterns.cutting.placement import Placement
from patterns.errors import PatternError
from patterns.parts import Kind
from patterns.piece import Piece
from patterns.tracing.edge_shift import shifted
from patterns.tracing.hand_trace import Place, Way
from patterns.tracing.smoothing import carried, point_added, point_removed, pulled, smoothed, straightened


class LaidPoint(NamedTuple):
    """A point of an edge's path; the end of an edge is a corner, at the fold or not."""

    edge: int
    way: Way
    at_fold: bool = False


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
        fold = Kind.FOLD
        folds = tuple(edge.kind is fold for edge in self.piece.edges)
        return _points(tuple(len(curve.beziers) for curve in self.curves), folds)

    @cached_property
    def places_in(self) -> Array:
        """(n, 2) table inches of `points`."""
        return self.placement.placed(np.concatenate([curve.beziers[:, 0] for curve in self.curves]))

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
        from_in = self.places_in[number]
        return replace(self, piece=pulled(self.piece, name, *self._lifted([from_in, to_in])))

    def nearest_on(self, edge: int, at_in: Place) -> Place:
        """The place on an edge, in table inches, that is nearest to a place on the table."""
        path = shapely.LineString(self.paths_in[edge])
        x, y = shapely.get_coordinates(path.interpolate(path.project(shapely.Point(at_in))))[0].tolist()
        return x, y

    def carried(self, edge: int, from_in: Place, to_in: Place) -> "LaidPiece":
        """With a whole edge moved across itself, as far as one place on it lies from another on the table."""
        start, end = self._lifted([from_in, to_in])
        curve = self.curves[edge]
        along = curve.tangent_at(float(shapely.LineString(curve.points).project(shapely.Point(start))))
        across = np.array([-along[1], along[0]])
        move = across * ((end - start) @ across)
        return replace(self, piece=carried(self.piece, self.piece.edges[edge].name, move))

    def inserted(self, at_in: Place) -> "LaidPiece":
        """With a point more in the edge nearest to a place on the table, and the edge drawn through it."""
        name = self.piece.edges[self.nearest_edge(at_in)].name
        return replace(self, piece=point_added(self.piece, name, *self._lifted([at_in])))

    def without(self, number: int) -> "LaidPiece":
        """With a point fewer; the end of an edge stays."""
        point = self.points[number]
        if point.way is Way.CORNER:
            raise PatternError("an edge ends there: it can be pulled, and nothing else")
        name = self.piece.edges[point.edge].name
        return replace(self, piece=point_removed(self.piece, name, *self._lifted([self.places_in[number]])))

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

    def _lifted(self, places_in: Sequence[Place | Array]) -> Array:
        """(n, 2) piece inches of n places on the table."""
        return self.placement.lifted(np.array(places_in))


@lru_cache(maxsize=64)  # a point that is pulled stays what it is
def _points(counts: tuple[int, ...], folds: tuple[bool, ...]) -> tuple[LaidPoint, ...]:
    """Those of edges with so many pieces each, some of them a fold."""
    found: list[LaidPoint] = []
    for number, count in enumerate(counts):
        at_fold = folds[number] or folds[number - 1]
        found.append(LaidPoint(edge=number, way=Way.CORNER, at_fold=at_fold))
        found += [LaidPoint(edge=number, way=Way.CURVE)] * (count - 1)
    return tuple(found)
