"""A piece longer than the light is cut in reaches, the cloth slid between them.

It is slid along the piece's fold or grain, or square to it; where the piece is wider than the light too, it is cut in
lanes side by side. Each reach shows a little more than is cut in it, so that the next is seen to go on from there, and
ends at a plain place: away from corners and notches, where the cut line runs along.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely

from calibration.frames import Array
from patterns.tracing.hand_trace import Place
from projector.lighting.lit_area import LitArea
from projector.person import Person

EDGE_IN: Final = 0.5  # kept free at the edges of the light
STRIP_IN: Final = 3.0  # and at the near edge, for words
FAR_IN: Final = 500.0  # farther than any piece
OPEN_IN: Final = 4.0  # beyond a piece's ends: the ticks of its fold are within it, its other half is not
LIT_IN: Final = 1 / 64
SIDES_TRIED: Final = 200
LAP_IN: Final = 3.0  # of the piece is seen in both of two reaches, at least


@dataclass(frozen=True, slots=True, kw_only=True)
class ReachCrosses:
    """Two marks on the piece, in piece inches, and the error to expect of the cut lines after them.

    `at_join_in` where one reach goes over into the next, `at_most_in` where the next is farthest from the marks:
    root mean squares if each mark is 1/64 in amiss.
    """

    marks_in: tuple[Place, Place]
    at_join_in: float
    at_most_in: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Block:
    """A part of a piece, its sides along and square to the unit direction `along`, (2,) in piece inches."""

    along: Array
    along_in: tuple[float, float]
    across_in: tuple[float, float]

    @property
    def across(self) -> Array:
        """(2,) unit direction square to `along`."""
        return np.array([-self.along[1], self.along[0]])

    @property
    def corners(self) -> Array:
        """(4, 2) piece inches, one after the other round it."""
        (start, end), (low, high) = self.along_in, self.across_in
        corners = ((start, low), (end, low), (end, high), (start, high))
        return np.array([at * self.along + off * self.across for at, off in corners])

    @property
    def sides(self) -> tuple[tuple[Array, Array], ...]:
        """Of each side the direction (2,) out of it, and its ends (2, 2), in piece inches."""
        a, b, c, d = self.corners
        outwards = (
            (-self.across, (a, b)),
            (self.along, (b, c)),
            (self.across, (c, d)),
            (-self.along, (d, a)),
        )
        return tuple((outward, np.array(ends)) for outward, ends in outwards)

    @property
    def polygon(self) -> shapely.Polygon:
        """Its outline in piece inches."""
        return shapely.Polygon(self.corners)

    def margins(self, wide_in: float) -> tuple["Block", ...]:
        """What lies so far around it."""
        (start, end), (low, high) = self.along_in, self.across_in
        wide = (low - wide_in, high + wide_in)
        return tuple(
            Block(along=self.along, along_in=along_in, across_in=across_in)
            for along_in, across_in in (
                ((start - wide_in, start), wide),
                ((end, end + wide_in), wide),
                ((start, end), (low - wide_in, low)),
                ((start, end), (high, high + wide_in)),
            )
        )

    def holds(self, piece_in: Array) -> npt.NDArray[np.bool_]:
        """(n,) whether (n, 2) points of the piece are in it."""
        held = np.ones(len(piece_in), dtype=bool)
        for direction, (low, high) in ((self.along, self.along_in), (self.across, self.across_in)):
            at = piece_in @ direction
            held &= (at >= low) & (at < high)
        return held


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """What is cut without moving the cloth: from one end to the other along the piece, in inches of its `Reaches`.

    `across_in` is from where to where across it, where it is cut in lanes; None for all. `slide_in` is how far the
    cloth is moved for it, in table inches, from where it lay when it was planned; by `crosses` the cloth is found again
    for the next.
    """

    start_in: float
    end_in: float
    slide_in: Place
    crosses: ReachCrosses | None = None
    across_in: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Reaches:
    """The reaches in order; places along the piece are its points (piece inches) times the direction `along`."""

    along: tuple[float, float]
    reaches: tuple[Reach, ...]

    def slide_after(self, number: int) -> Place:
        """How far the cloth is moved after a reach, counted from 0, for the next: table inches."""
        (x, y), (next_x, next_y) = (reach.slide_in for reach in self.reaches[number : number + 2])
        return next_x - x, next_y - y

    def along_in(self, piece_in: Array) -> Array:
        """(n,) how far along the piece (n, 2) piece inches lie."""
        along: Array = piece_in @ np.array(self.along)
        return along

    @property
    def across(self) -> tuple[float, float]:
        """The direction square to `along`, in piece inches."""
        x, y = self.along
        return -y, x

    def block(self, number: int, beyond_in: float = 0.0) -> Block:
        """What of the piece is cut in a reach, counted from 0, or seen in it so far beyond."""
        reach, last = self.reaches[number], len(self.reaches) - 1
        start, end = reach.start_in, reach.end_in
        low, high = reach.across_in or (-FAR_IN, FAR_IN)
        if reach.across_in is None:
            start, end = start - OPEN_IN * (number == 0), end + OPEN_IN * (number == last)
        b = beyond_in
        return Block(along=np.array(self.along), along_in=(start - b, end + b), across_in=(low - b, high + b))

    def reach_at(self, piece_in: Array) -> int:
        """In which reach, counted from 0, a point (2,) of the piece is cut; -1 for none."""
        point = piece_in[None]
        return next((n for n in range(len(self.reaches)) if self.block(n).holds(point)[0]), -1)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Room:
    """Where lines may be lit: `normals @ p <= limits` for table inches."""

    normals: Array
    limits: Array

    def slide_into(self, points_in: Array) -> Place | None:
        """How far (n, 2) points are slid, any way, to be lit; None where they are too many for the light.

        By projections on to the sides, one after the other.
        """
        slide = np.zeros(2)
        for _ in range(SIDES_TRIED):
            over = ((points_in + slide) @ self.normals.T).max(axis=0) - self.limits
            if over.max() <= LIT_IN:
                return float(slide[0]), float(slide[1])
            slide -= over.max() * self.normals[over.argmax()]
        return None

    def slides(self, over: Array, along: Array) -> tuple[float, float]:
        """How far points may be slid along a direction (2,), from least to most; least > most if never.

        `over` (k,) is for each side how far the farthest of them lies beyond it; negative inside.
        """
        slope = self.normals @ along
        if (over[np.abs(slope) < 1e-9] > 0).any():
            return 0.0, -1.0
        bounds = -over / np.where(np.abs(slope) < 1e-9, np.inf, slope)
        most = bounds[slope >= 1e-9].min(initial=np.inf)
        least = bounds[slope <= -1e-9].max(initial=-np.inf)
        return float(least), float(most)


def room_in(lit: LitArea, person: Person) -> Room:
    """Within the light, without its edges and the strip."""
    border = lit.border_in
    sides = np.roll(border, -1, axis=0) - border
    normals = np.column_stack([sides[:, 1], -sides[:, 0]])
    normals /= np.hypot(*normals.T)[:, None]
    limits = (normals * border).sum(axis=1) - EDGE_IN
    near = -person.axes[1]
    return Room(
        normals=np.vstack([normals, near]),
        limits=np.append(limits, float((border @ near).max()) - STRIP_IN),
    )
