"""The corners of a traced contour: where its direction jumps, which a rounded underarm's does not."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from patterns.arms import Arm, gap_at_corner
from patterns.contour import Contour
from patterns.curves import Array

LEAST_JUMP_DEG: Final = 25.0  # of direction; a flatter corner is sewn as a curve
_LEAST_TURN_DEG: Final = 30.0  # within `_LOOK_IN` on both sides, for a closer look
_LOOK_IN: Final = 0.4
_MOST_SHIFT_IN: Final = 0.4  # of a corner from where the contour turns most
_ROUNDS: Final = 20


@dataclass(frozen=True, kw_only=True, eq=False)
class FoundCorner:
    """A corner: `along_in` of the contour, its `place` (2,), and its turn, positive where it juts out."""

    along_in: float
    place: Array
    turn_deg: float

    @property
    def juts_out(self) -> bool:
        """Whether the cloth fills less than half the room round it."""
        return self.turn_deg > 0


def find_corners(contour: Contour) -> tuple[FoundCorner, ...]:
    """The contour's corners in the order of its walk.

    Each is where the curves on its two sides, followed up to it, meet; so noise or a rounded tip moves it
    little. A smooth curve, however tight, leaves no jump between its two sides.
    """
    found = (look_at(contour, along) for along in _sharpest(contour))
    return tuple(corner for corner in found if corner is not None and abs(corner.turn_deg) >= LEAST_JUMP_DEG)


def given_corners(contour: Contour, places: Array) -> tuple[FoundCorner, ...]:
    """The corners that a person has set at (k, 2) places next to the contour, in the order of its walk."""
    found = []
    for place in np.asarray(places, dtype=np.float64):
        along = float(contour.along[np.argmin(np.hypot(*(contour.calm - place).T))])
        back, here, on = contour.at(np.array([along - _LOOK_IN, along, along + _LOOK_IN]))
        turn = _turn_deg(here - back, on - here)
        found.append(FoundCorner(along_in=along, place=place, turn_deg=turn))
    return tuple(sorted(found, key=lambda corner: corner.along_in))


def look_at(contour: Contour, along_in: float) -> FoundCorner | None:
    """The corner that the contour makes near `along_in`, however flat; None where its sides do not meet."""
    gap = gap_at_corner(contour)
    try:
        before = Arm.of(contour, along_in, -1.0, gap)
        after = Arm.of(contour, along_in, 1.0, gap)
    except ValueError:
        return None
    meeting = _meeting(before, after)
    if meeting is None:
        return None
    back, on = meeting
    arriving, leaving = -before.leaving(back), after.leaving(on)
    return FoundCorner(
        along_in=(along_in + (on - back) / 2) % contour.length_in,
        place=(before.at(back) + after.at(on)) / 2,
        turn_deg=_turn_deg(arriving, leaving),
    )


def _turn_deg(arriving: Array, leaving: Array) -> float:
    """The turn from one direction (2,) to another, positive to the left."""
    across = arriving[0] * leaving[1] - arriving[1] * leaving[0]
    return math.degrees(math.atan2(float(across), float(arriving @ leaving)))


def _sharpest(contour: Contour) -> Array:
    """(k,) inches along at which the walk turns more than anywhere near."""
    walk, step = contour.walk, contour.step_in
    look = max(round(max(_LOOK_IN, 8 * contour.noise_in) / step), 2)
    into = walk - np.roll(walk, look, axis=0)
    out = np.roll(walk, -look, axis=0) - walk
    turn = np.abs(np.arctan2(into[:, 0] * out[:, 1] - into[:, 1] * out[:, 0], (into * out).sum(axis=1)))
    around = np.max([np.roll(turn, shift) for shift in range(-look, look + 1)], axis=0)
    peaks = np.flatnonzero((turn >= around) & (turn >= np.radians(_LEAST_TURN_DEG)))
    return np.asarray(peaks * step, dtype=np.float64)


def _meeting(before: Arm, after: Arm) -> tuple[float, float] | None:
    """How far each arm, followed towards the corner, is from its own nought where the two meet."""
    back = on = 0.0
    for _ in range(_ROUNDS):
        apart = after.at(on) - before.at(back)
        slopes = np.stack([before.leaving(back), -after.leaving(on)], axis=1)
        if abs(np.linalg.det(slopes)) < 1e-3:
            return None
        step = np.asarray(np.linalg.solve(slopes, apart), dtype=np.float64)
        back, on = back + float(step[0]), on + float(step[1])
        if max(abs(back), abs(on)) > _MOST_SHIFT_IN:
            return None
        if float(np.abs(step).max()) < 1e-9:
            break
    return back, on
