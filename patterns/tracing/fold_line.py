"""The folded edge of a garment in its traced contour: long, straight, the cloth all on one side of it."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from patterns.curves import Array
from patterns.errors import PatternError
from patterns.saying import LengthError
from patterns.tracing.arms import Arm, gap_at_corner
from patterns.tracing.contour import Contour, Flags
from patterns.tracing.corner_finding import FoundCorner, sharpest_near

SHORTEST_IN: Final = 6.0  # a fold from neck to hem is longer, even a child's
STRAIGHT_IN: Final = 1 / 8  # scatter of a fold about its line that is accepted (common practice)
_LEAST_TURN_DEG: Final = 15.0  # of a corner where a straight fold ends
PULLED_IN: Final = 1.0  # at either end of a fold, where folding pulls it out of line
_LOOSE_IN: Final = 0.5  # a side this far from straight is no fold
_BOW: Final = 0.025  # scatter of a fold in parts of its length; a gently curved side has more
_OVER_IN: Final = 2.25  # of a fold may lie under something: a weight is no wider
_USUAL: Final = 0.9  # of a fold has nothing over it
_WINDOW_IN: Final = 4.0
_SEED_IN: Final = 1.5  # between the starts of windows
_SAME_RAD: Final = math.radians(5)  # two sides of a garment differ more
_SHORT_IN: Final = 0.75  # on both sides of a place: the least of a side that is pointed to
_CLOSE_IN: Final = 1 / 16
_ROUNDS: Final = 12


@dataclass(frozen=True, kw_only=True, eq=False)
class FoldLine:
    """A line through `origin` (2,) along the unit vector `onward` (2,), the contour's way; cloth to its left.

    `start_in` and `end_in` are where the contour comes on to it and leaves it, `end_in` the larger also where
    the walk's own start lies between; `sharp` says of both whether there is a corner. `scatter_in` is how far
    the contour strays from the line at most, its pulled ends and what is hidden left out; most of it, without
    what lies over a little of it, by `usual_in`.
    """

    origin: Array
    onward: Array
    start_in: float
    end_in: float
    sharp: tuple[bool, bool]
    scatter_in: float
    usual_in: float

    @property
    def length_in(self) -> float:
        """Inches of contour on the line."""
        return self.end_in - self.start_in

    @property
    def inward(self) -> Array:
        """(2,) unit direction from the line into the cloth."""
        return _across(self.onward)

    def strays(self, points: Array) -> Array:
        """(n,) inches of (n, 2) points from the line, positive in the cloth."""
        strays: Array = (points - self.origin) @ self.inward
        return strays

    def places(self, points: Array) -> Array:
        """(n,) inches of (n, 2) points along the line."""
        places: Array = (points - self.origin) @ self.onward
        return places


def straight_sides(contour: Contour, corners: tuple[FoundCorner, ...]) -> tuple[FoldLine, ...]:
    """Every side that could be a fold, the longest first.

    Raises PatternError if there is none.
    """
    looked = [_line(contour, corners, start, end) for start, end in _runs(contour)]
    sides: list[FoldLine] = []
    for side in looked:
        if _could_be_fold(contour, side) and not any(_same_side(side, known) for known in sides):
            sides.append(side)
    if not sides:
        raise LengthError(
            lambda say: (
                f"no straight side is long enough to be the fold: the longest is {say(_longest(looked), 4)}, and a "
                f"fold is at least {say(SHORTEST_IN)}, with all the cloth on one side of it; fold the garment on "
                "its centre, smooth the fold straight, and trace it again"
            )
        )
    return tuple(sorted(sides, key=lambda side: -side.length_in))


def pointed_side(contour: Contour, corners: tuple[FoundCorner, ...], place: Array) -> FoldLine:
    """The side at a place (2,) on the table, which may be shorter than other folds are.

    Raises PatternError if it is not straight.
    """
    nearest = float(contour.along[np.argmin(np.hypot(*(contour.calm - place).T))])
    for start, end in _runs(contour):
        side = _line(contour, corners, start, end)
        if (nearest - side.start_in) % contour.length_in <= side.length_in and _could_be_fold(contour, side):
            return side
    low, high = (round((nearest + past) / contour.step_in) for past in (-_SHORT_IN, _SHORT_IN))
    side = _line(contour, corners, *_grown(contour, low, high, _CLOSE_IN))
    if side.usual_in > STRAIGHT_IN or not all(side.sharp):
        raise PatternError(
            "the side there is not straight from corner to corner, as a fold is; point to the fold, or smooth it "
            "along a ruler and trace again"
        )
    return side


def meets_fold(contour: Contour, fold: FoldLine, end: float) -> float:
    """How far along the fold's line its neighbour meets it; `end` 1 past its end, -1 before its start.

    The neighbour is followed up to the line as a curve, so that an end pulled by folding does not count.
    """
    leaves, sharp = (fold.end_in, fold.sharp[1]) if end > 0 else (fold.start_in, fold.sharp[0])
    near = _clear_of_line(contour, fold, end, leaves, gap_at_corner(contour)) if sharp else 2 * PULLED_IN
    try:
        side = Arm.of(contour, leaves, end, near)
    except ValueError:
        return float(fold.places(contour.at(np.array([leaves])))[0])
    rise, slope, bend = (side.terms - np.outer([1, 0, 0], fold.origin)) @ fold.inward
    roots = np.roots([bend, slope, rise]) if abs(bend) > 1e-9 else np.array([-rise / slope])
    real = roots[np.abs(roots.imag) < 1e-9].real
    reach = float(real[np.argmin(np.abs(real))]) if len(real) else 0.0
    return float(fold.places(side.at(reach)[None])[0])


def _clear_of_line(contour: Contour, fold: FoldLine, end: float, leaves: float, gap_in: float) -> float:
    """How far past the fold's end its neighbour is for certain off the line."""
    reach = np.arange(gap_in, PULLED_IN, contour.step_in)
    off = fold.strays(contour.at(leaves + end * reach))
    clear = np.flatnonzero(off > max(gap_in, 2 * fold.usual_in) * 0.5)
    return float(reach[clear[0]]) if len(clear) else float(reach[-1])


