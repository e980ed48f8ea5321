"""Smooth paths in inches: lengths, points at a length, tangents, flattening.

Every path is a chain of cubic Bézier pieces: a straight line is one with its handles on the line, and a
natural cubic spline is one exactly. So one set of formulas serves them all.
"""

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise
from typing import Final

import numpy as np
import numpy.typing as npt

from patterns.arc_lengths import STILL_IN, ArcLengths, Place
from patterns.cubics import (
    Piece,
    Plane,
    arriving,
    bends,
    curved_at_most,
    even_shares,
    evenly,
    hermite,
    in_plane,
    is_nothing,
    leaving,
    natural_slopes,
    out_of_plane,
    powers,
    slopes,
    split,
)

Array = npt.NDArray[np.float64]
Spans = npt.NDArray[np.intp]

FLAT_IN: Final = 0.0005  # chords stray this far at most; half of the 0.001 promised, the rest is for offsets
KINK_RAD: Final = 1e-4  # a smaller turn between two pieces moves an offset of 1 in by less than 0.0001


@dataclass(frozen=True, eq=False)
class Curve:
    """A path as `beziers`, shape (n, 4, 2) inches: point, handle, handle, point, each on from the last.

    Curves of the same course are equal, to the last bit.
    """

    beziers: Array
    _plane: Plane = field(init=False, repr=False)

    def __post_init__(self) -> None:
        self.beziers.setflags(write=False)
        object.__setattr__(self, "_plane", in_plane(self.beziers))

    def __eq__(self, other: object) -> bool:
        return self is other or (isinstance(other, Curve) and self._course == other._course)

    def __hash__(self) -> int:
        return hash(self._course)

    @classmethod
    def straight(cls, points: Array) -> "Curve":
        """Straight lines through (n, 2) points."""
        start, end = points[:-1], points[1:]
        step = (end - start) / 3
        return cls(np.concatenate([start, start + step, end - step, end], axis=1).reshape(-1, 4, 2))

    @classmethod
    def smooth(cls, points: Array) -> "Curve":
        """The natural cubic spline by chord length through (n, 2) points (second derivative 0 at ends)."""
        if len(points) == 2:
            return cls.straight(points)
        places = in_plane(points).tolist()
        chords = [abs(there - here) for here, there in pairwise(places)]
        return cls._of(hermite(places, natural_slopes(places, chords), chords))

    @classmethod
    def hermite(cls, points: Array, slopes: Array, spans: Array) -> "Curve":
        """Cubics through (n, 2) points with (n, 2) derivatives there, over (n - 1,) parameter spans."""
        return cls._of(hermite(in_plane(points).tolist(), in_plane(slopes).tolist(), spans.tolist()))

    @classmethod
    def _of(cls, pieces: Sequence[Piece]) -> "Curve":
        places = np.array([place for piece in pieces for place in piece], np.complex128)
        return cls(out_of_plane(places).reshape(-1, 4, 2))

    @classmethod
    def bezier(cls, points: Array) -> "Curve":
        """A Bézier chain from (3n + 1, 2) points: point, handle, handle, point, ..."""
        pieces = [points[first : first + 4] for first in range(0, len(points) - 1, 3)]
        return cls(np.concatenate(pieces).reshape(-1, 4, 2))

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

    @cached_property
    def start_tangent(self) -> Array:
        """(2,) unit direction in which the path leaves its start."""
        return _pair(leaving(self._pieces[0]))

    @cached_property
    def end_tangent(self) -> Array:
        """(2,) unit direction in which the path arrives at its end."""
        return _pair(arriving(self._pieces[-1]))

    @cached_property
    def length_in(self) -> float:
        """Arc length in inches, to a millionth."""
        return self._arc.ends_in[-1]

    @property
    def ends_in(self) -> Sequence[float]:
        """Inches from its start to each of its `corners`."""
        return self._arc.ends_in[:: self._arc.per_piece]

    @property
    def corners(self) -> Array:
        """(n, 2) the points at which its pieces begin and end."""
        return np.concatenate([self.beziers[:, 0], self.beziers[-1:, 3]])

    @property
    def is_straight(self) -> bool:
        """Whether every piece is a straight line walked evenly (they may meet at kinks)."""
        return max(self._bends) < 1e-12

    @cached_property
    def points(self) -> Array:
        """(n, 2) points of chords that stray from the path by at most FLAT_IN, ends included."""
        if self.is_straight:
            return self.corners
        counts = self._chords(FLAT_IN)
        pieces = [evenly(count).dot(piece) for count, piece in zip(counts, self.beziers, strict=True)]
        return np.concatenate([*pieces, self.end[None]])

    @property
    def flat_chords(self) -> tuple[int, ...]:
        """How many chords each piece has in `points`."""
        return tuple(self._chords(FLAT_IN))

    def grid(self, stray_in: float) -> tuple[Spans, Array]:
        """Pieces and parameters (n,), in order, whose chords stray at most `stray_in`; the very end left out."""
        return even_grid(self._chords(stray_in))

    def _chords(self, stray_in: float) -> list[int]:
        """How many even chords stray at most `stray_in`, for each piece.

        A chord over a step h strays at most |B''| h^2 / 8, and |B''| of a cubic is greatest at an end.
        """
        return [max(math.ceil(math.sqrt(6 * bend / (8 * stray_in)) - 1e-9), 1) for bend in self._bends]

    def at_parameters(self, spans: Spans, along: Array) -> Array:
        """(n, 2) points of pieces `spans` (n,) at parameters `along` (n,) in 0..1."""
        cubed, squared, plain, start = self._powers.take(spans, axis=1)
        t = along.astype(np.complex128)
        return out_of_plane(((cubed * t + squared) * t + plain) * t + start)

    def tangents(self, spans: Spans, along: Array) -> Array:
        """(n, 2) unit tangents at parameters; a handle that lies on its point is looked past."""
        squared, plain, start = self._slopes.take(spans, axis=1)
        t = along.astype(np.complex128)
        first = (squared * t + plain) * t + start
        speed = abs(first)
        if speed.min(initial=1.0) < 1e-9:
            still = np.flatnonzero(speed < 1e-9)
            first[still] = [
                (arriving if late else leaving)(self._pieces[span])
                for span, late in zip(spans[still].tolist(), along[still] > 0.5, strict=True)
            ]
            speed[still] = 1.0
        return out_of_plane(first / speed)

    def curvatures(self, spans: Spans, along: Array) -> Array:
        """(n,) signed curvatures in 1/in, positive where the path turns from x towards y."""
        squared, plain, start = self._slopes.take(spans, axis=1)
        t = along.astype(np.complex128)
        turning = squared * t
        first, second = (turning + plain) * t + start, turning + turning + plain
        bend: Array = (first.conj() * second).imag / np.maximum(abs(first), 1e-12) ** 3
        return bend

    @cached_property
    def curved_at_most(self) -> float:
        """1/in that the path's curvature is nowhere beyond; infinite where that is not plain."""
        return max(map(curved_at_most, self._pieces, self._bends))

    def places_at(self, lengths_in: Array) -> tuple[Spans, Array]:
        """Pieces and parameters, each (n,), at (n,) inches along; ValueError beyond the ends."""
        places = self.places(lengths_in.tolist())
        return np.array([span for span, _ in places], np.intp), np.array([along for _, along in places])

    def places(self, lengths_in: Sequence[float]) -> list[Place]:
        """The pieces and the parameters on them, so many inches along; ValueError beyond the ends."""
        if min(lengths_in) < -STILL_IN or max(lengths_in) > self.length_in + STILL_IN:
            raise ValueError(f"{lengths_in} in is not on a path {self.length_in} in long")
        return self._arc.places(lengths_in)

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
        start, end = self.places((start_in, end_in))
        return self.part(start, end)

    def part(self, start: Place, end: Place) -> "Curve":
        """The part of the path from one place to another, each a piece and a parameter on it."""
        (first, low), (last, high) = start, end
        pieces = self._pieces[first : last + 1]
        if high < 1:
            pieces[-1] = split(pieces[-1], high)[0]
        if low > 0:
            pieces[0] = split(pieces[0], low / high if first == last else low)[1]
        return Curve._of([piece for piece in pieces if not is_nothing(piece)])

    def reversed(self) -> "Curve":
        """The same path walked the other way."""
        return Curve(self.beziers[::-1, ::-1].copy())

    def from_to(self, start: Array, end: Array) -> "Curve":
        """The path with its ends moved on to `start` and `end`, (2,) each, their handles with them.

        The very same one where they are there already, with all that is known of it.
        """
        if [start.tolist(), end.tolist()] == [self.start.tolist(), self.end.tolist()]:
            return self
        pieces = self.beziers.copy()
        pieces[0, :2] += start - pieces[0, 0]
        pieces[-1, 2:] += end - pieces[-1, 3]
        return Curve(pieces)

    def runs(self) -> tuple["Curve", ...]:
        """The path broken where its direction jumps by more than KINK_RAD; the very same one where it does not."""
        return (self,) if len(self.beziers) == 1 else self._parts or (self,)

    @cached_property
    def _parts(self) -> tuple["Curve", ...]:
        """What it is broken into; empty where it is all one."""
        kinks = [
            i
            for i, (before, after) in enumerate(pairwise(self._pieces), start=1)
            if abs(cmath.phase(leaving(after) / arriving(before))) > KINK_RAD
        ]
        if not kinks:
            return ()
        return tuple(Curve(self.beziers[low:high]) for low, high in pairwise([0, *kinks, len(self._pieces)]))

    @cached_property
    def _course(self) -> bytes:
        return self.beziers.tobytes()

    @cached_property
    def _pieces(self) -> list[Piece]:
        """The pieces for reckoning with them one by one."""
        pieces: list[Piece] = self._plane.tolist()
        return pieces

    @cached_property
    def _bends(self) -> list[float]:
        """Inches by which the handles of each piece stray from even steps."""
        return bends(self._plane)

    @cached_property
    def _powers(self) -> Plane:
        """(4, n) what the parameter's third, second, first and zeroth powers are multiplied by, piece by piece."""
        return powers(self._plane)

    @cached_property
    def _slopes(self) -> Plane:
        """(3, n) the same of the first derivative."""
        return slopes(self._plane)

    @cached_property
    def _arc(self) -> ArcLengths:
        if self.is_straight:
            return ArcLengths.even(abs(end - start) for start, _, _, end in self._pieces)
        return ArcLengths.of(self._plane)


def even_grid(counts: Sequence[int]) -> tuple[Spans, Array]:
    """Pieces and parameters (n,), in order, that have so many even chords each; the very end left out."""
    return np.arange(len(counts)).repeat(counts), np.concatenate([even_shares(count) for count in counts])


def _pair(place: complex) -> Array:
    return np.array([place.real, place.imag])
