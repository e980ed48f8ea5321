"""Smooth paths in inches: lengths, points at a length, tangents, flattening.

Every path is a chain of cubic Bézier pieces: a straight line is one with its handles on the line, and a
natural cubic spline is one exactly. So one set of formulas serves them all.
"""

from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
import numpy.typing as npt

from patterns.cubics import NODES, WEIGHTS, arc_table, derived, leaving, natural_slopes, powers, speeds, split

Array = npt.NDArray[np.float64]
Spans = npt.NDArray[np.intp]
Place = tuple[int, float]  # on a path: the number of a piece, and the parameter on it

FLAT_IN: Final = 0.0005  # chords stray this far at most; half of the 0.001 promised, the rest is for offsets
KINK_RAD: Final = 1e-4  # a smaller turn between two pieces moves an offset of 1 in by less than 0.0001
_LENGTH_IN: Final = 1e-9  # arc lengths are refined until they change by less
_NEWTON_ROUNDS: Final = 12
_NODES_TO_END: Final = np.append(NODES, 1.0)
_NEWTON_STEP: Final = 1e-7  # of a piece: after one so small the next would be a millionth of a millionth


@dataclass(frozen=True, eq=False)
class Curve:
    """A path as `beziers`, shape (n, 4, 2) inches: point, handle, handle, point, each on from the last.

    Curves of the same course are equal, to the last bit.
    """

    beziers: Array

    def __post_init__(self) -> None:
        self.beziers.setflags(write=False)

    def __eq__(self, other: object) -> bool:
        return self is other or (isinstance(other, Curve) and self._course == other._course)

    def __hash__(self) -> int:
        return hash(self._course)

    @classmethod
    def straight(cls, points: Array) -> "Curve":
        """Straight lines through (n, 2) points."""
        start, end = points[:-1], points[1:]
        step = (end - start) / 3
        return cls(_side_by_side(start, start + step, end - step, end))

    @classmethod
    def smooth(cls, points: Array) -> "Curve":
        """The natural cubic spline by chord length through (n, 2) points (second derivative 0 at ends)."""
        if len(points) == 2:
            return cls.straight(points)
        chords = np.hypot(*np.diff(points, axis=0).T)
        return cls.hermite(points, natural_slopes(points, chords), chords)

    @classmethod
    def hermite(cls, points: Array, slopes: Array, spans: Array) -> "Curve":
        """Cubics through (n, 2) points with (n, 2) derivatives there, over (n - 1,) parameter spans."""
        reach = spans[:, None] / 3
        start, end = points[:-1], points[1:]
        return cls(_side_by_side(start, start + slopes[:-1] * reach, end - slopes[1:] * reach, end))

    @classmethod
    def bezier(cls, points: Array) -> "Curve":
        """A Bézier chain from (3n + 1, 2) points: point, handle, handle, point, ..."""
        count = (len(points) - 1) // 3
        return cls(np.stack([points[3 * i : 3 * i + 4] for i in range(count)]))

    @classmethod
    def chain(cls, *curves: "Curve") -> "Curve":
        """The curves one after another; each must begin where the one before ended."""
        return cls(np.concatenate([curve.beziers for curve in curves]))

    @property
    def start(self) -> Array:
        """(2,) inches."""
        start: Array = self.beziers[0, 0]
        return start

    @property
    def end(self) -> Array:
        """(2,) inches."""
        end: Array = self.beziers[-1, 3]
        return end

    @property
    def start_tangent(self) -> Array:
        """(2,) unit direction in which the path leaves its start."""
        tangent: Array = self._directions[0][0]
        return tangent

    @property
    def end_tangent(self) -> Array:
        """(2,) unit direction in which the path arrives at its end."""
        tangent: Array = self._directions[1][-1]
        return tangent

    @cached_property
    def length_in(self) -> float:
        """Arc length in inches, to a millionth."""
        return float(self._table[1][-1])

    @property
    def corners(self) -> Array:
        """(n, 2) the points at which its pieces begin and end."""
        return np.concatenate([self.beziers[:, 0], self.beziers[-1:, 3]])

    @cached_property
    def is_straight(self) -> bool:
        """Whether every piece is a straight line walked evenly (they may meet at kinks)."""
        return bool(np.abs(self._bends).max() < 1e-12)

    @cached_property
    def points(self) -> Array:
        """(n, 2) points of chords that stray from the path by at most FLAT_IN, ends included."""
        if self.is_straight:
            return self.corners
        spans, along = self.flat_grid
        return np.concatenate([self.at_parameters(spans, along), self.end[None]])

    @cached_property
    def flat_grid(self) -> tuple[Spans, Array]:
        """Pieces and parameters (n,) of `points` but for the last."""
        return self.grid(FLAT_IN)

    def grid(self, stray_in: float) -> tuple[Spans, Array]:
        """Pieces and parameters (n,), in order, whose chords stray at most `stray_in`; the very end left out.

        A chord over a step h strays at most |B''| h^2 / 8, and |B''| of a cubic is greatest at an end.
        """
        bend = 6 * np.hypot(self._bends[..., 0], self._bends[..., 1]).max(axis=1)
        steps = np.maximum(np.ceil(np.sqrt(bend / (8 * stray_in)) - 1e-9), 1).astype(np.intp)
        spans = np.repeat(np.arange(len(steps)), steps)
        first = np.repeat(np.cumsum(steps) - steps, steps)
        along = (np.arange(len(spans)) - first) / steps[spans]
        return spans, along.astype(np.float64)

    def at_parameters(self, spans: Spans, along: Array) -> Array:
        """(n, 2) points of pieces `spans` (n,) at parameters `along` (n,) in 0..1."""
        cubed, squared, plain, start = self._powers[:, spans]
        t = along[:, None]
        points: Array = ((cubed * t + squared) * t + plain) * t + start
        return points

    def derivatives(self, spans: Spans, along: Array) -> tuple[Array, Array]:
        """First and second derivatives, each (n, 2), at parameters as in `at_parameters`."""
        cubed, squared, plain, _ = self._powers[:, spans]
        t = along[:, None]
        first: Array = (3 * cubed * t + 2 * squared) * t + plain
        second: Array = 6 * cubed * t + 2 * squared
        return first, second

    def tangents(self, spans: Spans, along: Array) -> Array:
        """(n, 2) unit tangents at parameters; a handle that lies on its point is looked past."""
        first = self._velocities(spans, along)
        speed = np.hypot(first[:, 0], first[:, 1])
        if speed.min(initial=1.0) < 1e-9:
            still = np.flatnonzero(speed < 1e-9)
            leaving, arriving = self._directions
            first[still] = np.where(along[still, None] > 0.5, arriving[spans[still]], leaving[spans[still]])
            speed[still] = 1.0
        unit: Array = first / speed[:, None]
        return unit

    def curvatures(self, spans: Spans, along: Array) -> Array:
        """(n,) signed curvatures in 1/in, positive where the path turns from x towards y."""
        first, second = self.derivatives(spans, along)
        speed = np.maximum(np.hypot(first[:, 0], first[:, 1]), 1e-12)
        bend: Array = (first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0]) / speed**3
        return bend

    def places_at(self, lengths_in: Array) -> tuple[Spans, Array]:
        """Pieces and parameters, each (n,), at (n,) inches along; ValueError beyond the ends."""
        if lengths_in.min() < -_LENGTH_IN or lengths_in.max() > self.length_in + _LENGTH_IN:
            raise ValueError(f"{lengths_in} in is not on a path {self.length_in} in long")
        cells, ends = self._table
        per_piece = len(cells) // len(self.beziers)
        cell = np.minimum(np.searchsorted(ends[1:], lengths_in), len(cells) - 1)
        spans, low = cell // per_piece, (cell % per_piece) / per_piece
        rest = lengths_in - ends[cell]
        along = low + rest / cells[cell] / per_piece
        slopes, high = self._slopes[:, spans], low + 1 / per_piece
        for _ in range(0 if self.is_straight else _NEWTON_ROUNDS):
            run = along - low
            looks = low[:, None] + run[:, None] * _NODES_TO_END
            found = speeds(slopes, looks)
            step = (rest - found[:, :-1] @ WEIGHTS * run) / np.maximum(found[:, -1], 1e-12)
            along = np.minimum(np.maximum(along + step, low), high)
            if np.abs(step).max() < _NEWTON_STEP:
                break
        return spans, along

    def points_at(self, lengths_in: Array) -> Array:
        """(n, 2) inches, at (n,) inches along the path from its start."""
        return self.at_parameters(*self.places_at(lengths_in))

    def point_at(self, length_in: float) -> Array:
        """(2,) inches, `length_in` along the path from its start."""
        point: Array = self.points_at(np.array([length_in]))[0]
        return point

    def poses_at(self, lengths_in: Array) -> tuple[Array, Array]:
        """Points (n, 2) in inches and unit directions (n, 2), at (n,) inches along the path from its start."""
        spans, along = self.places_at(lengths_in)
        return self.at_parameters(spans, along), self.tangents(spans, along)

    def tangent_at(self, length_in: float) -> Array:
        """(2,) unit direction of the path at `length_in` inches along."""
        tangent: Array = self.tangents(*self.places_at(np.array([length_in])))[0]
        return tangent

    def between(self, start_in: float, end_in: float) -> "Curve":
        """The part of the path from `start_in` to `end_in` inches along."""
        (first, last), (low, high) = self.places_at(np.array([start_in, end_in]))
        return self.part((first, low), (last, high))

    def part(self, start: Place, end: Place) -> "Curve":
        """The part of the path from one place to another, each a piece and a parameter on it."""
        (first, low), (last, high) = start, end
        pieces = self.beziers[first : last + 1].copy()
        if high < 1:
            pieces[-1] = split(pieces[-1], high)[0]
        if low > 0:
            pieces[0] = split(pieces[0], low / high if first == last else low)[1]
        long_enough = np.abs(pieces - pieces[:, :1]).max(axis=(1, 2)) > 1e-9
        return Curve(pieces[long_enough])

    def reversed(self) -> "Curve":
        """The same path walked the other way."""
        return Curve(self.beziers[::-1, ::-1].copy())

    def from_to(self, start: Array, end: Array) -> "Curve":
        """The path with its ends moved on to `start` and `end`, (2,) each, their handles with them.

        The very same one where they are there already, with all that is known of it.
        """
        if (start == self.start).all() and (end == self.end).all():
            return self
        pieces = self.beziers.copy()
        pieces[0, :2] += start - pieces[0, 0]
        pieces[-1, 2:] += end - pieces[-1, 3]
        return Curve(pieces)

    def runs(self) -> tuple["Curve", ...]:
        """The path broken where its direction jumps by more than KINK_RAD; the very same one where it does not."""
        return self._parts or (self,)

    @cached_property
    def _parts(self) -> tuple["Curve", ...]:
        """What it is broken into; empty where it is all one."""
        if len(self.beziers) == 1:
            return ()
        leave, arrive = self._directions[0][1:], self._directions[1][:-1]
        turn = np.arctan2(
            arrive[:, 0] * leave[:, 1] - arrive[:, 1] * leave[:, 0], (arrive * leave).sum(axis=1)
        )
        kinks = np.abs(turn) > KINK_RAD
        if not kinks.any():
            return ()
        return tuple(Curve(run) for run in np.split(self.beziers, np.flatnonzero(kinks) + 1))

    @cached_property
    def _course(self) -> bytes:
        return self.beziers.tobytes()

    @cached_property
    def _directions(self) -> tuple[Array, Array]:
        """(n, 2) unit directions in which the pieces leave their starts, and in which they arrive at their ends."""
        both_ways = leaving(np.concatenate([self.beziers, self.beziers[:, ::-1]]))
        leave, arrive = both_ways[: len(self.beziers)], -both_ways[len(self.beziers) :]
        for directions in (leave, arrive):
            directions.setflags(write=False)
        return leave, arrive

    @cached_property
    def _bends(self) -> Array:
        """(n, 2, 2) inches by which handles stray from even steps: a sixth of the second derivative at both ends."""
        points = self.beziers
        bends: Array = points[:, :2] - 2 * points[:, 1:3] + points[:, 2:]
        return bends

    @cached_property
    def _powers(self) -> Array:
        """(4, n, 2) what the parameter's third, second, first and zeroth powers are multiplied by, piece by piece."""
        return powers(self.beziers)

    @cached_property
    def _slopes(self) -> Array:
        """(3, n, 2) the same of the first derivative."""
        return derived(self._powers)

    def _velocities(self, spans: Spans, along: Array) -> Array:
        """(n, 2) first derivatives."""
        squared, plain, start = self._slopes[:, spans]
        t = along[:, None]
        velocities: Array = (squared * t + plain) * t + start
        return velocities

    @cached_property
    def _table(self) -> tuple[Array, Array]:
        """Cells (n,), as many for each piece, and (n + 1,) lengths from the start up to each cell's end."""
        if self.is_straight:
            sides = np.hypot(*np.diff(self.corners, axis=0).T)
            return sides, np.concatenate([[0.0], np.cumsum(sides)])
        return arc_table(self._slopes, _LENGTH_IN)


def _side_by_side(*points: Array) -> Array:
    """(n, 4, 2) pieces of four times (n, 2) points."""
    return np.concatenate(points, axis=1).reshape(-1, 4, 2)
