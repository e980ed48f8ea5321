"""A traced contour made ready: closed, checked, walked one way round, its noise told from its shape."""

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely

from patterns.curves import Array
from patterns.loop import crossing_of
from patterns.saying import LengthError
from patterns.shape import signed_area

STEP_IN: Final = 1 / 16  # of the even walk that corners and straight sides are looked for on
SMALLEST_IN: Final = 6.0  # a half garment is larger; a smaller outline is a scrap or a slip of scale
WAVE_IN: Final = 0.4  # noise in shorter waves is averaged out of fits; a seam bends in no shorter ones
_SIGMAS: Final = 1.4826  # of a normal spread in its median absolute
_CUBIC_GAIN: Final = math.sqrt(1 + 34 / 36)  # of noise in an average less the cubic through its neighbours
_DENSE_IN: Final = 0.1  # between points that a finder traced rather than a person set
_WAY: Final = 8  # points on either side that show which way the contour goes
_GAP_IN: Final = 1 / 32  # gaps between traced points are filled with straight lines up to here
_JUMP_IN: Final = 3 * _GAP_IN  # between seen points further apart than this, something is hidden
_LOOP_IN2: Final = 0.2  # of crossings taken off: a half-inch loop is no part of a garment
_SMOOTHED: Final = 3.0  # times the noise: the walk's reach of smoothing, well below any curve of a seam

Flags = npt.NDArray[np.bool_]


