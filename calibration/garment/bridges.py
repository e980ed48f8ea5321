"""Things that lie over a cloth's edge: bumps between two sharp hollows, bridged by the edge on both their sides.

Garments have sharp corners that jut out; a sharp hollow is where something round or straight crosses the edge. One
that is left alone on an edge that goes straight on is a place where the edge was not well seen: it is mended alike.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt
from scipy.spatial.distance import cdist

from calibration.frames import Array, TableInches

_REACH_IN: Final = 0.3  # over which a turn of the edge is measured
_HOLLOW_DEG: Final = 20.0
_JAG_DEG: Final = 30.0
_WIDTH_IN: Final = (0.8, 4.0)  # of a bump, hollow to hollow
_RIM_IN: Final = 16.0  # a finger's, round its tip
_LEAST_HEIGHT_IN: Final = 0.18
_LEAST_TURN_DEG: Final = 45.0  # of the bump's rim, from one hollow to the other
_MARGIN_IN: Final = 0.3  # beyond the hollows, where blur and shade of the thing still tell
_KNOWN_IN: Final = 1.3  # of edge on either side, that the bridge goes on from
_FOR_CURVE_IN: Final = 0.9  # on both sides; what is known less of is bridged straight
_FEWEST: Final = 4
_TRUST_IN_CURVE: Final = 0.25  # of what the curve differs from a straight bridge, it may well be wrong
_COVERED: Final = 0.7  # of a bump
_OTHER_COLOUR: Final = 0.35  # by which logarithms of light differ, all three channels together
_BESIDE_IN: Final = (0.2, 0.7)  # inside of the edge, where cloth is looked at for its colours
_MENDED_IN: Final = 0.35  # to both sides of a jag
_SAME_JAG_IN: Final = 1.2  # along the edge, from one hollow to the next
_STRAIGHT_ON_DEG: Final = 25.0  # a jag within a sharper turn may be the garment's own
_LARGEST_IN: Final = 1.75  # radius of a weight
_ROUND: Final = (0.03, 0.015)  # inches, and share of its width, by which a bump's rim may miss a circle


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Looks:
    """What a photo shows at (n, 2) table inches: whether it is unlike the table (n,), and log colours (n, 3)."""

    covered: Callable[[Array], npt.NDArray[np.bool_]]
    colours: Callable[[Array], Array]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bridge:
    """Where the edge was hidden: `start`, `end` (2,) in table inches, and how far it may be off between."""

    start_in: Array
    end_in: Array
    error_in: float

    @property
    def length_in(self) -> float:
        """From one end to the other."""
        return float(np.hypot(*(self.end_in - self.start_in)))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BridgedEdge:
    """The edge (n, 2) with what was hidden filled in, which of its points are (n,), and the bridges.

    `mended` are jags taken out of it; `jags` is how many sharp hollows are left, where garments have none.
    """

    points_in: TableInches
    bridged: npt.NDArray[np.bool_]
    bridges: tuple[Bridge, ...]
    mended: tuple[Bridge, ...]
    jags: int


def bridged(points_in: TableInches, step_in: float, looks: Looks) -> BridgedEdge:
    """The closed edge, (n, 2) points about `step_in` apart, with its bumps taken off and its jags mended.

    A bump of bare table is no thing that lies there.
    """
    points = np.array(points_in)
    if _area(points) < 0:
        points = points[::-1]
    hidden = np.zeros(len(points), dtype=bool)
    turn = _turns(points, step_in)
    margin = round(_MARGIN_IN / step_in)
    bridges = []
    for first, last in _bumps(points, turn, step_in, looks):
        at = np.arange(first - margin, last + margin + 1) % len(points)
        points[at], bridge = _bridge(points, first - margin, last + margin, turn, step_in)
        hidden[at] = True
        bridges.append(bridge)
    mended = _mend(points, step_in)
    return BridgedEdge(
        points_in=TableInches(points),
        bridged=hidden,
        bridges=tuple(bridges),
        mended=tuple(mended),
        jags=len(_jags(_turns(points, step_in), step_in)),
    )


def _mend(points: Array, step_in: float) -> list[Bridge]:
    """Bridge, in place, the jags (n, 2) points have where the edge goes straight on."""
    turn = _turns(points, step_in)
    reach = round(_MENDED_IN / step_in)
    mended = []
    for run in _runs(_jags(turn, step_in), round(_SAME_JAG_IN / step_in)):
        first, last = run[0] - reach, run[1] + reach
        if (last - first) * step_in > _WIDTH_IN[1] or abs(
            _net_turn(points, first, last, step_in)
        ) > _STRAIGHT_ON_DEG:
            continue
        at = np.arange(first, last + 1) % len(points)
        points[at], bridge = _bridge(points, first, last, turn, step_in)
        mended.append(bridge)
    return mended


def _jags(turn: Array, step_in: float) -> npt.NDArray[np.int_]:
    hollows = _hollows(turn, step_in)
    return hollows[turn[hollows] < -_JAG_DEG]


def _runs(places: npt.NDArray[np.int_], apart: int) -> list[tuple[int, int]]:
    """First and last of each run of places no farther than `apart` from the next."""
    parts = np.split(places, np.flatnonzero(np.diff(places) > apart) + 1)
    return [(int(part[0]), int(part[-1])) for part in parts if len(part)]


def _net_turn(points: Array, first: int, last: int, step_in: float) -> float:
    """Degrees between the edge's way an inch before the first place and an inch beyond the last."""
    inch = round(1 / step_in)
    before, start, end, after = (points[k % len(points)] for k in (first - inch, first, last, last + inch))
    (a, b), (c, d) = start - before, after - end
    return float(np.degrees(np.arctan2(a * d - b * c, a * c + b * d)))


