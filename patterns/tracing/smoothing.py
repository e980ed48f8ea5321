"""Touching up a traced piece: smooth, straighten or move an edge; pull, add or take away a point."""

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array, Curve
from patterns.errors import PatternError
from patterns.parts import Bend, Edge, Kind
from patterns.piece import Piece, in_inches
from patterns.tracing.curve_fitting import Fitted, fitted
from patterns.tracing.traced_edges import edge_of, path_of

SMOOTHED_IN: Final = 1 / 16  # that an edge may move when it is smoothed: the width of a drawn line
_SAMPLE_IN: Final = 0.05


def smoothed(piece: Piece, edge: str, within_in: float = SMOOTHED_IN) -> Piece:
    """The piece with the edge run through as few points as keep it within `within_in` of where it was.

    Its ends and its corners stay. Raises PatternError if there is no such edge or it would cross another.
    """

    def smooth(curve: Curve) -> list[Fitted]:
        return [_calmed(run, within_in) for run in curve.runs()]

    return _redrawn(piece, edge, smooth)


def straightened(piece: Piece, edge: str) -> Piece:
    """The piece with the edge straight from end to end; PatternError as `smoothed`."""

    def straighten(curve: Curve) -> list[Fitted]:
        return [Fitted(points=np.stack([curve.start, curve.end]), bend=Bend.STRAIGHT, stray_in=0.0)]

    return _redrawn(piece, edge, straighten)


def pulled(piece: Piece, edge: str, place: Array, to: Array) -> Piece:
    """The piece with the edge's point nearest to `place` (2,) moved to `to` (2,), both in piece inches.

    At an edge's end the neighbour comes along; what lies on the fold stays on it. A Bézier point takes its
    handles with it. Raises PatternError if there is no such edge or the outline would cross itself.
    """
    number, count = _number(piece, edge), len(piece.edges)
    places = piece.edges[number].places_in
    step = 3 if piece.edges[number].bend is Bend.BEZIER else 1
    near = min(range(0, len(places), step), key=lambda i: math.dist(places[i], place))
    held = {number: near}
    if near == 0:
        held[(number - 1) % count] = len(piece.edges[number - 1].path) - 1
    elif near == len(places) - 1:
        held[(number + 1) % count] = 0
    move = to - places[near]
    if any(piece.edges[i].kind is Kind.FOLD for i in held):
        move[0] = 0.0
    edges = list(piece.edges)
    for i, at in held.items():
        edges[i] = _with_point_moved(edges[i], at, move)
    return replace(piece, edges=tuple(edges))


def carried(piece: Piece, edge: str, move: Array) -> Piece:
    """The piece with a whole edge moved by `move` (2,) inches, as it is, its neighbours' ends coming along.

    What lies on the fold stays on it. Raises PatternError if there is no such edge, for a fold, or if the outline would
    cross itself.
    """
    number, count = _number(piece, edge), len(piece.edges)
    old = piece.edges[number]
    if old.kind is Kind.FOLD:
        raise PatternError(f"{edge} is a fold, which stays on the centre line; move another edge")
    before, after = (number - 1) % count, (number + 1) % count
    moves = np.tile(move, (len(old.path), 1))
    for end, neighbour in ((0, before), (-1, after)):
        if piece.edges[neighbour].kind is Kind.FOLD:
            moves[end, 0] = 0.0
    edges = list(piece.edges)
    edges[number] = replace(old, path=path_of(in_inches(old.path) + moves, old.path[0].x.unit))
    edges[before] = _with_point_moved(edges[before], len(edges[before].path) - 1, moves[0])
    edges[after] = _with_point_moved(edges[after], 0, moves[-1])
    return replace(piece, edges=tuple(edges))


def point_added(piece: Piece, edge: str, at: Array) -> Piece:
    """The piece with a point more in the edge, which runs through `at` (2,) piece inches where it is nearest.

    Raises PatternError if there is no such edge, if it is drawn with handles, or if it would cross another.
    """
    number = _number(piece, edge)
    old = piece.edges[number]
    _check_handles(old)
    points = in_inches(old.path)
    spans = [Curve(span[None]) for span in old.curve.beziers]
    spot = shapely.Point(at)
    after = 1 + int(np.argmin([shapely.LineString(span.points).distance(spot) for span in spans]))
    return _with_points(piece, number, np.insert(points, after, at, axis=0))


def point_removed(piece: Piece, edge: str, place: Array) -> Piece:
    """The piece without the edge's point nearest to `place` (2,) piece inches, its ends left out.

    Raises PatternError as `point_added`, and if there is no such point.
    """
    number = _number(piece, edge)
    old = piece.edges[number]
    _check_handles(old)
    points = in_inches(old.path)
    if len(points) == 2:
        raise PatternError(f"{edge} has no points but its ends")
    near = 1 + int(np.argmin(np.hypot(*(points[1:-1] - place).T)))
    return _with_points(piece, number, np.delete(points, near, axis=0))


def _check_handles(edge: Edge) -> None:
    if edge.bend is Bend.BEZIER:
        raise PatternError(
            f"{edge.name} is drawn with handles: its points can be pulled, or the edge smoothed"
        )


def _with_points(piece: Piece, number: int, points: Array) -> Piece:
    """The piece with an edge through other points (n, 2), its ends kept; a straight line that gets one bends."""
    old = piece.edges[number]
    inner = path_of(points[1:-1], old.path[0].x.unit)
    bend = Bend.STRAIGHT if not inner else Bend.SMOOTH if len(old.path) == 2 else old.bend
    edge = replace(old, path=(old.path[0], *inner, old.path[-1]), bend=bend)
    return replace(piece, edges=(*piece.edges[:number], edge, *piece.edges[number + 1 :]))


def _with_point_moved(edge: Edge, at: int, move: Array) -> Edge:
    reach = 1 if edge.bend is Bend.BEZIER else 0
    first, last = max(at - reach, 0), at + reach + 1
    moved = path_of(np.array(edge.places_in[first:last]) + move, edge.path[0].x.unit)
    return replace(edge, path=(*edge.path[:first], *moved, *edge.path[last:]))


def _redrawn(piece: Piece, edge: str, redraw: Callable[[Curve], list[Fitted]]) -> Piece:
    number = _number(piece, edge)
    old = piece.edges[number]
    made = edge_of(old.name, old.kind, redraw(old.curve), old.path[0].x.unit)
    path = (old.path[0], *made.path[1:-1], old.path[-1])
    edges = (*piece.edges[:number], replace(old, path=path, bend=made.bend), *piece.edges[number + 1 :])
    return replace(piece, edges=edges)


def _calmed(run: Curve, within_in: float) -> Fitted:
    points = run.points_at(np.linspace(0, run.length_in, max(int(run.length_in / _SAMPLE_IN), 3)))
    return fitted(points[1:-1], points[0], points[-1], aim_in=within_in)


def _number(piece: Piece, edge: str) -> int:
    names = [candidate.name for candidate in piece.edges]
    if edge not in names:
        raise PatternError(f'{piece.name} has no edge "{edge}"; its edges are {", ".join(names)}')
    return names.index(edge)
