"""Outlines as a slide along the cloth meets them: how high and how low they reach at each place across.

Two outlines keep a gap if both, each grown by half of it, are apart. A grown outline is cut into chains, parts
that any line along the cloth meets once, and of each its reach is kept at places PITCH_IN apart, joined straight
and never short of the outline.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array

PITCH_IN: Final = 1 / 32
STRAY_IN: Final = 1 / 128  # by which a curve may be made plainer, always outwards
_CRACK_IN: Final = 1 / 4  # a narrower one holds no piece, hardly the tip of one, and is closed
_SHARP_IN: Final = 1 / 32  # an outline that is grown by less need not be rounded at its corners
_ROUND: Final = 4  # chords of a quarter circle
_WIDEST_CHORD_RAD: Final = 1.5 * math.pi / 2 / _ROUND  # an arc has a whole number of them, the nearest
_LITTLE_IN: Final = 1 / 64
_SAME_IN: Final = 1e-9
_DECIMALS: Final = 7  # of an inch: corners that are nearer to one another across are at one place


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Chain:
    """A part that is met once: `lower` and `upper` (n,) inches along, at places `first`, `first` + 1, ... pitches."""

    first: int
    lower: Array
    upper: Array

    def across(self) -> "Chain":
        """Turned over to the other side of x = 0."""
        last = self.first + len(self.lower) - 1
        return Chain(first=-last, lower=self.lower[::-1], upper=self.upper[::-1])

    def along(self) -> "Chain":
        """Turned over to the other side of y = 0."""
        return Chain(first=self.first, lower=-self.upper, upper=-self.lower)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Profile:
    """The chains of a grown outline, in the frame of the outline; `left_in` to `right_in` is all it covers."""

    chains: tuple[Chain, ...]
    left_in: float
    right_in: float

    @classmethod
    def of(cls, ring: Array, gap_in: float) -> "Profile":
        """That of a closed ring (n, 2) which keeps `gap_in` to every other."""
        polygon = _without_cracks(grown(ring, gap_in / 2))
        left, _, right, _ = polygon.bounds
        return cls(
            chains=tuple(_on_lattice(part) for part in _met_once(polygon)), left_in=left, right_in=right
        )

    def across(self) -> "Profile":
        """Turned over to the other side of x = 0."""
        chains = tuple(chain.across() for chain in self.chains)
        return Profile(chains=chains, left_in=-self.right_in, right_in=-self.left_in)

    def along(self) -> "Profile":
        """Turned over to the other side of y = 0."""
        chains = tuple(chain.along() for chain in self.chains)
        return Profile(chains=chains, left_in=self.left_in, right_in=self.right_in)


def grown(ring: Array, by_in: float) -> shapely.Polygon:
    """The closed ring (n, 2) and all within `by_in` of it: never less, its straight edges exactly."""
    whole = shapely.Polygon(ring)
    plain = whole.simplify(STRAY_IN)
    by = by_in + shapely.hausdorff_distance(whole, plain)
    if by == 0:
        return _largest(plain)
    with np.errstate(divide="ignore", invalid="ignore"):  # mitres of edges that run on straight
        mitred = plain.buffer(by, join_style="mitre")
        if by < _SHARP_IN:
            return _largest(mitred)
        return _largest(mitred & plain.buffer(by / math.cos(_WIDEST_CHORD_RAD / 2), quad_segs=_ROUND))


def _without_cracks(polygon: shapely.Polygon) -> shapely.Polygon:
    with np.errstate(divide="ignore", invalid="ignore"):
        closed = polygon.buffer(_CRACK_IN / 2, join_style="mitre").buffer(-_CRACK_IN / 2, join_style="mitre")
    return _largest(polygon | closed)


def _largest(shape: shapely.Geometry) -> shapely.Polygon:
    parts = [part for part in shapely.get_parts(shape) if isinstance(part, shapely.Polygon)]
    return shapely.Polygon(max(parts, key=lambda part: part.area).exterior)


@dataclass(slots=True)
class _Run:
    """Trapezoids next to one another: at `across` (n + 1,) their sides, before and behind each."""

    across: list[float]
    sides: list[list[float]]  # lower and upper at the left side, then at the right

    @property
    def bottom(self) -> float:
        """Lower end of the side that it goes on from."""
        return self.sides[-1][2]

    @property
    def top(self) -> float:
        """Upper end of it."""
        return self.sides[-1][3]


def _met_once(polygon: shapely.Polygon) -> list[_Run]:
    """The polygon cut into runs of trapezoids, each of which a line along the cloth meets once."""
    ring = np.array(polygon.exterior.coords)
    ring[:, 0] = ring[:, 0].round(_DECIMALS)
    start, end = ring[:-1], ring[1:]
    turned = start[:, :1] > end[:, :1]
    left, right = np.where(turned, end, start), np.where(turned, start, end)
    places = np.unique(ring[:, 0])
    low, high = places[:-1, None], places[1:, None]
    crossing = (left[:, 0] <= low) & (right[:, 0] >= high)  # (slabs, edges)
    run = np.maximum(right[:, 0] - left[:, 0], _SAME_IN)
    slope, level = (right[:, 1] - left[:, 1]) / run, left[:, 1]
    at_low = level + slope * (low - left[:, 0])
    at_high = level + slope * (high - left[:, 0])
    order = np.argsort(np.where(crossing, at_low + at_high, np.inf), axis=1)
    done: list[_Run] = []
    open_runs: list[_Run] = []
    for slab, count in enumerate(crossing.sum(axis=1).tolist()):
        below, above = order[slab, 0:count:2], order[slab, 1:count:2]
        ends = (at_low[slab, below], at_low[slab, above], at_high[slab, below], at_high[slab, above])
        trapezoids = np.stack(ends, axis=1).tolist()
        open_runs, ended = _continued(open_runs, trapezoids, float(places[slab]), float(places[slab + 1]))
        done += ended
    return done + open_runs


def _continued(
    runs: list[_Run], trapezoids: list[list[float]], low: float, high: float
) -> tuple[list[_Run], list[_Run]]:
    """The runs open after the next slab, and those that end before it; each goes on in the tallest that it meets."""
    following: list[_Run] = []
    left_over = list(runs)
    for trapezoid in sorted(trapezoids, key=lambda sides: sides[0] - sides[1]):
        met = [run for run in left_over if min(run.top, trapezoid[1]) > max(run.bottom, trapezoid[0])]
        run = max(met, key=lambda one: one.top - one.bottom) if met else _Run([low], [])
        left_over = [one for one in left_over if one is not run]
        run.across.append(high)
        run.sides.append(trapezoid)
        following.append(run)
    return following, left_over


def _on_lattice(run: _Run) -> Chain:
    """The run's reach at lattice places, so that straight between them it is never short."""
    across, sides = np.array(run.across), np.array(run.sides)
    first = math.floor(across[0] / PITCH_IN + _SAME_IN)
    last = max(math.ceil(across[-1] / PITCH_IN - _SAME_IN), first + 1)
    at = np.stack([across[:-1], across[1:]], axis=1).ravel()  # each place twice: before and behind a step
    upper = _covering(at, sides[:, [1, 3]].ravel(), first, last)
    lower = -_covering(at, -sides[:, [0, 2]].ravel(), first, last)
    return Chain(first=first, lower=lower, upper=upper)


