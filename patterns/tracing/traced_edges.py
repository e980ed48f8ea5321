"""A reading of a contour -> edges on the seam line, fitted in piece inches, and where they lie on the table."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely

from patterns.curves import FLAT_IN, Array, Curve
from patterns.cutting.placement import Placement
from patterns.errors import PatternError
from patterns.measures import Length, Unit
from patterns.parts import Bend, Edge, Kind, Point
from patterns.piece import closed_curves
from patterns.shape import signed_area
from patterns.tracing.contour import Contour
from patterns.tracing.curve_fitting import Fitted, aim_for, fitted
from patterns.tracing.edge_names import Reading, Stop
from patterns.tracing.fold_line import PULLED_IN

DIGITS: Final = 3  # of a traced coordinate; a thousandth of any unit is beyond cloth and light
MOST_POINTS: Final = 59  # of a half piece; more cannot be pulled one by one at the table
HOLLOW_IN: Final = 0.55  # least radius of a hollow that the usual allowance of 1/2 in fits
LOOSEST_IN: Final = 1 / 8  # of a fit to save points; what strays more is better looked at
_LOOSER: Final = 1.5  # times as loose, the next try
_CALMER: Final = 4  # tries to lose a sharp hollow: five times as loose at most
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
        """The edges so named, the last the fold, and how far they lie from the contour at most."""
        return closely_enough(self.contour.waves_in, lambda aim_in: self._made(names, unit, aim_in))

    def _made(self, names: Sequence[str], unit: Unit, aim_in: float) -> tuple[tuple[Edge, ...], float]:
        fits = [self._fit(one, two, aim_in) for one, two in pairwise(self.reading.stops)]
        made = [
            edge_of(name, kind_of(name), fits[first:last], unit)
            for name, (first, last) in zip(names[:-1], pairwise(self.reading.landmarks), strict=True)
        ]
        fold = Edge(name=names[-1], kind=Kind.FOLD, path=(made[-1].path[-1], made[0].path[0]))
        return (*made, fold), max(fit.stray_in for fit in fits)

    @property
    def _shoulder(self) -> Stop:
        return self.reading.stops[self.reading.landmarks[1]]

    def _fit(self, one: Stop, two: Stop, aim_in: float) -> Fitted:
        """The contour from one stop to the next as a path, in piece inches."""
        clear = clear_of_corner(self.contour)
        first, last = sorted((one.along_in, two.along_in))
        points, from_end = traced_between(self.contour, first, last)
        points = self.placement.lifted(points)
        kept = points[~self._pulled(points, from_end, clear)]
        if not len(kept):
            raise PatternError("two corners lie so close that no edge is left between them; set the corners")
        if self.reading.ahead < 0:
            kept = kept[::-1]
        start, end = (stop.place - (0.0, self._shoulder.place[1]) for stop in (one, two))
        return fitted(kept, start, end, aim_in=aim_in, waves_in=self.contour.waves_in)

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


def traced_between(contour: Contour, first_in: float, last_in: float) -> tuple[Array, Array]:
    """Traced points (k, 2) between two corners, clear of both, and (k,) how far from the nearer of them each lies.

    What hides a corner is left out: the contour there knows nothing of it.
    """
    clear = clear_of_corner(contour)
    low = first_in + max(clear, contour.hidden_past(first_in, 1.0))
    high = last_in - max(clear, contour.hidden_past(last_in, -1.0))
    points, past = contour.between(low, max(low, high))
    past = past + low - first_in
    return points, np.minimum(past, last_in - first_in - past)


def clear_of_corner(contour: Contour) -> float:
    """Inches of contour next to a corner that no edge follows."""
    return max(_AT_CORNER_IN, 2 * contour.noise_in)


def closely_enough(
    waves_in: float, made: Callable[[float], tuple[tuple[Edge, ...], float]]
) -> tuple[tuple[Edge, ...], float]:
    """The edges that are `made` to lie so near to a contour, and how far they stray from it.

    As near as its noise lets them, unless they would need more than MOST_POINTS points, or cross, or turn into the
    piece more sharply than an allowance can follow. Where no looser fit takes that turn away, the garment has it.
    """
    aim_in = aim_for(waves_in)
    sound: tuple[tuple[Edge, ...], float] | None = None
    tries = 0
    while True:
        edges, farthest_in = made(aim_in)
        few = sum(len(edge.path) - 1 for edge in edges) <= MOST_POINTS
        if few and _is_sound(edges):
            if _hollow_in(edges) >= HOLLOW_IN:
                return edges, farthest_in
            sound = sound or (edges, farthest_in)
            tries += 1
        if aim_in > LOOSEST_IN or tries > _CALMER:
            return sound or (edges, farthest_in)
        aim_in *= _LOOSER


def _is_sound(edges: tuple[Edge, ...]) -> bool:
    """Whether the closed outline crosses neither itself nor the centre line."""
    ring = np.concatenate([curve.points[:-1] for curve in closed_curves(edges)])
    lowest = float(ring[:, 0].min()) if edges[-1].kind is Kind.FOLD else 0.0
    return lowest > -_OVER_FOLD_IN and bool(shapely.is_valid(shapely.Polygon(ring)))


def _hollow_in(edges: tuple[Edge, ...]) -> float:
    """Inches of the least radius with which a curved edge turns into the piece."""
    curves = closed_curves(edges)
    outward = np.sign(signed_area(np.concatenate([curve.points[:-1] for curve in curves])))
    bends = [
        float((-outward * curve.curvatures(*curve.grid(FLAT_IN))).max())
        for curve in curves
        if not curve.is_straight
    ]
    sharpest = max(bends, default=0.0)
    return 1 / sharpest if sharpest > 0 else math.inf


def kind_of(name: str) -> Kind:
    """A hem if its name says so, else a seam."""
    return Kind.HEM if "hem" in name.split() else Kind.SEAM


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
    return tuple(
        Point(x=Length.of(x, unit, DIGITS), y=Length.of(y, unit, DIGITS)) for x, y in points.tolist()
    )
