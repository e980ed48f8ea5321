"""Lengths as people write them, kept as written, and exact inches.

"1 1/4 in", "1-1/4 in", "1¼ in", '5/8"', "15mm", "1.5 cm"; a bare number takes the unit of its file.
One inch is 25.4 mm exactly (international yard and pound agreement, 1959).
"""

import math
import re
import unicodedata
from dataclasses import dataclass, field
from enum import Enum
from fractions import Fraction
from typing import Final

from patterns.errors import Complaint, PatternError

LONGEST_IN: Final = 1200  # a hundred feet: longer than any table, so a slip of unit or of the decimal point
_MOST_LETTERS: Final = 40  # no length needs more; keeps a quoted complaint readable
TAPE_PARTS: Final = 16  # of an inch, which a tape has: about as fine as its millimetres
NOTHING_IN: Final = 1e-6  # a smaller length is what rounding has left
_FINEST_PARTS: Final = 64  # of an inch that are still told, in the words of a ruler
_TENTHS: Final = 10  # and of a millimetre
_HUNDREDTHS: Final = 100  # of an allowance, which inches may have given
_WHOLE: Final = 1e-6  # a number so near to a whole one is meant to be it
_MM_IN_CM: Final = 10
_DECIMALS: Final = 6  # of a computed length: a millionth is far below what cloth or light can show


class Unit(Enum):
    """A unit that lengths are written in."""

    IN = "in"
    CM = "cm"
    MM = "mm"

    @property
    def inches(self) -> Fraction:
        """How many inches one of this unit is, exactly."""
        return _INCHES[self]


_INCHES: Final = {Unit.IN: Fraction(1), Unit.CM: Fraction(50, 127), Unit.MM: Fraction(5, 127)}
_SIZES_IN: Final = {unit: float(exact) for unit, exact in _INCHES.items()}
_SPELLINGS: Final = {
    **dict.fromkeys(("in", "in.", "inch", "inches", '"', "″", "”", "''"), Unit.IN),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), Unit.CM),
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), Unit.MM),
}
_MINUS: Final = "\N{MINUS SIGN}"
_SLASH: Final = "\N{FRACTION SLASH}"
_LENGTH: Final = re.compile(
    rf"(?P<sign>[-{_MINUS}+]?)\s*"
    r"(?:(?:(?P<whole>[0-9]{1,9})(?:\s+|\s*-\s*))?(?P<top>[0-9]{1,9})\s*/\s*(?P<bottom>[0-9]{1,9})"
    r"|(?P<decimal>[0-9]{1,9}(?:\.[0-9]{0,15})?|\.[0-9]{1,15}))"
    r"\s*(?P<unit>[^\s0-9./:-]\S*)?"
)
_WANTED: Final = 'a length such as "1/2 in", "1 1/4 in", "15 mm" or "1.5 cm"'


@dataclass(frozen=True, slots=True, kw_only=True)
class Length:
    """A length as its author spelled it; `unit` is the file's, for a number that stands bare.

    Raises PatternError if the spelling makes no sense as a length.

    >>> Length(spelling="1 1/4 in", unit=Unit.MM).inches
    1.25
    >>> Length(spelling="15", unit=Unit.MM).exact_inches
    Fraction(75, 127)
    """

    spelling: str
    unit: Unit = Unit.IN
    inches: float = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        top, bottom = _ratio_in(self.spelling, self.unit)
        object.__setattr__(self, "inches", top / bottom)  # of whole numbers: the nearest to the exact one

    def __str__(self) -> str:
        return self.spelling

    def __hash__(self) -> int:
        return hash(self.spelling)  # a text keeps its own; a unit's would be reckoned anew each time

    @property
    def exact_inches(self) -> Fraction:
        """The inches without rounding."""
        return Fraction(*_ratio_in(self.spelling, self.unit))

    @property
    def words(self) -> str:
        """The spelling with its unit, also where the author left the unit out."""
        last = self.spelling.rstrip()[-1]
        bare = last.isnumeric() or last == "."
        return f"{self.spelling} {self.unit.value}" if bare else self.spelling

    @property
    def own_unit(self) -> Unit:
        """The unit that it is spelled in; the file's where the author left it out."""
        match = _LENGTH.fullmatch(_plain_fractions(self.spelling).strip())
        spelled = match["unit"] if match else None
        return _SPELLINGS[spelled.lower()] if spelled else self.unit

    @classmethod
    def of(cls, inches: float, unit: Unit = Unit.IN, digits: int = _DECIMALS) -> "Length":
        """The length of so many inches, spelled as a bare number of `unit` to a millionth, or to so many
        digits behind the point, one at least.

        >>> Length.of(0.5, Unit.MM).spelling
        '12.7'
        """
        number = round(inches / _SIZES_IN[unit], digits) + 0.0
        spelling = f"{number:.{digits}f}".rstrip("0").rstrip(".")
        return cls(spelling=spelling, unit=unit)


