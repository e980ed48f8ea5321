"""Traced points to a path of few points: straight where straight is enough, else a natural cubic spline."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from patterns.curves import Array, Curve
from patterns.parts import Bend
from patterns.tracing.contour import WAVE_IN
from patterns.tracing.natural_spline import chord_places, natural_weights

CLOSE_IN: Final = 1 / 64  # promised of fitted edges to a clean contour: a hair on a steel rule
_AIM: Final = 0.5  # of that is aimed at, which costs few points and leaves the rest for corners
MOST_KNOTS: Final = 24  # of one edge; a curve that wants more follows noise
_SPACING_IN: Final = 0.08  # of the points fitted to; denser ones are averaged
_CLEAN_IN: Final = 1e-3  # less noise than this is none
_HOLD: Final = 1e-7  # weight of a point's own place in its fit, a traced point's being 1
_NEAR_END_IN: Final = 1 / 2  # an edge may leave its contour there for its corner, which is known less well
_REFITS: Final = 3  # knots and feet move each other; after three rounds they stand still


@dataclass(frozen=True, kw_only=True, eq=False)
class Fitted:
    """A path's `points` (k, 2) inches, how it runs through them, and how far the traced points stray."""

    points: Array
    bend: Bend
    stray_in: float

    @property
    def curve(self) -> Curve:
        """The path as a curve."""
        return Curve.straight(self.points) if self.bend is Bend.STRAIGHT else Curve.smooth(self.points)


def tolerance_for(waves_in: float) -> float:
    """Inches that fitted edges stray at most from a contour with so much noise in waves longer than WAVE_IN."""
    return CLOSE_IN + 3 * waves_in


def aim_for(waves_in: float) -> float:
    """Inches of stray to aim at, within `tolerance_for` the same noise."""
    return _AIM * CLOSE_IN + 2 * waves_in


def fitted(traced: Array, start: Array, end: Array, *, aim_in: float, waves_in: float = 0.0) -> Fitted:
    """The path of few points from `start` (2,) to `end` (2,) that strays at most `aim_in`.

    `traced` (n, 2) lie between the two in order. Of noisy points the stray is that of their average over
    WAVE_IN. A path that would need more than MOST_KNOTS points keeps that many and says its stray.
    """
    target = _Target.of(traced, start, end, waves_in)
    knots = np.array([0.0, 1.0])
    best, widest = target.fit(knots)
    while best.stray_in > aim_in and len(knots) < MOST_KNOTS:
        span = min(max(int(np.searchsorted(knots, widest)), 1), len(knots) - 1)
        knots = np.insert(knots, span, knots[span - 1 : span + 1].mean())
        best, widest = target.fit(knots)
    return _thinned(target, best, knots, aim_in)


def _thinned(target: "_Target", best: Fitted, knots: Array, aim_in: float) -> Fitted:
    """The path without the knots that it can spare, the others moved to where they serve best."""
    while len(knots) > 2 and best.stray_in <= aim_in:
        tries = [_spread(np.delete(knots, i), i) for i in range(1, len(knots) - 1)]
        fits = [target.fit(fewer)[0] for fewer in tries]
        least = int(np.argmin([fit.stray_in for fit in fits]))
        if fits[least].stray_in > aim_in:
            break
        best, knots = fits[least], tries[least]
    return best


def _spread(knots: Array, gap: int) -> Array:
    """The knots with those on both sides of a gap moved a little into it."""
    moved = knots.copy()
    low, high = knots[gap - 1], knots[gap]
    if gap - 1 > 0:
        moved[gap - 1] += (high - low) / 8
    if gap < len(knots) - 1:
        moved[gap] -= (high - low) / 8
    return moved