def _within(rim: Array) -> Array:
    """(n, 2) places between a bump's rim and the line between its ends."""
    foot = np.linspace(rim[0], rim[-1], len(rim))
    return np.concatenate([foot + share * (rim - foot) for share in (0.4, 0.6, 0.8)])


def _bumps(points: Array, turn: Array, step_in: float, looks: Looks) -> list[tuple[int, int]]:
    """First and last places of each thing's bump, the last perhaps beyond the end of the points."""
    hollows = _hollows(turn, step_in)
    found: list[tuple[int, int]] = []
    count = len(points)
    for k, first in enumerate(hollows.tolist()):
        if found and first <= found[-1][1]:
            continue
        for ahead in range(1, min(4, len(hollows))):
            last = int(hollows[(k + ahead) % len(hollows)])
            last += count if last <= first else 0
            if _juts_out(points, first, last, step_in) and _is_thing(points, first, last, step_in, looks):
                found.append((first, last))
                break
    return found


def _hollows(turn: Array, step_in: float) -> npt.NDArray[np.int_]:
    """Places where the edge turns out of the cloth most sharply."""
    reach = round(_REACH_IN / step_in)
    lowest = np.min([np.roll(turn, k) for k in range(-reach, reach + 1)], axis=0)
    return np.flatnonzero((turn <= lowest) & (turn < -_HOLLOW_DEG))


def _juts_out(points: Array, first: int, last: int, step_in: float) -> bool:
    if (last - first) * step_in > _RIM_IN:
        return False
    rim = points[np.arange(first, last + 1) % len(points)]
    chord = rim[-1] - rim[0]
    width = float(np.hypot(*chord))
    if not _WIDTH_IN[0] <= width <= _WIDTH_IN[1]:
        return False
    outward = np.array([chord[1], -chord[0]]) / width
    height = (rim - rim[0]) @ outward
    ways = np.diff(rim[:: max(1, round(0.1 / step_in))], axis=0)
    bearing = np.unwrap(np.arctan2(ways[:, 1], ways[:, 0]))
    turned = float(np.degrees(bearing[-2:].mean() - bearing[:2].mean()))
    return bool(
        height.max() >= _LEAST_HEIGHT_IN and height.min() > -_LEAST_HEIGHT_IN / 2 and turned > _LEAST_TURN_DEG
    )