def _runs(contour: Contour) -> Iterator[tuple[int, int]]:
    """First and last places of the walk of straight runs, the longest first; they may overlap."""
    window, seed = round(_WINDOW_IN / contour.step_in), round(_SEED_IN / contour.step_in)
    count = len(contour.walk)
    runs = set()
    for start in range(0, count, seed):
        low, high = _grown(contour, start, start + window, _LOOSE_IN)
        if high - low >= window:
            runs.add((low % count, low % count + high - low))
    return iter(sorted(runs, key=lambda run: run[0] - run[1]))


def _grown(contour: Contour, low: int, high: int, loose_in: float) -> tuple[int, int]:
    """The straight run that places `low` to `high` of the walk lie on, no place further off than `loose_in`."""
    count, window = len(contour.walk), high - low
    over = round(_OVER_IN / contour.step_in)
    for _ in range(_ROUNDS):
        origin, onward = _best_line(contour.walk[np.arange(low, high) % count])
        middle = (low + high) // 2
        begin = middle - count // 2
        places = np.arange(begin, begin + count) % count
        near = np.abs((contour.walk[places] - origin) @ _across(onward)) <= loose_in
        first, last = _stretch(near, middle - begin, over)
        grown = (begin + first, begin + last + 1)
        if grown == (low, high) or grown[1] - grown[0] < window // 2:
            break
        low, high = grown
    return low, high