def inches(text: str, unit: Unit = Unit.IN) -> float:
    """Inches of a length as typed; raises PatternError for nonsense.

    >>> inches("1 1/4 in"), inches("12.7mm"), inches("½ in")
    (1.25, 0.5, 0.5)
    """
    return Length(spelling=text, unit=unit).inches


def in_words(length_in: float, parts: int = 16) -> str:
    """`length_in` inches to the nearest 1/`parts` inch, a power of two, as it is said.

    >>> in_words(1.26), in_words(0.3937), in_words(0.3937, 8), in_words(2.0), in_words(-0.5)
    ('1 1/4 in', '3/8 in', '3/8 in', '2 in', '-1/2 in')
    """
    nearest = round(length_in * parts)
    sign = "-" if nearest < 0 else ""
    whole, rest = divmod(abs(nearest), parts)
    said = [str(whole)] if whole or not rest else []
    if rest:
        shared = math.gcd(rest, parts)
        said.append(f"{rest // shared}/{parts // shared}")
    return f"{sign}{' '.join(said)} in"


def said_in(length_in: float, unit: Unit, parts: int = TAPE_PARTS) -> str:
    """`length_in` inches as a tape in `unit` says it: to 1/`parts` in, or as finely in millimetres.

    That is to a whole millimetre, or to a tenth where `parts` asks for more than a tape has. Below one centimetre
    millimetres are said. What is too little for that is told more finely, and never as nothing.

    >>> said_in(10.55, Unit.IN), said_in(10.55, Unit.CM), said_in(10.55, Unit.MM)
    ('10 9/16 in', '26.8 cm', '268 mm')
    >>> said_in(1 / 16, Unit.MM, 32), said_in(1 / 8, Unit.CM), said_in(4.0, Unit.CM, 32)
    ('1.6 mm', '3 mm', '10.16 cm')
    >>> said_in(0.01, Unit.IN), said_in(0.01, Unit.CM), said_in(0.001, Unit.IN), said_in(0.0, Unit.CM)
    ('1/64 in', '0.3 mm', 'under 1/64 in', '0 cm')
    """
    inch = unit is Unit.IN
    small, finest = (Unit.IN, _FINEST_PARTS) if inch else (Unit.MM, _TENTHS)
    fineness = parts if inch else 1 if parts <= TAPE_PARTS else _TENTHS
    size = abs(length_in) / _SIZES_IN[small]
    if abs(length_in) > NOTHING_IN and not round(size * fineness):
        fineness = finest
        if not round(size * finest):
            return f"under 1/{_FINEST_PARTS} in" if inch else f"under {1 / _TENTHS:g} mm"
    return in_words(length_in, fineness) if inch else _metric(length_in, unit, fineness)


def _metric(length_in: float, unit: Unit, parts_of_mm: int) -> str:
    number = round(length_in / _SIZES_IN[Unit.MM] * parts_of_mm) / parts_of_mm + 0.0
    if unit is Unit.CM and (abs(number) >= _MM_IN_CM or not number):
        return f"{number / _MM_IN_CM:g} cm"
    return f"{number:g} mm"