def _is_thing(points: Array, first: int, last: int, step_in: float, looks: Looks) -> bool:
    """Whether something lies on a bump, and it is round or has colours that the cloth beside it has not."""
    count = len(points)
    rim = points[np.arange(first, last + 1) % count]
    within = _within(rim)
    if looks.covered(within).mean() < _COVERED:
        return False
    if _is_round(rim, float(np.hypot(*(rim[-1] - rim[0])))):
        return True
    margin, known = (round(inch / step_in) for inch in (_MARGIN_IN, _KNOWN_IN))
    beside = np.concatenate(
        [np.arange(first - margin - known, first - margin), np.arange(last + margin, last + margin + known)]
    )
    way = points[(beside + 1) % count] - points[(beside - 1) % count]
    inward = np.column_stack([-way[:, 1], way[:, 0]]) / np.linalg.norm(way, axis=1, keepdims=True)
    cloth = np.concatenate([points[beside % count] + depth * inward for depth in np.linspace(*_BESIDE_IN, 6)])
    apart = cdist(looks.colours(within), looks.colours(cloth)).min(axis=1)
    return bool((apart > _OTHER_COLOUR).mean() > _COVERED)


def _is_round(rim: Array, width: float) -> bool:
    """Whether points (n, 2) lie on a circle no larger than a weight, by Kåsa's linear fit (1976)."""
    off = rim - rim.mean(axis=0)
    terms = np.column_stack([2 * off, np.ones(len(off))])
    (x, y, rest), *_ = np.linalg.lstsq(terms, (off**2).sum(axis=1), rcond=None)
    radius = float(np.sqrt(max(rest + x * x + y * y, 0.0)))
    misses = np.hypot(off[:, 0] - x, off[:, 1] - y) - radius
    return radius <= _LARGEST_IN and float(np.sqrt((misses**2).mean())) < _ROUND[0] + _ROUND[1] * width


def _turns(points: Array, step_in: float) -> Array:
    """(n,) degrees by which the counter-clockwise edge turns left at each point, over `_REACH_IN` on both sides."""
    reach = round(_REACH_IN / step_in)
    ahead, behind = np.roll(points, -reach, axis=0) - points, points - np.roll(points, reach, axis=0)
    cross = behind[:, 0] * ahead[:, 1] - behind[:, 1] * ahead[:, 0]
    turns: Array = np.degrees(np.arctan2(cross, (behind * ahead).sum(axis=1)))
    return turns


def _bridge(points: Array, first: int, last: int, turn: Array, step_in: float) -> tuple[Array, Bridge]:
    """The points between two places on a smooth curve through the edge on both sides."""
    count = len(points)
    before, after = (_known(points, turn, at, way, step_in) for at, way in ((first, -1), (last, 1)))
    start, end = points[first % count], points[last % count]
    along = (end - start) / np.hypot(*(end - start))
    frame = np.stack([along, [-along[1], along[0]]], axis=1)
    middle = (start + end) / 2
    x, y = ((np.concatenate([before, after]) - middle) @ frame).T
    degree = 3 if min(len(before), len(after)) * step_in >= _FOR_CURVE_IN else 1
    terms = np.polynomial.polynomial.polyvander(x / _KNOWN_IN, degree)
    fitted, *_ = np.linalg.lstsq(terms, y, rcond=None)
    straight, *_ = np.linalg.lstsq(terms[:, :2], y, rcond=None)
    t = np.linspace((start - middle)[None] @ along, (end - middle)[None] @ along, last - first + 1)[:, 0]
    inner = np.polynomial.polynomial.polyvander(t / _KNOWN_IN, degree)
    height = inner @ fitted
    doubt = float(np.abs(height - inner[:, :2] @ straight).mean()) * _TRUST_IN_CURVE
    left = float(np.sqrt(((y - terms @ fitted) ** 2).mean()))
    filled = middle + np.stack([t, height], axis=1) @ frame.T
    return filled, Bridge(start_in=start, end_in=end, error_in=float(np.hypot(left, doubt)))


def _known(points: Array, turn: Array, at: int, way: int, step_in: float) -> Array:
    """The edge beyond one end of a bump, in order away from it, as far as it has no corner."""
    places = (at + way * np.arange(1, round(_KNOWN_IN / step_in) + 1)) % len(points)
    corner = np.flatnonzero(np.abs(turn[places]) > _HOLLOW_DEG)
    before_corner = int(corner[0]) if len(corner) else len(places)
    return points[places[: max(before_corner, _FEWEST)]]


def _area(points: Array) -> float:
    x, y = points.T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2