@dataclass(frozen=True, kw_only=True, eq=False)
class _Target:
    """Points (n, 2) to fit, their shares (n,) of the way from 0 to 1, and how many are averaged for a stray.

    `counts` (n,) is how far a stray there counts: less near the ends, whose places are not the contour's own.
    """

    points: Array
    shares: Array
    counts: Array
    start: Array
    end: Array
    calm: int

    @classmethod
    def of(cls, traced: Array, start: Array, end: Array, waves_in: float) -> "_Target":
        path = np.concatenate([start[None], traced, end[None]])
        rough = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(path, axis=0).T))])
        cells = max(int(np.hypot(*(end - start)) / _SPACING_IN), 8)
        bins = np.minimum((rough[1:-1] / rough[-1] * cells).astype(np.intp), cells - 1)
        counts = np.bincount(bins, minlength=cells)
        full = counts > 0
        sums = np.stack([np.bincount(bins, weights=traced[:, i], minlength=cells) for i in (0, 1)], axis=1)
        points = sums[full] / counts[full, None]
        way = np.concatenate([start[None], points, end[None]])
        along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(way, axis=0).T))])
        calm = max(round(WAVE_IN / (along[-1] / len(way))), 1) if waves_in > _CLEAN_IN else 1
        shares = along[1:-1] / along[-1]
        from_end = np.minimum(along[1:-1], along[-1] - along[1:-1])
        counts = np.minimum(from_end / min(_NEAR_END_IN, along[-1] / 4), 1.0)
        return cls(points=points, shares=shares, counts=counts, start=start, end=end, calm=calm)

    def fit(self, knots: Array) -> tuple[Fitted, float]:
        """The path with knots at these shares (k,) of the way, and the share at which it strays most."""
        if len(knots) == 2:
            length = np.hypot(*(self.end - self.start))
            return self._judged(np.stack([self.start, self.end]), self.shares * length)
        at = np.concatenate([[0.0], self.shares, [1.0]])
        way = np.concatenate([self.start[None], self.points, self.end[None]])
        points = np.stack([np.interp(knots, at, way[:, i]) for i in (0, 1)], axis=1)
        places = chord_places(points)
        feet = np.interp(self.shares, knots, places)
        for _ in range(_REFITS):
            values, slopes = natural_weights(places, feet)
            points[1:-1] = self._inner(values, points)
            feet = np.clip(feet + self._off(values, slopes, points)[0], 0.0, places[-1])
            moved = chord_places(points)
            feet = np.interp(feet, places, moved)
            places = moved
        return self._judged(points, feet)

    def _inner(self, values: Array, points: Array) -> Array:
        """(k - 2, 2) points between the ends that fit best; where nothing is traced they stay as they are."""
        inner = values[:, 1:-1]
        rest = self.points - np.outer(values[:, 0], self.start) - np.outer(values[:, -1], self.end)
        hold = _HOLD * len(rest)
        best = np.linalg.solve(
            inner.T @ inner + hold * np.eye(inner.shape[1]), inner.T @ rest + hold * points[1:-1]
        )
        return np.asarray(best, dtype=np.float64)

    def _off(self, values: Array, slopes: Array, points: Array) -> tuple[Array, Array]:
        """How far on along the spline each traced point's foot is, and how far beside it the point, (n,) each."""
        off, slope = self.points - values @ points, slopes @ points
        squared = (slope**2).sum(axis=1)
        on = (off * slope).sum(axis=1) / squared
        beside = (slope[:, 0] * off[:, 1] - slope[:, 1] * off[:, 0]) / np.sqrt(squared)
        return on, beside

    def _judged(self, points: Array, feet: Array) -> tuple[Fitted, float]:
        _, strays = self._off(*natural_weights(chord_places(points), feet), points)
        width = min(self.calm, len(strays))
        calm = np.abs(np.convolve(strays * self.counts, np.full(width, 1 / width), mode="valid"))
        worst = int(np.argmax(calm))
        bend = Bend.STRAIGHT if len(points) == 2 else Bend.SMOOTH
        fit = Fitted(points=points, bend=bend, stray_in=float(calm[worst]))
        return fit, float(self.shares[worst + width // 2])
