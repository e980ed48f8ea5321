"""Pieces pushed along the cloth, each as near to the cut end as those before it allow."""

import math
from dataclasses import dataclass
from itertools import product
from typing import Final

import numpy as np

from patterns.curves import Array
from patterns.laying.cloth import Cloth
from patterns.laying.lay import PieceOnCloth
from patterns.laying.profile import Profile
from patterns.laying.remnant import Standing
from patterns.planning.clashes import Outlines
from patterns.planning.ways import Option

STEP_IN: Final = 1 / 2  # between places across that are tried at first; then finer about the best
_LEAST_STEP_IN: Final = 1 / 8  # where there is so little room that a step could pass over all of it
_MOST_PLACES: Final = 96
_FINER: Final = tuple(sixteenth / 16 for sixteenth in range(-7, 8))
_SAME_IN: Final = 1e-7
_FAR_IN: Final = 1e6


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Spot:
    """An option at its place: its piece's origin at (`x_in`, `y_in`) on the cloth, its far end at `top_in`."""

    option: Option
    x_in: float
    y_in: float

    @property
    def top_in(self) -> float:
        """y of its far end."""
        return self.y_in + self.option.top_in

    @property
    def outlines(self) -> tuple[tuple[Profile, float], ...]:
        """What it takes of the flat cloth, each with x of its origin."""
        return tuple((part.profile, part.at_in + part.sign * self.x_in) for part in self.option.parts)

    @property
    def laid(self) -> PieceOnCloth:
        """The piece as it lies."""
        return self.option.at(self.x_in, self.y_in)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lean:
    """Which of several places is taken: nearest to so much `across` of the room, from 0 on the left to 1.

    It may lie `slack_in` farther from the cut end than it need.
    """

    across: float = 0.0
    slack_in: float = 0.0


class Slides:
    """Where an option may lie on a cloth, beside spots that are taken."""

    def __init__(self, cloth: Cloth, outlines: Outlines) -> None:
        self._cloth = cloth
        self._outlines = outlines
        self._flaws = tuple(Profile.of(flaw.corners_in, 0.0) for flaw in cloth.flaws)

    def nearest(self, option: Option, taken: tuple[Spot, ...], lean: Lean) -> Spot | None:
        """The spot whose far end is nearest to the cut end, but for what the lean gives away.

        None where no place across is in step with the repeat.
        """
        places = self._places(option, taken)
        if not len(places):
            return None
        x, y = self._best_of(option, taken, places, lean)
        if option.low_in < option.high_in and not self._cloth.repeat.across_in:
            finer = np.clip(x + np.array(_FINER), option.low_in, option.high_in)
            x, y = self._best_of(option, taken, finer, lean)
        return Spot(option=option, x_in=x, y_in=y)

    def _best_of(
        self, option: Option, taken: tuple[Spot, ...], places: Array, lean: Lean
    ) -> tuple[float, float]:
        nearest = self._along(option, taken, places)
        good = np.flatnonzero(nearest <= nearest.min() + lean.slack_in + _SAME_IN)
        wanted = option.low_in + lean.across * (option.high_in - option.low_in)
        best = good[np.abs(places[good] - wanted).argmin()]
        return float(places[best]), float(nearest[best])

    def _places(self, option: Option, taken: tuple[Spot, ...]) -> Array:
        """Places across that are tried: evenly spread, and where it would just touch what is there."""
        low, high = option.low_in, option.high_in
        repeat = self._cloth.repeat.across_in
        if repeat is not None and taken:
            phase = taken[0].x_in + taken[0].option.match_in[0] - option.match_in[0]
            first = math.ceil((low - phase) / repeat - _SAME_IN)
            last = math.floor((high - phase) / repeat + _SAME_IN)
            return np.asarray(phase + repeat * np.arange(first, last + 1))
        if high - low < _SAME_IN:
            return np.array([low])
        even = np.arange(low, high, min(STEP_IN, max((high - low) / _MOST_PLACES, _LEAST_STEP_IN)))
        touching = [
            part.sign * (x + side - part.at_in)
            for spot in taken
            for profile, x in spot.outlines
            for part in option.parts
            for side in (profile.right_in - part.profile.left_in, profile.left_in - part.profile.right_in)
        ]
        return np.concatenate([even, [high], [x for x in touching if low <= x <= high]])

    def _along(self, option: Option, taken: tuple[Spot, ...], places: Array) -> Array:
        """(n,) y nearest to the cut end at each of the (n,) places."""
        lows, highs = [np.empty((0, len(places)))], [np.full((1, len(places)), -option.bottom_in)]
        for (profile, x, y), part in product(self.standing(taken), option.parts):
            clashes, shifts = (
                self._outlines.clashes(profile, part.profile),
                part.at_in + part.sign * places - x,
            )
            if clashes.meet(shifts):
                low, high = clashes.at(shifts)
                lows.append(low + y)
                highs.append(high + y)
        return _first_free(np.concatenate(lows), np.concatenate(highs), *self._along_phase(option, taken))

    def standing(self, taken: tuple[Spot, ...]) -> list[Standing]:
        """All the outlines that are in the way, flaws among them."""
        spots = [(profile, x, spot.y_in) for spot in taken for profile, x in spot.outlines]
        return [*spots, *((profile, 0.0, 0.0) for profile in self._flaws)]

    def _along_phase(self, option: Option, taken: tuple[Spot, ...]) -> tuple[float | None, float]:
        """The repeat along the cloth, and a y of the option that is in step with the first spot."""
        repeat = self._cloth.repeat.along_in
        if repeat is None or not taken:
            return None, 0.0
        return repeat, float(taken[0].y_in + taken[0].option.match_in[1] - option.match_in[1])


def _first_free(low: Array, high: Array, step_in: float | None, phase_in: float) -> Array:
    """(n,) the least y at each of n places, beyond `high`'s first row, and in no interval from `low` to `high`.

    `low` is (intervals, n); `high` has the row before them.
    """
    count = low.shape[1]
    column = np.arange(count)
    order = np.argsort(low, axis=0)
    reach = np.maximum.accumulate(np.concatenate([high[:1], high[1:][order, column]]), axis=0)
    reach = _at_phase(reach, step_in, phase_in)
    following = np.concatenate([low[order, column], np.full((1, count), _FAR_IN)])
    first = (following >= reach - _SAME_IN).argmax(axis=0)
    return np.asarray(reach[first, column])


def _at_phase(reach: Array, step_in: float | None, phase_in: float) -> Array:
    """The next places at the phase of the repeat; all as they are without one."""
    if step_in is None:
        return reach
    at: Array = np.ceil((reach - phase_in) / step_in - _SAME_IN) * step_in + phase_in
    return at
