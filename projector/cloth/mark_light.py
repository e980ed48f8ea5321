"""Marks on the cloth in light: where the person set one, a line through two, and crosses with their numbers."""

from collections.abc import Sequence
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.cutting.labels import Label
from patterns.tracing.hand_trace import Place
from projector.lighting.light import words_light
from projector.lighting.lit_area import LitArea
from projector.lighting.look import LineStyle
from projector.lighting.strokes import Drawing
from projector.person import Person
from projector.tracing.light import GUIDE, POINTS, RING, stroked

MARK_IN: Final = 0.22  # half the width of a ring: open, so that what it marks shows within it
CROSS_IN: Final = 0.5  # half the width of a cross that is to be marked on the cloth
GAP_IN: Final = 0.08  # kept dark in its middle, for the point of the chalk
CROSS: Final = LineStyle(width_in=1 / 20, light=0.9)
KEPT: Final = LineStyle(width_in=1 / 24, light=0.35)  # of crosses that are only looked at
NUMBER_IN: Final = 0.6
NUMBER_LIGHT: Final = 0.6
BEYOND_IN: Final = 1.5


def rings_light(marks_in: Sequence[Place], lit: LitArea) -> Drawing:
    """A ring about each mark."""
    return stroked([MARK_IN * RING + at for at in marks_in], POINTS, lit)


def numbered_light(marks_in: Sequence[Place], lit: LitArea, person: Person) -> Drawing:
    """A ring about each mark, with its number beside it."""
    return (*rings_light(marks_in, lit), *_numbers(marks_in, lit, person))


def line_light(marks_in: tuple[Place, Place], lit: LitArea) -> Drawing:
    """The line through two marks and a little beyond: it is seen whether the cloth follows it."""
    one, other = np.array(marks_in)
    onward = (other - one) / np.hypot(*(other - one)) * BEYOND_IN
    return stroked([np.array([one - onward, one + onward])], GUIDE, lit)


def crosses_light(
    marks_in: Sequence[Place], lit: LitArea, person: Person, style: LineStyle = CROSS
) -> Drawing:
    """A numbered cross at each mark, dark in its very middle, upright for the person."""
    arms = [person.on_table(arm) + at for at in marks_in for arm in _ARMS]
    return (*stroked(arms, style, lit), *_numbers(marks_in, lit, person, NUMBER_LIGHT * style.light))


_ARMS: Final[tuple[Array, ...]] = tuple(
    np.array([GAP_IN * way, CROSS_IN * way])
    for way in np.array([[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]])
)


def _numbers(marks_in: Sequence[Place], lit: LitArea, person: Person, light: float = NUMBER_LIGHT) -> Drawing:
    beside = person.on_table(np.array([[CROSS_IN + 0.1, CROSS_IN + 0.1]]))[0]
    labels = [
        Label(text=str(number), at=beside + at, height_in=NUMBER_IN, along=person.axes[0])
        for number, at in enumerate(marks_in, start=1)
    ]
    return words_light(labels, [light] * len(labels), lit)
