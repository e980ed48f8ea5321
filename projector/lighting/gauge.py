"""A seam gauge of light: a small ruler with a bar at the seam allowance, to be laid anywhere by a placement.

Its zero is the placement's origin and it runs along the placement's x; at no turn its marks stand away from the
person. It is told from a piece by its solid, dim outline and its numbers.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.cutting.labels import Label
from patterns.cutting.placement import Placement
from patterns.measures import Unit, said_in
from projector.errors import ProjectorError
from projector.lighting.grid import px_per_in
from projector.lighting.light import Chalk, chalk_light, followed, words_light
from projector.lighting.lit_area import LitArea
from projector.lighting.look import LineStyle
from projector.lighting.looks import USUAL, Look
from projector.lighting.strokes import Drawing
from projector.person import Person

EDGE: Final = LineStyle(width_in=1 / 24, light=0.8)  # what is measured from, and the marks
BODY: Final = LineStyle(width_in=1 / 32, light=0.25)
BAR: Final = LineStyle(width_in=1 / 16, light=1.0)
WIDE_IN: Final = 1.0  # of the gauge's body
NUMBER_IN: Final = 0.36
NUMBER_LIGHT: Final = 0.5
BAR_BEYOND_IN: Final = 0.3  # the bar stands out of the body at both sides
SAID_IN: Final = 0.5  # height of the allowance's words
LEAST_PX: Final = 3.0  # between marks: closer ones run into one another
ENOUGH_IN: Final = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Gauge:
    """`length_in` inches long, with marks of its `unit`; the bar stands `allowance_in` from zero.

    Raises ProjectorError where the bar would not be on it.
    """

    unit: Unit = Unit.IN
    length_in: float = 6.0
    allowance_in: float = 0.5

    def __post_init__(self) -> None:
        if not 0 < self.allowance_in <= self.length_in:
            raise ProjectorError(
                f"found an allowance of {said_in(self.allowance_in, self.unit, 32)} for a gauge that is "
                f"{said_in(self.length_in, self.unit)} long; set one between its ends"
            )


# How far apart marks are, the coarsest first, in parts of the unit that is numbered; and how long each kind is.
_MARKS: Final = {
    Unit.IN: ((Fraction(1), 0.5), (Fraction(1, 2), 0.36), (Fraction(1, 4), 0.25), (Fraction(1, 8), 0.16)),
    Unit.CM: ((Fraction(1), 0.5), (Fraction(1, 2), 0.36), (Fraction(1, 10), 0.2)),
}


def gauge_light(
    gauge: Gauge, placement: Placement, lit: LitArea, person: Person, look: Look = USUAL
) -> Drawing:
    """The gauge laid there, with numbers for the person to read."""
    bar = gauge.allowance_in
    drawn = {
        BODY: [_box(gauge.length_in)],
        EDGE: [np.array([[0.0, 0.0], [gauge.length_in, 0.0]]), *_marks(gauge, px_per_in(lit))],
        BAR: [np.array([[bar, BAR_BEYOND_IN], [bar, -WIDE_IN - BAR_BEYOND_IN]])],
    }
    points, ends = followed([placement.placed(path) for some in drawn.values() for path in some], lit.span_in)
    styles = tuple((style, len(some)) for style, some in drawn.items())
    labels = list(_labels(gauge, placement, person.axes[0]))
    words = words_light(labels, [NUMBER_LIGHT] * len(labels), lit)
    return look.seen((*chalk_light(Chalk(points_in=points, ends=ends, styles=styles), lit), *words))


def _box(length_in: float) -> Array:
    return np.array([[0.0, 0.0], [0.0, -WIDE_IN], [length_in, -WIDE_IN], [length_in, 0.0]])


def _marks(gauge: Gauge, px_per_in: float) -> Iterator[Array]:
    """Marks up from the edge, each as long as its kind; kinds that would run into one another are left out."""
    unit = Unit.IN if gauge.unit is Unit.IN else Unit.CM
    seen: set[Fraction] = set()
    for apart, high_in in _MARKS[unit]:
        if float(apart * unit.inches) * px_per_in < LEAST_PX:
            return
        for number in range(int(gauge.length_in / float(apart * unit.inches) + ENOUGH_IN) + 1):
            at = number * apart
            if at not in seen:
                seen.add(at)
                x = float(at * unit.inches)
                yield np.array([[x, 0.0], [x, -high_in]])


def _labels(gauge: Gauge, placement: Placement, along: Array) -> Iterator[Label]:
    """Whole units over their marks, and what the bar stands at beyond the body."""
    unit = Unit.IN if gauge.unit is Unit.IN else Unit.CM
    for number in range(1, int(gauge.length_in / float(unit.inches) + ENOUGH_IN) + 1):
        at = placement.placed(np.array([[number * float(unit.inches), -0.75 * WIDE_IN]]))[0]
        yield Label(text=str(number), at=at, height_in=NUMBER_IN, along=along)
    at = placement.placed(np.array([[gauge.allowance_in, -WIDE_IN - BAR_BEYOND_IN - SAID_IN]]))[0]
    said = said_in(gauge.allowance_in, gauge.unit, 32)
    yield Label(text=said, at=at, height_in=SAID_IN, along=along)