def _line(contour: Contour, corners: tuple[FoundCorner, ...], start: int, end: int) -> FoldLine:
    """The line of a straight run, fitted so that its ends and whatever hangs over do not tip it."""
    step = contour.step_in
    along = np.arange(start, end, dtype=np.float64) * step
    run = contour.at(along)
    seen = contour.seen_at(along)
    weights = seen.astype(np.float64)
    for _ in range(_ROUNDS):
        origin, onward = _best_line(run, weights)
        off = np.abs((run - origin) @ _across(onward))
        scale = max(1.4826 * float(np.median(off[seen])), contour.noise_in, 0.002)
        weights = seen * np.maximum(1 - (off / (4.685 * scale)) ** 2, 0) ** 2  # Tukey's biweight
    on = ~seen | (off <= max(4 * scale, 1 / 32))
    middle = round(float(np.average(np.arange(len(run)), weights=weights)))
    first, last = _stretch(on, middle, round(_OVER_IN / step))
    leaves = ((start + first) * step, (start + last) * step)
    looked = (sharpest_near(contour, along, PULLED_IN) for along in leaves)
    corners += tuple(  # a deep V turns too little to be a corner elsewhere
        corner for corner in looked if corner is not None and corner.turn_deg >= _LEAST_TURN_DEG
    )
    start_in, end_in = (_drawn_to(corners, along, contour.length_in) for along in leaves)
    inner = np.arange(start_in + PULLED_IN, end_in - PULLED_IN, step)
    inner = inner[contour.seen_at(inner)]
    strays = np.abs((contour.at(inner) - origin) @ _across(onward)) if len(inner) else off
    return FoldLine(
        origin=origin,
        onward=onward,
        start_in=start_in,
        end_in=end_in,
        sharp=(start_in != leaves[0], end_in != leaves[1]),
        scatter_in=float(strays.max()),
        usual_in=float(np.quantile(strays, _USUAL)),
    )


def _stretch(on: Flags, middle: int, over: int) -> tuple[int, int]:
    """First and last of the places (n,) that are on a line round the middle one, at most `over` off it between."""
    places = np.flatnonzero(on)
    if not len(places):
        return middle, middle
    breaks = np.flatnonzero(np.diff(places) > over + 1)
    firsts = places[np.concatenate([[0], breaks + 1])]
    lasts = places[np.concatenate([breaks, [len(places) - 1]])]
    nearest = int(np.argmin(np.maximum(np.maximum(firsts - middle, middle - lasts), 0)))
    return int(firsts[nearest]), int(lasts[nearest])


def _across(onward: Array) -> Array:
    """(2,) the unit direction to the left of another."""
    return np.array([-onward[1], onward[0]])


def _drawn_to(corners: tuple[FoundCorner, ...], along_in: float, round_in: float) -> float:
    """The nearest corner within reach of a pulled end, else the place itself."""
    best = along_in
    nearest = PULLED_IN + 0.5
    for corner in corners:
        apart = (corner.along_in - along_in + round_in / 2) % round_in - round_in / 2
        if abs(apart) < nearest:
            best, nearest = along_in + apart, abs(apart)
    return best


def _could_be_fold(contour: Contour, side: FoldLine) -> bool:
    return (
        side.length_in >= SHORTEST_IN
        and side.usual_in <= min(_LOOSE_IN, _BOW * side.length_in)
        and float(side.strays(contour.walk).min()) > -2 * _LOOSE_IN
    )


def _longest(sides: Sequence[FoldLine]) -> float:
    return max((side.length_in for side in sides), default=0.0)


def _same_side(one: FoldLine, other: FoldLine) -> bool:
    """Whether both are one line: with the cloth on one side of each, their directions tell."""
    return float(one.onward @ other.onward) > math.cos(_SAME_RAD)


def _best_line(points: Array, weights: Array | None = None) -> tuple[Array, Array]:
    """A point (2,) on, and the unit direction (2,) of, the line of least squared distance, as walked."""
    share = np.ones(len(points)) if weights is None else weights
    origin: Array = share @ points / share.sum()
    off = points - origin
    _, axes = np.linalg.eigh((off * share[:, None]).T @ off)
    onward = axes[:, 1]
    if float((points[-1] - points[0]) @ onward) < 0:
        onward = -onward
    return origin, onward
