"""What to buy for a lay, what of it is wasted, what stays whole."""

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from patterns.laying.cloth import Cloth, Shrinkage
from patterns.laying.lay import Lay
from patterns.laying.remnant import Rectangle, largest_free
from patterns.measures import Unit
from patterns.saying import LengthError
from patterns.shape import signed_area

SQUARING_IN: Final = 2.0  # for cutting the end square to the grain; common practice
INCHES_A_YARD: Final = 36
PARTS_OF_A_YARD: Final = 8  # the shop's smallest measure; common practice
CM_A_STEP: Final = 10  # and where it measures in metres
_NO_MORE: Final = 1e-9  # of a step: what rounding adds is not bought


@dataclass(frozen=True, slots=True, kw_only=True)
class Buying:
    """What a lay costs in cloth: lengths in inches, before washing where they are bought.

    `wasted` is the share of what is bought that neither becomes a piece nor stays in the one whole `remnant`,
    which lies on the cloth as it is after washing; `used` the share that becomes pieces, of all that the lay takes.
    """

    length_in: float
    words: str
    used: float
    wasted: float
    remnant: Rectangle

    @classmethod
    def of(cls, lay: Lay) -> "Buying":
        """That of a lay, in the unit that its cloth is sold by; of cloth at hand, as much as it takes."""
        bought_in = bought_length_in(lay.used_in, lay.cloth, lay.terms.sold_by)
        on_table = on_table_in(lay.used_in, lay.cloth, lay.terms.sold_by)
        parts = [part for placed in lay.placed for part in placed.parts_in]
        remnant = largest_free(
            whole_cloth(lay.cloth, on_table), [*parts, *(f.corners_in for f in lay.cloth.flaws)]
        )
        taken_in2 = sum(abs(signed_area(part)) for part in parts)
        low, high = lay.cloth.usable_in
        all_in2 = on_table * lay.cloth.width_in
        return cls(
            length_in=bought_in,
            words=said_to_buy(bought_in, lay.terms.sold_by),
            used=taken_in2 / ((high - low) * lay.used_in),
            wasted=1 - (taken_in2 + remnant.area_in2) / all_in2,
            remnant=remnant,
        )


def needed_in(used_in: float, cloth: Cloth) -> float:
    """Inches that are needed before washing, for a lay that uses so much: squared, then shrunk."""
    return (used_in + SQUARING_IN) / (1 - cloth.shrinkage.along)


def left_to_lay_in(bought_in: float, shrinkage: Shrinkage) -> float:
    """Inches of a length as it was bought that are left once it is washed and squared.

    LengthError where that is nothing.
    """
    left_in = bought_in * (1 - shrinkage.along) - SQUARING_IN
    if left_in <= 0:
        raise LengthError(
            lambda say: (
                f"{say(bought_in)} of cloth leave nothing once the end is squared, which takes {say(SQUARING_IN)}; "
                "take a longer piece"
            )
        )
    return left_in


def step_in(sold_by: Unit) -> float:
    """Inches of the smallest length that is sold: 1/8 yd or 10 cm."""
    return INCHES_A_YARD / PARTS_OF_A_YARD if sold_by is Unit.IN else CM_A_STEP * float(Unit.CM.inches)


def bought_length_in(used_in: float, cloth: Cloth, sold_by: Unit) -> float:
    """Inches to buy: what is needed, rounded up to what is sold."""
    step = step_in(sold_by)
    return math.ceil(needed_in(used_in, cloth) / step - _NO_MORE) * step


def on_table_in(used_in: float, cloth: Cloth, sold_by: Unit) -> float:
    """Inches that lie on the table once that is washed and squared; all of a cloth whose length is given."""
    if cloth.length_in is not None:
        return cloth.length_in
    return bought_length_in(used_in, cloth, sold_by) * (1 - cloth.shrinkage.along) - SQUARING_IN


def whole_cloth(cloth: Cloth, on_table: float) -> Rectangle:
    """The cloth within its selvedges."""
    low, high = cloth.usable_in
    return Rectangle(left_in=low, bottom_in=0.0, right_in=high, top_in=on_table)


def said_to_buy(length_in: float, sold_by: Unit) -> str:
    """A length of cloth as it is asked for in a shop.

    >>> said_to_buy(63.0, Unit.IN), said_to_buy(160 / 2.54, Unit.CM)
    ('1 3/4 yd', '1.60 m')
    """
    if sold_by is not Unit.IN:
        return f"{length_in * 0.0254:.2f} m"
    whole, rest = divmod(Fraction(round(length_in / INCHES_A_YARD * PARTS_OF_A_YARD), PARTS_OF_A_YARD), 1)
    said = [str(whole)] if whole or not rest else []
    return " ".join([*said, *([str(rest)] if rest else [])]) + " yd"
