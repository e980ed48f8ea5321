"""A piece longer than the light is cut in reaches, the cloth slid between them.

It is slid along the piece's fold or grain, or square to it. Each reach shows a little more than is cut in it, so that
the next is seen to go on from there, and ends at a plain place: away from corners and notches, where the cut line
runs along.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.tracing.hand_trace import Place
from projector.lighting.lit_area import LitArea
from projector.person import Person

EDGE_IN: Final = 0.5  # kept free at the edges of the light
STRIP_IN: Final = 3.0  # and at the near edge, for words
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """What is cut without moving the cloth: from one end to the other along the piece, in inches of its `Reaches`.

    `slide_in` is how far the cloth is moved for it, in table inches, from where it lay when it was planned; by
    `crosses` the cloth is found again for the next.
    """

    start_in: float
    end_in: float
    slide_in: Place
    crosses: ReachCrosses | None = None


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


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Room:
    """Where lines may be lit: `normals @ p <= limits` for table inches."""

    normals: Array
    limits: Array

    def over(self, points_in: Array) -> Array:
        """(k,) for each side, how far the farthest of (n, 2) points lies beyond it; negative inside."""
        over: Array = (points_in @ self.normals.T).max(axis=0) - self.limits
        return over

    def slides(self, points_in: Array, along: Array) -> tuple[float, float]:
        """How far (n, 2) points may be slid along a direction (2,), from least to most; least > most if never."""
        over, slope = self.over(points_in), self.normals @ along
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