def _covering(at: Array, reach: Array, first: int, last: int) -> Array:
    """(last - first + 1,) values at lattice places, never below the line through (`at`, `reach`).

    A cell in which the line bends is lifted: both its ends by how far the line stands above the chord, where that is
    little, and else to the highest of the line there, so that a step only grows wider by a cell.
    """
    places = np.arange(first, last + 1) * PITCH_IN
    before = np.interp(places - _SAME_IN, at, reach)
    behind = np.interp(places + _SAME_IN, at, reach)
    values = np.maximum(before, behind)
    cell = np.clip(np.floor(at / PITCH_IN - first).astype(np.intp), 0, last - first - 1)
    share = np.clip(at / PITCH_IN - first - cell, 0.0, 1.0)
    above = np.zeros(last - first)
    np.maximum.at(above, cell, reach - values[cell] * (1 - share) - values[cell + 1] * share)
    highest = np.full(last - first, -np.inf)
    np.maximum.at(highest, cell, reach)
    ends = np.stack([values[:-1], values[1:]])
    to_highest = np.maximum(highest - ends, 0.0)
    lift = np.where(above > _LITTLE_IN, to_highest, np.minimum(above, to_highest.max(axis=0)))
    lifted = values.copy()
    np.maximum.at(lifted, np.arange(last - first), values[:-1] + lift[0])
    np.maximum.at(lifted, np.arange(1, last - first + 1), values[1:] + lift[1])
    return np.asarray(lifted, dtype=np.float64)
