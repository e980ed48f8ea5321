"""What the light falls on at the practice table: a top that may bow, and printed sheets that may curl."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from calibration.frames import Array, SheetInches

TABLE_IN = (60.0, 36.0)  # what has to be lit, seen and true
FLOOR_IN = -30.0  # height of the floor: what light misses the table falls there, elsewhere
CURL_REACH_IN = 5.5  # half the long side of a letter page: where a curl has its full lift

_CURL_LIMIT = 1.6  # beyond the page's corners the curl rises no further
_MEETINGS = 7  # each step of ray against surface gains more than two digits on surfaces this flat
_WAVES = 6
_FIXED_POINT_STEPS = 6

Height = Callable[[Array], Array]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pose:
    """A frame lying in another: its origin there, and its counter-clockwise turn seen from above."""

    x_in: float = 0.0
    y_in: float = 0.0
    turn_deg: float = 0.0

    def outward(self, points: Array) -> Array:
        """(n, 2) points of this frame to the frame it lies in."""
        placed: Array = points @ self._turn.T + (self.x_in, self.y_in)
        return placed

    def inward(self, points: Array) -> Array:
        """(n, 2) points of the frame it lies in to this frame."""
        own: Array = (points - (self.x_in, self.y_in)) @ self._turn
        return own

    @property
    def _turn(self) -> Array:
        c, s = np.cos(np.radians(self.turn_deg)), np.sin(np.radians(self.turn_deg))
        return np.array([[c, -s], [s, c]])


@dataclass(frozen=True, slots=True, kw_only=True)
class TableTop:
    """A top of `size_in` whose height over its middle is a quadric.

    `bow_x_in` is the height in inches at the middle of the two short sides of `TABLE_IN`, `bow_y_in` at the
    middle of its two long sides; both zero is flat. What light misses a top falls on the floor.
    """

    size_in: tuple[float, float] = TABLE_IN
    bow_x_in: float = 0.0
    bow_y_in: float = 0.0

    def height(self, room_xy: Array) -> Array:
        """(n,) height in inches of the surface at (n, 2) room inches."""
        half = np.array(TABLE_IN) / 2
        height: Array = ((room_xy / half) ** 2) @ (self.bow_x_in, self.bow_y_in)
        return height

    def inside_in(self, room_xy: Array) -> Array:
        """(n,) inches from (n, 2) room inches to the nearest edge of the top, negative beside it."""
        inside: Array = (np.array(self.size_in) / 2 - np.abs(room_xy)).min(axis=1)
        return inside


@dataclass(frozen=True, slots=True, kw_only=True)
class Print:
    """What the printer made of a sheet: scale across and up the page, and smooth wandering of the ink.

    `jitter_in` is the root mean square of each coordinate's wandering; `seed` tells one sheet from another.
    """

    scale_x: float = 1.0
    scale_y: float = 1.0
    jitter_in: float = 0.0
    seed: int = 0

    def drawn_from_inked(self, inked_in: Array) -> Array:
        """(n, 2) inches on the paper to (n, 2) inches of the drawing whose ink lies there."""
        drawn: Array = (inked_in - self._wander(inked_in)) / (self.scale_x, self.scale_y)
        return drawn

    def inked_from_drawn(self, drawn_in: Array) -> Array:
        """(n, 2) inches of the drawing to (n, 2) inches on the paper where its ink lies."""
        scaled = drawn_in * (self.scale_x, self.scale_y)
        inked: Array = scaled
        for _ in range(_FIXED_POINT_STEPS if self.jitter_in else 0):
            inked = scaled + self._wander(inked)
        return inked

    def _wander(self, inked_in: Array) -> Array:
        if not self.jitter_in:
            return np.zeros_like(inked_in)
        rng = np.random.default_rng(self.seed)
        length_in = rng.uniform(2.0, 8.0, (2, _WAVES))
        along = rng.uniform(0.0, 2 * np.pi, (2, _WAVES))
        phase = rng.uniform(0.0, 2 * np.pi, (2, _WAVES))
        size_in = self.jitter_in * np.sqrt(2 / _WAVES)
        moved = []
        for axis in range(2):
            wave = np.stack([np.cos(along[axis]), np.sin(along[axis])]) * (2 * np.pi / length_in[axis])
            moved.append(size_in * np.sin(inked_in @ wave + phase[axis]).sum(axis=1))
        return np.stack(moved, axis=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidSheet:
    """A printed sheet on the table: number from 1, place in the room, print, and curl.

    The paper bends about one line through its centre: lifted `middle_lift_in` along that line and
    `edge_lift_in` at `CURL_REACH_IN` to both sides of it, in direction `curl_deg` on the page. The
    shortening that bending causes (under 0.0005 in for 1/16 in of lift) is left out.
    """

    number: int
    pose: Pose
    print: Print = Print()
    middle_lift_in: float = 0.0
    edge_lift_in: float = 0.0
    curl_deg: float = 0.0

    def lift(self, page_in: Array) -> Array:
        """(n,) inches that the paper stands off the table at (n, 2) inches from the page's centre."""
        angle = np.radians(self.curl_deg)
        across = (page_in @ (np.cos(angle), np.sin(angle))) / CURL_REACH_IN
        lift: Array = self.middle_lift_in + (self.edge_lift_in - self.middle_lift_in) * np.minimum(
            across**2, _CURL_LIMIT
        )
        return np.maximum(lift, 0.0)

    def height(self, top: TableTop) -> Height:
        """The height function of the paper on `top`, over room inches."""
        return lambda room_xy: top.height(room_xy) + self.lift(self.pose.inward(room_xy))

    def room_from_drawn(self, drawn_in: SheetInches, top: TableTop) -> Array:
        """(n, 2) inches as drawn to (n, 3) room inches where that ink truly lies."""
        room_xy = self.pose.outward(self.print.inked_from_drawn(drawn_in))
        return on_surface(room_xy, self.height(top))


def floor(room_xy: Array) -> Array:
    """(n,) height of the floor at (n, 2) room inches."""
    return np.full(len(room_xy), FLOOR_IN)


def on_surface(room_xy: Array, height: Height) -> Array:
    """(n, 2) room inches to (n, 3): the points of the surface straight above or below them."""
    return np.column_stack([room_xy, height(room_xy)])


def meet_surface(from_in: tuple[float, float, float], rays: Array, height: Height) -> Array:
    """(n, 2) room x and y where rays from a point meet a nearly flat surface; (n, 3) directions.

    ValueError if a ray does not go down.
    """
    if len(rays) and rays[:, 2].max() >= 0:
        raise ValueError("a ray that does not go down never meets the table")
    slope = rays[:, :2] / -rays[:, 2:]
    start = np.array(from_in[:2])
    room_xy: Array = start + slope * from_in[2]
    for _ in range(_MEETINGS):
        room_xy = start + slope * (from_in[2] - height(room_xy))[:, None]
    return room_xy
