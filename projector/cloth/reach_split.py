"""How a piece is split into reaches in a row: as few as can be, ended at plain places, the cloth slid evenly."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from typing import Final

import numpy as np
import shapely

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.marks import LineKind, lines_of
from patterns.cutting.placement import Placement
from patterns.tracing.hand_trace import Place
from projector.cloth.on_cloth import piece_line
from projector.cloth.reaches import LAP_IN, Reach, Reaches, Room
from projector.errors import ProjectorError

STEP_IN: Final = 0.25  # between the places that are looked at
PLAIN_IN: Final = 3.0  # from a corner or a notch: farther is no plainer
EVEN: Final = 0.05  # what an inch from an even split is worth, in inches from a corner
CORNER_DEG: Final = 10.0
MOST: Final = 12  # of reaches: a light that needs more is no light to cut by
ENOUGH_IN: Final = 4.0  # farther sideways than where it first fits, it is not looked for a shorter way
ACROSS_IN: Final = tuple(np.arange(0.0, 24.0, 0.5).tolist())  # by which the cloth may be slid sideways first


def row_of(piece: DraftedPiece, placement: Placement, room: Room) -> Reaches | None:
    """The fewest reaches in a row that cut the piece, the first as near to where it lies as may be.

    One where it fits in one; none where it is too wide for the light whichever way the cloth is slid.
    """
    found: list[tuple[int, float, int, Array, float, list[Part]]] = []
    for along in ways(piece, placement):
        split, nearest = Split(piece, placement, room, along), np.inf  # beyond it no sideways slide is better
        for across in sorted((*ACROSS_IN, *(-off for off in ACROSS_IN[1:])), key=abs):
            if abs(across) >= nearest:
                break
            plan = split.plan(across)
            if plan:
                off = float(np.hypot(across, plan[0].slide_in))
                found.append((len(plan), off, len(found), along, across, plan))
                nearest = min(nearest, off, abs(across) + ENOUGH_IN)
    if not found:
        return None
    *_, along, across, plan = min(found, key=lambda one: one[:3])
    origin = np.array([placement.x_in, placement.y_in])
    sideways = across * leftward(along)
    reaches = tuple(
        Reach(
            start_in=part.start_in - float(origin @ along),
            end_in=part.end_in - float(origin @ along),
            slide_in=_place(part.slide_in * along + sideways),
        )
        for part in plan
    )
    return Reaches(along=_place(placement.lifted((origin + along)[None])[0]), reaches=reaches)


def ways(piece: DraftedPiece, placement: Placement) -> tuple[Array, ...]:
    """(2,) the directions on the table in which the cloth may be slid: along fold or grain, and square to it."""
    try:
        own = placement.direction(piece_line(piece, placement).along)
    except ProjectorError:
        own = _longest(placement.placed(piece.cut_line))
    return own, -own, leftward(own), -leftward(own)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """From one end to the other along the piece, and how far it is slid for it, inches of the table."""

    start_in: float
    end_in: float
    slide_in: float


class Split:
    """A placed piece, or what of it is in a lane between two places to the left, split along one direction."""

    def __init__(
        self,
        piece: DraftedPiece,
        placement: Placement,
        room: Room,
        along: Array,
        lane_in: tuple[float, float] = (-np.inf, np.inf),
    ) -> None:
        self._along, self._room = along, room
        lines = lines_of(piece, placement)
        cut = next(line for line in lines if line.kind is LineKind.CUT)
        self._edge = cut_path(piece, placement)
        whole = dense(np.vstack([cut.points, cut.points[:1]]))
        left = whole @ leftward(along)
        whole = whole[(left >= lane_in[0]) & (left <= lane_in[1])]
        order = np.argsort(whole @ along)
        self._at = whole[order] @ along
        self._over = np.ascontiguousarray(room.normals @ whole[order].T)
        marks = np.vstack(
            [_corners(cut.points, closed=cut.closed)]
            + [line.points for line in lines if line.kind in (LineKind.NOTCH, LineKind.CLIP)]
        )
        clear = shapely.distance(shapely.multipoints(marks), shapely.points(self._edge[:-1]))
        steps = np.diff(self._edge, axis=0)
        straight = np.abs(steps @ along) / np.maximum(np.hypot(*steps.T), 1e-12)
        self._worth = np.minimum(clear, PLAIN_IN) * straight

    @property
    def _whole(self) -> tuple[float, float]:
        return float(self._at[0]), float(self._at[-1])

    def plan(self, across_in: float) -> list[Part]:
        """The parts with the cloth slid so far sideways first; none where they are too wide."""
        room = replace(
            self._room, limits=self._room.limits - across_in * self._room.normals @ leftward(self._along)
        )
        first, last = self._whole
        latest = self._latest(room)
        if latest is None:
            return []
        earliest = self._earliest(room, len(latest))
        ends, start = [], first
        for k, (low, high) in enumerate(zip(earliest, latest, strict=True)):
            high = min(high, self._far(room, self._shown_from(start)) - LAP_IN / 2)
            even = first + (last - first) * (k + 1) / (len(latest) + 1)
            ends.append(self.plainest(min(low, high), high, even))
            start = ends[-1]
        spans = list(pairwise((first, *ends, last)))
        bounds = [self._slides(room, self._shown_from(start), self._shown_to(end)) for start, end in spans]
        return [
            Part(start_in=start, end_in=end, slide_in=slide)
            for (start, end), slide in zip(spans, _even_slides(bounds), strict=True)
        ]

    def _latest(self, room: Room) -> list[float] | None:
        """How far each reach but the last can go; None where the light is too narrow."""
        start, last = self._whole
        ends: list[float] = []
        while (far := self._far(room, self._shown_from(start))) < last:
            end = far - LAP_IN / 2
            if end < start + LAP_IN or len(ends) == MOST:
                return None
            ends.append(end)
            start = end
        return ends

    def _earliest(self, room: Room, count: int) -> list[float]:
        """Where each reach but the last must have come to, for the rest to be done in as few."""
        _, end = self._whole
        ends: list[float] = []
        for _ in range(count):
            end = self._near(room, self._shown_to(end)) + LAP_IN / 2
            ends.insert(0, end)
        return ends

    def _shown_from(self, start: float) -> float:
        return max(start - LAP_IN / 2, self._whole[0])

    def _shown_to(self, end: float) -> float:
        return min(end + LAP_IN / 2, self._whole[1])

    def _far(self, room: Room, start: float) -> float:
        """The farthest end up to which the piece can be lit from `start` on."""
        low, high = start, self._whole[1]
        if self._fits(room, start, high):
            return high
        while high - low > STEP_IN / 4:
            middle = (low + high) / 2
            low, high = (middle, high) if self._fits(room, start, middle) else (low, middle)
        return low

    def _near(self, room: Room, end: float) -> float:
        """The nearest start from which it can be lit up to `end`."""
        low, high = self._whole[0], end
        while high - low > STEP_IN / 4:
            middle = (low + high) / 2
            low, high = (low, middle) if self._fits(room, middle, end) else (middle, high)
        return high

    def _fits(self, room: Room, start: float, end: float) -> bool:
        least, most = self._slides(room, start, end)
        return least <= most

    def _slides(self, room: Room, start: float, end: float) -> tuple[float, float]:
        one = int(np.searchsorted(self._at, start - STEP_IN))
        other = int(np.searchsorted(self._at, end + STEP_IN))
        if one == other:
            return -np.inf, np.inf
        return room.slides(self._over[:, one:other].max(axis=1) - room.limits, self._along)

    def plainest(self, low: float, high: float, even: float) -> float:
        """Where in between the cut line runs along, far from its corners and marks; near `even` where all is alike."""
        places = np.arange(low, high + 1e-9, STEP_IN)
        before = self._edge @ self._along < places[:, None]
        worth = np.where(before[:, 1:] != before[:, :-1], self._worth, np.inf).min(axis=1)
        worth[np.isinf(worth)] = 0.0
        return float(places[np.argmax(worth - EVEN * np.abs(places - even))])


def _even_slides(bounds: Sequence[tuple[float, float]]) -> list[float]:
    """How far the cloth is slid for each reach, as evenly as may be: any two reaches then share much of the cloth."""
    first, last = (min(max(0.0, least), most) for least, most in (bounds[0], bounds[-1]))
    even = np.linspace(first, last, len(bounds)).tolist()
    return [min(max(slide, least), most) for slide, (least, most) in zip(even, bounds, strict=True)]


@lru_cache(maxsize=32)
def cut_path(piece: DraftedPiece, placement: Placement) -> Array:
    """(n, 2) table inches along the line that is cut, finely: of a half, without its fold."""
    cut = next(line for line in lines_of(piece, placement) if line.kind is LineKind.CUT)
    return dense(np.vstack([cut.points, cut.points[:1]]) if cut.closed else cut.points)


def dense(path: Array) -> Array:
    """A path (n, 2) with points at most `STEP_IN` apart."""
    runs = []
    for one, other in pairwise(path):
        count = max(1, int(np.ceil(np.hypot(*(other - one)) / STEP_IN)))
        runs.append(one + np.arange(count)[:, None] / count * (other - one))
    return np.vstack([*runs, path[-1:]])


def _corners(path: Array, *, closed: bool) -> Array:
    """(k, 2) the points where the path turns sharply, and the ends of an open one."""
    before, after = path - np.roll(path, 1, axis=0), np.roll(path, -1, axis=0) - path
    turn = np.arctan2(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0], (before * after).sum(axis=1))
    sharp = np.abs(turn) > np.deg2rad(CORNER_DEG)
    if not closed:
        sharp[[0, -1]] = True
    corners: Array = path[sharp]
    return corners


def _longest(points: Array) -> Array:
    """(2,) the unit direction in which points reach farthest."""
    _, _, axes = np.linalg.svd(points - points.mean(axis=0))
    longest: Array = axes[0]
    return longest


def _place(point: Array) -> Place:
    return float(point[0]), float(point[1])


def leftward(along: Array) -> Array:
    """(2,) the direction square to it, to its left."""
    return np.array([-along[1], along[0]])