def said_as_set(length_in: float, unit: Unit) -> str:
    """`length_in` inches as a seam gauge is set to them: none is rounded to what it is not.

    Where it is no whole 1/64 in, what was given in millimetres is said so among inches.

    >>> [said_as_set(0.5, unit) for unit in Unit], [said_as_set(15 / 25.4, unit) for unit in Unit]
    (['1/2 in', '1.27 cm', '12.7 mm'], ['15 mm', '1.5 cm', '15 mm'])
    """
    if unit is not Unit.IN:
        half_goes_up_in = length_in + NOTHING_IN  # so that 1/4 in and 3/8 in add up to 5/8 in
        return _metric(half_goes_up_in, unit, _HUNDREDTHS)
    tenths = length_in / _SIZES_IN[Unit.MM] * _TENTHS
    whole_in, whole_mm = (abs(n - round(n)) < _WHOLE for n in (length_in * _FINEST_PARTS, tenths))
    return (
        in_words(length_in, _FINEST_PARTS)
        if whole_in or not whole_mm
        else _metric(length_in, Unit.MM, _TENTHS)
    )


def said_finely(length_in: float, unit: Unit) -> str:
    """`length_in` inches in decimals, for two lengths that a tape could hardly tell apart.

    >>> said_finely(22.1151, Unit.IN), said_finely(22.1151, Unit.CM), said_finely(22.1151, Unit.MM)
    ('22.12 in', '56.17 cm', '561.7 mm')
    """
    return f"{length_in / _SIZES_IN[unit]:.{1 if unit is Unit.MM else 2}f} {unit.value}"


def _ratio_in(spelling: str, bare_unit: Unit) -> tuple[int, int]:
    """Two whole numbers, the second more than nothing: so many inches is the first of them by the second.

    They may have factors in common, which to look for takes longer than to divide.
    """
    found = f'"{spelling[:_MOST_LETTERS]}"' if spelling.strip() else "no length at all"
    if len(spelling) > _MOST_LETTERS:
        raise _nonsense(found, _WANTED)
    match = _LENGTH.fullmatch(_plain_fractions(spelling).strip())
    if match is None:
        hint = ', with a point and no comma: "1.5 cm"' if "," in spelling else ""
        raise _nonsense(found, _WANTED + hint)
    unit = bare_unit
    if match["unit"]:
        spelled_unit = _SPELLINGS.get(match["unit"].lower())
        if spelled_unit is None:
            raise _nonsense(found, "a length in inches, cm or mm")
        unit = spelled_unit
    if match["decimal"]:
        whole, _, part = match["decimal"].partition(".")
        top, bottom = int(whole + part), 10 ** len(part)
    elif (bottom := int(match["bottom"])) == 0:
        raise _nonsense(found, "a fraction that is not divided by nothing")
    else:
        top = int(match["whole"] or 0) * bottom + int(match["top"])
    if unit is not Unit.IN:
        top, bottom = top * unit.inches.numerator, bottom * unit.inches.denominator
    if top > LONGEST_IN * bottom:
        raise _nonsense(
            found, f"a length of at most {said_in(LONGEST_IN, unit)}; check its unit and decimal point"
        )
    return (-top if match["sign"] in ("-", _MINUS) else top), bottom


def _plain_fractions(spelling: str) -> str:
    """Fractions that are one letter, and the fraction slash, as digits and a slash for one rule."""
    if spelling.isascii():
        return spelling
    plain = []
    for letter in spelling:
        spelled_out = unicodedata.normalize("NFKC", letter)
        vulgar = _SLASH in spelled_out and len(spelled_out) == 3
        plain.append(f" {spelled_out}" if vulgar else letter)
    return "".join(plain).replace(_SLASH, "/")


def _nonsense(found: str, wanted: str) -> PatternError:
    return PatternError.listing([Complaint(found=found, wanted=wanted)])