@dataclass(frozen=True, kw_only=True, eq=False)
class Contour:
    """A closed contour in table inches, walked counter-clockwise seen with y up.

    `points` (n, 2) are as traced, `calm` (n, 2) the same with their noise of `noise_in` (one sigma, square
    to the edge; at least as much as shows from point to point) smoothed out, which rounds the corners a little,
    and `along` (n,) inches along the calm ones. `seen` (n,) is False where something lay over the edge and the
    points are a guess.
    """

    points: Array
    calm: Array
    along: Array
    seen: Flags
    length_in: float
    noise_in: float

    @classmethod
    def read(cls, contour_in: Array, noise_in: float, hidden_in: Array | None = None) -> "Contour":
        """The contour from (n, 2) points in order, closed or not, walked either way.

        `hidden_in` (k, 2, 2) are both ends of each stretch of it that was not seen.

        Raises PatternError if it is too small to be a garment or crosses itself, ValueError for what is not
        a contour at all.
        """
        points = np.asarray(contour_in, dtype=np.float64)
        if points.ndim != 2 or points.shape[1] != 2 or not np.isfinite(points).all():
            raise ValueError(f"a contour must be (n, 2) finite numbers, not {points.shape}")
        if not 0 <= noise_in < 1:
            raise ValueError(f"noise of {noise_in} in is no noise of a contour")
        points = _walked(points)
        noise_in = max(noise_in, _rough(points))
        made = cls._of(points, noise_in, hidden_in)
        if made._crosses:
            made = cls._of(_without_loops(points), noise_in, hidden_in)
        made._check_crossing()
        return made

    @classmethod
    def _of(cls, points: Array, noise_in: float, hidden_in: Array | None) -> "Contour":
        points = shapely.get_coordinates(shapely.segmentize(shapely.LinearRing(points), _GAP_IN))[:-1]
        spacing = _outline_length(points, noise_in) / len(points)
        calm = _smoothed(points, _SMOOTHED * noise_in / spacing)
        steps = np.hypot(*(np.roll(calm, -1, axis=0) - calm).T)
        along = np.concatenate([[0.0], np.cumsum(steps)])
        return cls(
            points=points,
            calm=calm,
            along=along[:-1],
            seen=_seen(points, hidden_in),
            length_in=float(along[-1]),
            noise_in=noise_in,
        )

    @cached_property
    def walk(self) -> Array:
        """(m, 2) calm points at even steps of about STEP_IN; point i lies `i * step_in` along."""
        count = round(self.length_in / STEP_IN)
        return self.at(np.linspace(0, self.length_in, count, endpoint=False))

    @property
    def step_in(self) -> float:
        """Inches between points of the walk."""
        return self.length_in / len(self.walk)

    @cached_property
    def waves_in(self) -> float:
        """One sigma of the noise that is left of averages over WAVE_IN of the contour, in inches.

        Seen from how far each average lies off the cubic through its four neighbours, at the median place; so
        corners do not count, nor does one scalloped edge.
        """
        count = max(round(self.length_in / WAVE_IN), 5)
        cell = (self.along / self.length_in * count).astype(np.intp)
        sums = np.stack([np.bincount(cell, self.points[:, i], count) for i in (0, 1)], axis=1)
        mean = sums / np.maximum(np.bincount(cell, minlength=count), 1)[:, None]
        one, two = (np.roll(mean, n, axis=0) + np.roll(mean, -n, axis=0) for n in (1, 2))
        off = mean - (4 * one - two) / 6
        way = np.roll(mean, -1, axis=0) - np.roll(mean, 1, axis=0)
        beside = (way[:, 0] * off[:, 1] - way[:, 1] * off[:, 0]) / np.maximum(np.hypot(*way.T), 1e-9)
        return float(np.median(np.abs(beside))) * _SIGMAS / _CUBIC_GAIN

    def at(self, along_in: Array) -> Array:
        """(k, 2) calm points at (k,) inches along, going round as often as need be."""
        ends = np.append(self.along, self.length_in)
        closed = np.concatenate([self.calm, self.calm[:1]])
        place = np.mod(along_in, self.length_in)
        return np.stack([np.interp(place, ends, closed[:, i]) for i in (0, 1)], axis=1)

    def seen_at(self, along_in: Array) -> Flags:
        """(k,) whether the contour was seen at (k,) inches along, going round as often as need be."""
        place = np.mod(along_in, self.length_in)
        return self.seen[np.searchsorted(self.along, place, side="right") - 1]

    def between(self, start_in: float, end_in: float) -> tuple[Array, Array]:
        """Traced points (k, 2) from `start_in` on to `end_in`, and (k,) how far past `start_in` each lies."""
        past = np.mod(self.along - start_in, self.length_in)
        reach = (end_in - start_in) % self.length_in
        inside = np.flatnonzero(past <= reach)
        order = inside[np.argsort(past[inside], kind="stable")]
        return self.points[order], past[order]

    @cached_property
    def hidden(self) -> tuple[tuple[float, float], ...]:
        """Where each stretch that was not seen begins and ends along, the end the larger."""
        if self.seen.all():
            return ()
        begins = np.flatnonzero(self.seen & ~np.roll(self.seen, -1))
        ends = np.flatnonzero(~np.roll(self.seen, 1) & self.seen)
        ends = np.roll(ends, -int(np.searchsorted(ends, begins[0], side="right")))
        starts = self.along[begins]
        return tuple(
            (float(start), float(start + (end - start) % self.length_in))
            for start, end in zip(starts, self.along[ends], strict=True)
        )

    def hidden_past(self, along_in: float, ahead: float) -> float:
        """Inches from `along_in` to the end of the hidden stretch that it lies in, or 0 where it lies in none.

        `ahead` is 1 for the end that the walk comes to and -1 for the other.
        """
        for start, end in self.hidden:
            past = (along_in - start) % self.length_in
            if past < end - start:
                return end - start - past if ahead > 0 else past
        return 0.0

    def seen_from(
        self, start_in: float, ahead: float, near_in: float, reach_in: float
    ) -> tuple[Array, Array]:
        """Points (k, 2) on `reach_in` of seen contour from `near_in` past `start_in` on, and (k,) how far past.

        `ahead` is 1 for on the walk and -1 for back. What is hidden is passed over.
        """
        first = int(np.searchsorted(self.along, (start_in + ahead * near_in) % self.length_in))
        places = np.arange(len(self.along))
        order = (first + places if ahead > 0 else first - 1 - places) % len(places)
        past = np.mod(ahead * (self.along - start_in), self.length_in)
        order = order[self.seen[order] & (past[order] >= near_in)]
        steps = np.diff(past[order], prepend=near_in)
        steps[steps > _JUMP_IN] = 0.0
        inside = order[np.cumsum(steps) <= reach_in]
        return self.points[inside], past[inside]

    @property
    def _crosses(self) -> bool:
        return not shapely.is_valid(shapely.Polygon(self.walk))

    def _check_crossing(self) -> None:
        if self._crosses:
            x, y = crossing_of(self.walk)
            raise LengthError(
                lambda say: (
                    f"the contour crosses or touches itself near {say.place(x, y)} on the table; lay the garment so "
                    "that no part lies over another's edge, and trace it once round"
                )
            )


