"""Points along an edge that is given exactly to the path of few points that runs through them as it was drawn."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array, Curve
from patterns.exchange.cubic_fitting import cubics_along, joints, strays_in
from patterns.exchange.drawn import SaidEdge
from patterns.exchange.turns import Flags
from patterns.measures import Unit
from patterns.parts import Bend, Edge
from patterns.tracing.curve_fitting import fitted
from patterns.tracing.traced_edges import path_of

CLOSE_IN: Final = 0.001  # from a drawn line to its fit: with flattening and rounding within two thousandths
STRAIGHT_IN: Final = 0.0005  # that a straight line strays
_AIM_IN: Final = 0.0006  # of a spline: a stray near an end counts for less in its fit
_SPACING_IN: Final = 0.05  # of the points that a spline is fitted to
_FEWEST: Final = 16
FLAT_ENDS: Final = (
    1 / 200
)  # of an inch: curvature at an end that is as good as none; a natural spline has none
_TURN_RAD: Final = float(
    np.radians(0.3)
)  # that a spline may leave its ends beside the cubics, which go as drawn


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Run:
    """A smooth part of an edge: `points` (k, 2) of its path, and how far the drawing strays from it."""

    points: Array
    bend: Bend
    stray_in: float

    @property
    def curve(self) -> Curve:
        """The path as a curve."""
        made = {Bend.STRAIGHT: Curve.straight, Bend.SMOOTH: Curve.smooth, Bend.BEZIER: Curve.bezier}
        return made[self.bend](self.points)


def edge_along(points: Array, sharp: Flags, said: SaidEdge, unit: Unit) -> tuple[Edge, float]:
    """The edge along (n, 2) points, with kinks where they are `sharp` (n,); and how far it strays from them at most."""
    breaks = [0, *(i for i in range(1, len(points) - 1) if sharp[i]), len(points) - 1]
    runs = [_run(points[start : end + 1]) for start, end in pairwise(breaks)]
    bend, path = _joined(runs)
    edge = Edge(name=said.name, kind=said.kind, path=path_of(path, unit), bend=bend, allowance=said.allowance)
    return edge, max(run.stray_in for run in runs)


def _joined(runs: Sequence[_Run]) -> tuple[Bend, Array]:
    """One path of all the runs."""
    if len(runs) == 1:
        return runs[0].bend, runs[0].points
    if all(run.bend is Bend.STRAIGHT for run in runs):
        return Bend.STRAIGHT, np.concatenate([runs[0].points, *(run.points[1:] for run in runs[1:])])
    chain = Curve.chain(*(run.curve for run in runs)).beziers
    return Bend.BEZIER, np.concatenate([chain[:, :3].reshape(-1, 2), chain[-1:, 3]])


def _run(points: Array) -> _Run:
    """A straight line where that is enough, else cubics; or a spline where it has fewer points and goes as they do."""
    chord = points[[0, -1]]
    off_in = float(shapely.distance(shapely.LineString(chord), shapely.points(points)).max())
    if off_in <= STRAIGHT_IN:
        return _Run(points=chord, bend=Bend.STRAIGHT, stray_in=off_in)
    cubics, stray_in = cubics_along(points, CLOSE_IN)
    drawn = _Run(points=cubics, bend=Bend.BEZIER, stray_in=stray_in)
    spline = _spline(points) if len(cubics) > 4 and _could_be_spline(points, drawn.curve) else drawn
    fewer = len(spline.points) < len(cubics) and spline.stray_in <= max(CLOSE_IN, stray_in)
    return spline if fewer and _as_directed(spline.curve, drawn.curve) else drawn


def _could_be_spline(points: Array, drawn: Curve) -> bool:
    """Whether it has no straight part and, as a natural spline, next to no curvature at its ends."""
    ends = drawn.curvatures(np.array([0, len(drawn.beziers) - 1]), np.array([0.0, 1.0]))
    return len(joints(points)) == 2 and float(np.abs(ends).max()) <= FLAT_ENDS


def _spline(points: Array) -> _Run:
    line = shapely.LineString(points)
    count = max(int(line.length / _SPACING_IN), _FEWEST)
    along = shapely.get_coordinates(shapely.line_interpolate_point(line, np.linspace(0, line.length, count)))
    fit = fitted(along[1:-1], points[0], points[-1], aim_in=_AIM_IN)
    return _Run(points=fit.points, bend=fit.bend, stray_in=strays_in(fit.curve, points))


def _as_directed(one: Curve, other: Curve) -> bool:
    """Whether the two leave their start and arrive at their end in the same directions."""
    cosines = float(one.start_tangent @ other.start_tangent), float(one.end_tangent @ other.end_tangent)
    return min(cosines) >= math.cos(_TURN_RAD)
