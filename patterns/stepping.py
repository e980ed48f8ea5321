"""A length made a little more or less, spelled as its author spelled it."""

import re
from fractions import Fraction
from typing import Final

from patterns.measures import Length, Unit

FINEST: Final = 64  # a ruler's; finer parts of an inch are written as decimals
STEPS: Final = {
    Unit.IN: (Fraction(1, 8), Fraction(1, 16)),
    Unit.CM: (Fraction(1, 2), Fraction(1, 10)),
    Unit.MM: (Fraction(5), Fraction(1)),
}  # of each unit, coarse and fine: what is marked on its tape
_TAIL: Final = re.compile(r"\s*[a-zA-Z\"″”']+\.?\Z")


def step_words(unit: Unit, *, fine: bool) -> str:
    """A step in words.

    >>> step_words(Unit.IN, fine=False), step_words(Unit.CM, fine=True)
    ('1/8 in', '0.1 cm')
    """
    return f"{_number(STEPS[unit][fine], unit)} {unit.value}"


def stepped(length: Length, steps: int, *, fine: bool) -> Length:
    """The length so many steps more, or less where `steps` is negative, in the unit it is spelled in.

    >>> stepped(Length(spelling="8 in"), 1, fine=False).spelling
    '8 1/8 in'
    >>> stepped(Length(spelling='7/8"'), 2, fine=True).spelling
    '1"'
    >>> stepped(Length(spelling="1.5", unit=Unit.CM), -1, fine=False).spelling
    '1'
    """
    unit = length.own_unit
    number = length.exact_inches / unit.inches + steps * STEPS[unit][fine]
    tail = _TAIL.search(length.spelling.rstrip())
    return Length(spelling=_number(number, unit) + (tail[0] if tail else ""), unit=length.unit)


def _number(number: Fraction, unit: Unit) -> str:
    if unit is not Unit.IN or FINEST % number.denominator:
        return f"{float(number):.6f}".rstrip("0").rstrip(".")
    sign = "-" if number < 0 else ""
    whole, rest = divmod(abs(number), 1)
    said = ([str(whole)] if whole or not rest else []) + ([str(rest)] if rest else [])
    return sign + " ".join(said)