def _walked(points: Array) -> Array:
    """The points once round, counter-clockwise, without repeats."""
    moves = np.hypot(*(np.roll(points, -1, axis=0) - points).T) > 0
    points = points[moves]
    across = np.ptp(points, axis=0) if len(points) else np.zeros(2)
    if len(points) < 3 or float(across.max()) < SMALLEST_IN:
        raise LengthError(
            lambda say: (
                f"the contour is {say(float(across.max()))} across, and a half garment is at least "
                f"{say(SMALLEST_IN)}; trace the whole garment, and check the scale"
            )
        )
    return points if signed_area(points) > 0 else points[::-1].copy()


def _without_loops(points: Array) -> Array:
    """The closed points without the small loops that noise and prints make; larger ones are left to be told of."""
    parts = shapely.get_parts(shapely.make_valid(shapely.Polygon(points)))
    largest = shapely.Polygon(shapely.get_exterior_ring(parts[np.argmax(shapely.area(parts))]))
    if float(shapely.area(shapely.symmetric_difference(largest, shapely.union_all(parts)))) > _LOOP_IN2:
        return points
    ring = shapely.get_coordinates(largest.exterior)[:-1]
    return ring if signed_area(ring) > 0 else ring[::-1].copy()


def _rough(points: Array) -> float:
    """One sigma of the noise from point to point, in inches: of points off the middle of their neighbours.

    None shows where points are few and far between, as a person sets them.
    """
    if float(np.median(np.hypot(*(np.roll(points, -1, axis=0) - points).T))) > _DENSE_IN:
        return 0.0
    way = np.roll(points, -_WAY, axis=0) - np.roll(points, _WAY, axis=0)
    off = points - (np.roll(points, 1, axis=0) + np.roll(points, -1, axis=0)) / 2
    beside = (way[:, 0] * off[:, 1] - way[:, 1] * off[:, 0]) / np.maximum(np.hypot(*way.T), 1e-9)
    return float(np.median(np.abs(beside))) * _SIGMAS / math.sqrt(1.5)


def _outline_length(points: Array, noise_in: float) -> float:
    """Inches round the contour, the zigzag of its noise left out."""
    ring = shapely.LinearRing(points)
    return float(shapely.length(shapely.simplify(ring, 3 * noise_in) if noise_in else ring))


def _smoothed(points: Array, reach: float) -> Array:
    """The closed (n, 2) points averaged over neighbours within about `reach` places."""
    if reach < 0.5:
        return points
    from scipy.ndimage import gaussian_filter1d  # 0.1 s to import

    calm: Array = np.asarray(gaussian_filter1d(points, reach, axis=0, mode="wrap"), dtype=np.float64)
    return calm


def _seen(points: Array, hidden_in: Array | None) -> Flags:
    """(n,) which of the closed (n, 2) points lie on no stretch between two ends of `hidden_in` (k, 2, 2)."""
    seen = np.ones(len(points), dtype=np.bool_)
    if hidden_in is None:
        return seen
    hidden_in = np.asarray(hidden_in, dtype=np.float64).reshape(-1, 2, 2)
    for ends in hidden_in:
        first, last = sorted(int(np.argmin(np.hypot(*(points - end).T))) for end in ends)
        if last - first > len(points) / 2:
            seen[last:] = seen[: first + 1] = False
        else:
            seen[first : last + 1] = False
    return seen
