"""A reading of a contour -> edges on the seam line, fitted in piece inches, and where they lie on the table."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely

from patterns.contour import Contour
from patterns.curve_fitting import Fitted, aim_for, fitted
from patterns.curves import Array, Curve
from patterns.edge_names import Reading, Stop
from patterns.errors import PatternError
from patterns.fold_line import PULLED_IN
from patterns.measures import Length, Unit
from patterns.parts import Bend, Edge, Kind, Point
from patterns.piece import closed_curves
from patterns.placement import Placement

DIGITS: Final = 3  # of a traced coordinate; a thousandth of any unit is beyond cloth and light
MOST_POINTS: Final = 59  # of a half piece; more cannot be pulled one by one at the table
LOOSEST_IN: Final = 1 / 8  # of a fit to save points; what strays more is better looked at
_AT_CORNER_IN: Final = 1 / 32  # of contour next to a corner that is left out: its tip is never sharp
_PULLED_IN: Final = 2.5  # past the fold's end: within it what lies beside the fold is no neighbour's
_OVER_FOLD_IN: Final = 1e-6
_PULL_IN: Final = 0.3  # that folding pulls a fold's end into the cloth

Flags = npt.NDArray[np.bool_]


@dataclass(frozen=True, kw_only=True, eq=False)
class TracedEdges:
    """The edges of one reading of a contour."""

    contour: Contour
    reading: Reading

    @cached_property
    def placement(self) -> Placement:
        """From piece inches, y = 0 at the high shoulder point, to the table where the garment lies."""
        fold, ahead = self.reading.fold, self.reading.ahead
        down = -ahead * fold.onward
        turn = math.atan2(float(down[0]), -float(down[1]))
        out = np.array([math.cos(turn), math.sin(turn)])
        x, y = fold.origin + down * self._shoulder.place[1]
        return Placement(
            x_in=float(x), y_in=float(y), turn_deg=math.degrees(turn), mirrored=float(out @ fold.inward) < 0
        )

    def edges(self, names: Sequence[str], unit: Unit) -> tuple[tuple[Edge, ...], float]:
        """The edges so named, the last the fold, and how far they lie from the contour at most.

        Where that would take more than MOST_POINTS points, or a wave would carry an edge over the fold or another
        edge, they follow the contour less closely.
        """
        aim = aim_for(self.contour.waves_in)
        while True:
            fits = [self._fit(one, two, aim) for one, two in pairwise(self.reading.stops)]
            made = []
            for name, (first, last) in zip(names[:-1], pairwise(self.reading.landmarks), strict=True):
                kind = Kind.HEM if "hem" in name.split() else Kind.SEAM
                made.append(edge_of(name, kind, fits[first:last], unit))
            path = (made[-1].path[-1], made[0].path[0])
            edges = (*made, Edge(name=names[-1], kind=Kind.FOLD, path=path))
            few = sum(len(edge.path) - 1 for edge in edges) <= MOST_POINTS
            if (few and _is_sound(edges)) or aim > LOOSEST_IN:
                return edges, max(fit.stray_in for fit in fits)
            aim *= 1.5

    @property
    def _shoulder(self) -> Stop:
        return self.reading.stops[self.reading.landmarks[1]]

    def _fit(self, one: Stop, two: Stop, aim_in: float) -> Fitted:
        """The contour from one stop to the next as a path, in piece inches."""
        clear = max(_AT_CORNER_IN, 2 * self.contour.noise_in)
        first, last = sorted((one.along_in, two.along_in))
        begin, end = (max(clear, self._hidden_past(at, way)) for at, way in ((first, 1.0), (last, -1.0)))
        points, past = self.contour.between(first + begin, max(last - end, first + begin))
        points = self.placement.lifted(points)
        kept = points[~self._pulled(points, np.minimum(past, last - first - past), clear)]
        if not len(kept):
            raise PatternError("two corners lie so close that no edge is left between them; set the corners")
        if self.reading.ahead < 0:
            kept = kept[::-1]
        start, end = (stop.place - (0.0, self._shoulder.place[1]) for stop in (one, two))
        return fitted(kept, start, end, aim_in=aim_in, waves_in=self.contour.waves_in)

    def _hidden_past(self, along_in: float, way: float) -> float:
        """How far past a stop the contour is a guess that knows nothing of it; 0 where it is seen."""
        for start, end in self.contour.hidden:
            past = (along_in - start) % self.contour.length_in
            if past < end - start:
                return end - start - past if way > 0 else past
        return 0.0

    def _pulled(self, points: Array, from_end: Array, clear_in: float) -> Flags:
        """Which of the points (n, 2), `from_end` (n,) inches from an end, are the fold's, in line or pulled.

        Where the fold's end is no corner any more, its neighbour's first inch is pulled as well.
        """
        fold = self.reading.fold
        top, bottom = (self.reading.stops[i].place[1] - self._shoulder.place[1] for i in (0, -1))
        x, y = points.T
        beside_fold = (y > top + clear_in) & (y < bottom - clear_in) & (x < _PULL_IN)
        flags: Flags = (from_end < _PULLED_IN) & ((x <= clear_in) | beside_fold)
        for end, sharp in zip((bottom, top), fold.sharp[:: int(self.reading.ahead)], strict=True):
            if not sharp:
                flags |= np.hypot(x, y - end) < PULLED_IN
        return flags


def _is_sound(edges: tuple[Edge, ...]) -> bool:
    """Whether the closed outline neither crosses itself nor the centre line."""
    ring = np.concatenate([curve.points[:-1] for curve in closed_curves(edges)])
    return float(ring[:, 0].min()) > -_OVER_FOLD_IN and shapely.is_valid(shapely.Polygon(ring))


def edge_of(name: str, kind: Kind, fits: Sequence[Fitted], unit: Unit) -> Edge:
    """The edge through fitted paths one after another; it keeps the kinks where they meet."""
    bend = fits[0].bend
    if all(fit.bend is Bend.STRAIGHT for fit in fits):
        points = np.concatenate([fits[0].points, *(fit.points[1:] for fit in fits[1:])])
    elif len(fits) == 1:
        points = fits[0].points
    else:
        bend = Bend.BEZIER
        chain = Curve.chain(*(fit.curve for fit in fits)).beziers
        points = np.concatenate([chain[:, :3].reshape(-1, 2), chain[-1:, 3]])
    return Edge(name=name, kind=kind, path=path_of(points, unit), bend=bend)


def path_of(points: Array, unit: Unit) -> tuple[Point, ...]:
    """(n, 2) inches as authored points, to DIGITS digits of the unit."""
    in_unit = 1 / float(unit.inches)

    def length(inches: float) -> Length:
        return Length.of(round(inches * in_unit, DIGITS) / in_unit, unit)

    return tuple(Point(x=length(float(x)), y=length(float(y))) for x, y in points)
