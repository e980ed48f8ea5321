"""How far the light can be trusted under a piece, in words."""

from collections.abc import Sequence
from fractions import Fraction
from math import ceil
from typing import Final

from calibration.frames import Array
from calibration.table.saved import Alignment
from calibration.trust.ruler_test import RulerTest, in_64ths
from patterns.measures import Unit, said_in
from projector.pictures.forecast_field import forecast_field

# 95 % of errors in a plane are within 2.45 sigma of one direction (Rayleigh); a forecast sums both: / sqrt 2
P95_OF_FORECAST: Final = 1.731
LINE_IN: Final = 1 / 16  # a projected line may be off by so much (common practice)
FINEST: Final = 64


def good_to_in(alignment: Alignment, points_in: Array) -> float:
    """95th percentile of the error in inches at the worst point; never under the claim for the table."""
    here = P95_OF_FORECAST * forecast_field(alignment.map).worst_in(points_in)
    return max(here, alignment.p95_in)


def trust_words(alignment: Alignment, points_in: Array, unit: Unit = Unit.IN) -> tuple[str, ...]:
    """What to expect under the piece: "good to 1/32 in here"."""
    error_in = good_to_in(alignment, points_in)
    good = f"good to {rounded_up(error_in, unit)} here"
    words = (good if error_in <= LINE_IN else f"only {good}",)
    return words if alignment.size_checked else (*words, "size not checked")


def ruler_words(tests: Sequence[RulerTest]) -> tuple[str, ...]:
    """When the last ruler test was and how true it found the light; none where there is none, newest first."""
    return tuple(
        f"ruler test {test.tested_on:%d %b %Y}: {'within' if test.passed else 'off by'} {in_64ths(test.worst_in)}"
        for test in tests[:1]
    )


def rounded_up(length_in: float, unit: Unit = Unit.IN) -> str:
    """Inches rounded up to a fraction that a ruler has, or to tenths of a millimetre, half and whole ones.

    >>> rounded_up(0.02), rounded_up(0.07), rounded_up(0.3), rounded_up(1.01)
    ('1/32 in', '3/32 in', '5/16 in', '1 1/16 in')
    >>> rounded_up(0.02, Unit.MM), rounded_up(0.07, Unit.MM), rounded_up(1.01, Unit.CM)
    ('0.6 mm', '2 mm', '2.6 cm')
    """
    if unit is not Unit.IN:
        millimetres = length_in / float(Unit.MM.inches)
        parts = 10 if millimetres <= 1 else 2 if millimetres <= 3 else 1
        return said_in(ceil(round(millimetres * parts, 9)) / parts * float(Unit.MM.inches), unit, FINEST)
    parts = FINEST if length_in <= 1 / FINEST else 32 if length_in <= 1 / 8 else 16
    whole, rest = divmod(Fraction(max(1, ceil(round(length_in * parts, 9))), parts), 1)
    return " ".join(str(part) for part in (whole, rest) if part) + " in"
