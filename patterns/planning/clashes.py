"""Where one outline may not lie beside another: for each shift across the cloth, intervals along it.

It depends on nothing but the two outlines, and is reckoned once for them however often they are tried.
"""

from typing import Final

import numpy as np

from patterns.curves import Array, Spans
from patterns.laying.profile import PITCH_IN, Chain, Profile

_FAR_IN: Final = 1e6  # farther along than any cloth: where nothing is in the way
_SAME_IN: Final = 1e-9


class _Pair:
    """A chain that stands and one that moves, from `first` pitches before the one to behind it."""

    def __init__(self, standing: Chain, moving: Chain) -> None:
        count = len(moving.lower)
        self.first = standing.first - moving.first - count + 1
        self.lower = _windows(standing.lower, count, _FAR_IN)
        self.upper = _windows(standing.upper, count, -_FAR_IN)
        self._moving = moving

    def low_at(self, rows: Spans) -> Array:
        """The least that the moving chain may be raised and still clash, by shift from the first."""
        return np.asarray((self.lower[rows] - self._moving.upper).min(axis=1))

    def high_at(self, rows: Spans) -> Array:
        """The most."""
        return np.asarray((self.upper[rows] - self._moving.lower).max(axis=1))


class Clashes:
    """Where a moving outline clashes with one that stands: open intervals along, for each shift across.

    They are reckoned at whole pitches, as they are asked for, and run straight between.
    """

    def __init__(self, standing: Profile, moving: Profile) -> None:
        pairs = [_Pair(one, other) for one in standing.chains for other in moving.chains]
        self._pairs = pairs
        self._first = min(pair.first for pair in pairs)
        count = max(pair.first + len(pair.upper) for pair in pairs) - self._first
        self._low = np.full((len(pairs), count), _FAR_IN)
        self._high = -self._low
        self._known = np.zeros(count, dtype=bool)
        self._nearest_in = standing.left_in - moving.right_in
        self._farthest_in = standing.right_in - moving.left_in

    def at(self, shifts_in: Array) -> tuple[Array, Array]:
        """Lower and upper ends (chains, n) of what is closed, for n shifts across; low above high where open."""
        place = shifts_in / PITCH_IN - self._first
        cell = np.minimum(np.maximum(place, 0.0), len(self._known) - 2.0).astype(np.intp)
        self._learn(np.concatenate([cell, cell + 1]))
        share = np.minimum(np.maximum(place - cell, 0.0), 1.0)
        low = self._low[:, cell] * (1 - share) + self._low[:, cell + 1] * share
        high = self._high[:, cell] * (1 - share) + self._high[:, cell + 1] * share
        passed = (shifts_in <= self._nearest_in + _SAME_IN) | (shifts_in >= self._farthest_in - _SAME_IN)
        low[:, passed], high[:, passed] = _FAR_IN, -_FAR_IN
        return low, high

    def _learn(self, shifts: Spans) -> None:
        shifts = np.unique(shifts[~self._known[shifts]])
        if not len(shifts):
            return
        for row, pair in enumerate(self._pairs):
            rows = shifts + self._first - pair.first
            meeting = (rows >= 0) & (rows < len(pair.upper))
            self._low[row, shifts[meeting]] = pair.low_at(rows[meeting])
            self._high[row, shifts[meeting]] = pair.high_at(rows[meeting])
        self._known[shifts] = True

    def meet(self, shifts_in: Array) -> bool:
        """Whether they can be in one another's way at any of the shifts."""
        return bool(shifts_in.max() > self._nearest_in and shifts_in.min() < self._farthest_in)


class Outlines:
    """The outlines of one cloth: their profiles and how they clash, each reckoned once."""

    def __init__(self, gap_in: float) -> None:
        self._gap_in = gap_in
        self._profiles: dict[tuple[bytes, bool, bool], Profile] = {}
        self._clashes: dict[tuple[Profile, Profile], Clashes] = {}

    def profile(self, ring: Array, *, across: bool = False, along: bool = False) -> Profile:
        """That of a closed ring (n, 2), turned over across the cloth, along it, or both ways."""
        key = (ring.tobytes(), across, along)
        if key not in self._profiles:
            self._profiles[key] = self._made(ring, across, along)
        return self._profiles[key]

    def _made(self, ring: Array, across: bool, along: bool) -> Profile:
        if across:
            return self.profile(ring, along=along).across()
        if along:
            return self.profile(ring).along()
        return Profile.of(ring, self._gap_in)

    def clashes(self, standing: Profile, moving: Profile) -> Clashes:
        """Those of a moving outline with one that stands."""
        key = (standing, moving)
        if key not in self._clashes:
            self._clashes[key] = Clashes(standing, moving)
        return self._clashes[key]


def _windows(reach: Array, count: int, beyond: float) -> Array:
    """(n, count) what a chain of so many places meets of another's reach, from just before it to just behind."""
    padded = np.pad(reach, count - 1, constant_values=beyond)
    return np.lib.stride_tricks.sliding_window_view(padded, count)
