"""The corners of a traced contour: where its direction jumps, which a rounded underarm's does not."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from patterns.curves import Array
from patterns.tracing.arms import Arm, gap_at_corner
from patterns.tracing.contour import Contour

LEAST_JUMP_DEG: Final = 25.0  # of direction; a flatter corner is sewn as a curve
_LEAST_TURN_DEG: Final = 30.0  # within `_LOOK_IN` on both sides, for a closer look
_LOOK_IN: Final = 0.4
_FLAT_LOOK_IN: Final = 1.0  # where a flat corner stands out from the noise
_AFAR_IN: Final = 1.5  # of both sides: a jag is small beside it, and a garment's edges are longer
_LEAST_AFAR_DEG: Final = 20.0
_BESIDE_IN: Final = 0.4  # of a hidden stretch's end a corner may lie: a bridge that ends in it hides one side
_APART_IN: Final = 0.5  # of corners; nearer ones are one, found twice
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
    little. A smooth curve, however tight, leaves no jump between its two sides, and a jag of noise or of a
    print none that shows from afar. What was hidden makes no corner, unless what is seen beside it meets in one, or
    ends in one that juts out.
    """
    peaks = _sharpest(contour)
    found = _sharp_ones(contour, [along for along in peaks if not contour.hidden_past(along, 1.0)])
    for start, end in contour.hidden:
        found += _sharp_ones(contour, [(start + end) / 2]) or _ending(contour, peaks, start, end)
    found.sort(key=lambda corner: -abs(corner.turn_deg))
    apart: list[FoundCorner] = []
    for corner in found:
        if all(float(np.hypot(*(corner.place - other.place))) > _APART_IN for other in apart):
            apart.append(corner)
    return tuple(sorted(apart, key=lambda corner: corner.along_in))


def _sharp_ones(contour: Contour, along_in: Sequence[float]) -> list[FoundCorner]:
    looked = (look_at(contour, along) for along in along_in)
    return [corner for corner in looked if corner is not None and _is_sharp(contour, corner)]


def _ending(contour: Contour, peaks: Sequence[float], *ends_in: float) -> list[FoundCorner]:
    """Corners that jut out next to either end of a hidden stretch, where what was put for it is one of their sides."""
    round_in = contour.length_in
    near = [
        along
        for along in peaks
        if any(abs((along - end + round_in / 2) % round_in - round_in / 2) < _BESIDE_IN for end in ends_in)
    ]
    trusting = replace(contour, seen=np.ones_like(contour.seen))
    return [corner for corner in _sharp_ones(trusting, near) if corner.juts_out]


def _is_sharp(contour: Contour, corner: FoundCorner) -> bool:
    """Whether it turns enough, and as much seen from afar."""
    if abs(corner.turn_deg) < LEAST_JUMP_DEG:
        return False
    gap = gap_at_corner(contour)
    try:
        before, after = (
            Arm.fitted(contour, corner.along_in, ahead, (gap, _AFAR_IN), 1).leaving() for ahead in (-1.0, 1.0)
        )
    except ValueError:
        return False
    return _turn_deg(-before, after) * math.copysign(1, corner.turn_deg) >= _LEAST_AFAR_DEG


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
    hidden = max(contour.hidden_past(along_in, 1.0), contour.hidden_past(along_in, -1.0))
    if meeting is None or max(map(abs, meeting)) > _MOST_SHIFT_IN + hidden:
        return None
    back, on = meeting
    arriving, leaving = -before.leaving(back), after.leaving(on)
    return FoundCorner(
        along_in=(along_in + (on - back) / 2) % contour.length_in,
        place=(before.at(back) + after.at(on)) / 2,
        turn_deg=_turn_deg(arriving, leaving),
    )


def sharpest_near(contour: Contour, along_in: float, reach_in: float) -> FoundCorner | None:
    """The corner that juts out most within `reach_in` of `along_in`, however flat; None where there is none."""
    turns = _turns_deg(contour, _FLAT_LOOK_IN)
    near = np.arange(round((along_in - reach_in) / contour.step_in), (along_in + reach_in) / contour.step_in)
    places = near.astype(np.intp) % len(turns)
    return look_at(contour, float(places[np.argmax(turns[places])]) * contour.step_in)


def _turn_deg(arriving: Array, leaving: Array) -> float:
    """The turn from one direction (2,) to another, positive to the left."""
    across = arriving[0] * leaving[1] - arriving[1] * leaving[0]
    return math.degrees(math.atan2(float(across), float(arriving @ leaving)))


def _sharpest(contour: Contour) -> list[float]:
    """Inches along at which the walk turns more than anywhere near."""
    look = max(_LOOK_IN, 8 * contour.noise_in)
    turn = np.abs(_turns_deg(contour, look))
    reach = round(look / contour.step_in)
    around = np.max([np.roll(turn, shift) for shift in range(-reach, reach + 1)], axis=0)
    peaks = np.flatnonzero((turn >= around) & (turn >= _LEAST_TURN_DEG)) * contour.step_in
    return [float(along) for along in peaks]


def _turns_deg(contour: Contour, look_in: float) -> Array:
    """(m,) the walk's turn at each of its points, seen over `look_in` on both sides, positive to the left."""
    walk = contour.walk
    look = max(round(look_in / contour.step_in), 2)
    into = walk - np.roll(walk, look, axis=0)
    out = np.roll(walk, -look, axis=0) - walk
    across = into[:, 0] * out[:, 1] - into[:, 1] * out[:, 0]
    turns: Array = np.degrees(np.arctan2(across, (into * out).sum(axis=1)))
    return turns


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
        if float(np.abs(step).max()) < 1e-9:
            break
    return back, on
