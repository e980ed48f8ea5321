"""An edge moved out or in, parallel to itself: a hem that was folded away, lace or a band left off.

The neighbours run on straight, or are cut short, to where they meet it again.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import shapely
from shapely.ops import substring

from patterns.curves import Array, Curve
from patterns.cutting.offsets import offset
from patterns.errors import PatternError
from patterns.parts import Bend, Edge, Kind
from patterns.piece import Piece, closed_curves, in_inches
from patterns.saying import LengthError
from patterns.shape import signed_area
from patterns.tracing.curve_fitting import Fitted, fitted
from patterns.tracing.traced_edges import edge_of, path_of

WITHIN_IN: Final = 1 / 128  # of a redrawn curve to the true one: little beside the width of a line
REACH: Final = 8.0  # times the move: how far a neighbour may have to run on, at a corner of seven degrees
_SAMPLE_IN: Final = 0.05
_FEWEST: Final = 5
_STRAIGHT_IN: Final = 1e-6
_APART_IN: Final = 1 / 4  # between a point and the edge's new end


@dataclass(frozen=True, kw_only=True, eq=False)
class _Run:
    """`points` (n, 2) inches along a smooth part of an edge, with its unit directions (2,) at start and end."""

    points: Array
    leaves: Array
    arrives: Array


def shifted(piece: Piece, edge: str, out_in: float) -> Piece:
    """The piece with the edge moved outwards by `out_in` inches, inwards where that is negative.

    Raises PatternError if there is no such edge, for a fold, and where the edge would be lost on the way or the
    outline cross itself.
    """
    names = [one.name for one in piece.edges]
    if edge not in names:
        raise PatternError(f'{piece.name} has no edge "{edge}"; its edges are {", ".join(names)}')
    number, count = names.index(edge), len(names)
    if piece.edges[number].kind is Kind.FOLD:
        raise PatternError(f"{edge} is a fold, which stays on the centre line; move another edge")
    before, after = (number - 1) % count, (number + 1) % count
    curves = closed_curves(piece.edges)
    ring = np.concatenate([curve.points[:-1] for curve in curves])
    width = out_in if signed_area(ring) > 0 else -out_in
    runs = {i: [_run(run, run.points) for run in curves[i].runs()] for i in (before, after)}
    moved = [_moved(edge, run, width) for run in curves[number].runs()]
    corners = [*(run.start for run in curves[number].runs()), curves[number].end]
    chain = [runs[before][-1], *moved, runs[after][0]]
    for i, corner in enumerate(corners):
        met = _met(chain[i], chain[i + 1], corner, REACH * abs(out_in))
        if met is None:
            raise _not_meeting(edge, out_in, (names[before], names[after]))
        chain[i], chain[i + 1] = met
    edges = list(piece.edges)
    edges[number] = _drawn(edges[number], chain[1:-1])
    edges[before] = _drawn(edges[before], [*runs[before][:-1], chain[0]])
    if before != after:
        edges[after] = _drawn(edges[after], [chain[-1], *runs[after][1:]])
    else:
        edges[after] = replace(edges[after], path=(edges[number].path[-1], edges[number].path[0]))
    return replace(piece, edges=tuple(edges))


def _not_meeting(edge: str, out_in: float, beside: tuple[str, str]) -> LengthError:
    names = " and ".join(beside)
    return LengthError(
        lambda say: f"{edge} cannot be moved {say(out_in, 32)}: it would no longer meet {names}"
    )


def all_shifted(piece: Piece, moves: Sequence[tuple[str, float]]) -> Piece:
    """The piece with edges moved out one after the other, each by so many inches; PatternError as `shifted`."""
    for edge, out_in in moves:
        piece = shifted(piece, edge, out_in)
    return piece


def _run(curve: Curve, points: Array) -> _Run:
    return _Run(points=points, leaves=curve.start_tangent, arrives=curve.end_tangent)


def _moved(edge: str, curve: Curve, width_in: float) -> _Run:
    points = offset(curve, width_in)
    if not shapely.LineString(points).is_simple:
        raise LengthError(lambda say: f"{edge} bends too tightly to be moved {say(abs(width_in), 32)}")
    return _run(curve, points)


def _met(one: _Run, other: _Run, corner: Array, reach_in: float) -> tuple[_Run, _Run] | None:
    """Both, run on or cut short to where they meet nearest to the old corner; None where they do not."""
    onward = shapely.LineString([*one.points, one.points[-1] + reach_in * one.arrives])
    back = shapely.LineString([other.points[0] - reach_in * other.leaves, *other.points])
    crossings = shapely.get_coordinates(onward.intersection(back))
    if not len(crossings):
        return None
    meeting = shapely.Point(crossings[np.argmin(np.hypot(*(crossings - corner).T))])
    cut = shapely.get_coordinates(substring(onward, 0, onward.project(meeting)))
    rest = shapely.get_coordinates(substring(back, back.project(meeting), back.length))
    if len(cut) < 2 or len(rest) < 2:
        return None
    return replace(one, points=cut), replace(other, points=rest)


def _drawn(edge: Edge, runs: Sequence[_Run]) -> Edge:
    """The edge through these runs: through its own points where that is as good, and what is straight stays so."""
    unit = edge.path[0].x.unit
    if edge.kind is Kind.FOLD:
        return replace(edge, path=path_of(np.array([runs[0].points[0], runs[-1].points[-1]]) * (0, 1), unit))
    own = in_inches(edge.path) if edge.bend is Bend.SMOOTH else np.zeros((0, 2))
    made = edge_of(edge.name, edge.kind, [_fit(run.points, own) for run in runs], unit)
    return replace(edge, path=made.path, bend=made.bend)


def _fit(points: Array, own: Array) -> Fitted:
    """A path along `points` (n, 2): straight, or through the `own` (k, 2) that lie on it, or through few others."""
    line, ends = shapely.LineString(points), points[[0, -1]]
    if shapely.LineString(ends).hausdorff_distance(line) < _STRAIGHT_IN:
        return Fitted(points=ends, bend=Bend.STRAIGHT, stray_in=0.0)
    along = np.linspace(0, line.length, max(int(line.length / _SAMPLE_IN), _FEWEST))[1:-1]
    samples = shapely.line_interpolate_point(line, along)
    on_it = own[shapely.distance(line, shapely.points(own)) < WITHIN_IN]
    inner = on_it[np.hypot(*(on_it[:, None] - ends).T).min(axis=0) > _APART_IN]
    kept = np.concatenate([ends[:1], inner, ends[1:]])
    stray = float(shapely.distance(shapely.LineString(Curve.smooth(kept).points), samples).max())
    if stray < WITHIN_IN:
        return Fitted(points=kept, bend=Bend.SMOOTH, stray_in=stray)
    return fitted(shapely.get_coordinates(samples), *ends, aim_in=WITHIN_IN)
