"""How the raw edges of a garment are finished, and the allowances that each way needs (common practice)."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType
from typing import Final

from patterns.measures import Length, Unit
from patterns.parts import Allowance, Kind


class SeamFinish(Enum):
    """What keeps a seam's raw edges from fraying."""

    OVERLOCKED = "overlocked"
    OVERCAST = "overcast"
    FRENCH = "french"
    BOUND = "bound"


class HemFinish(Enum):
    """A hem folded up once, its edge finished as the seams are, or twice, its edge turned under."""

    SINGLE = "single"
    DOUBLE = "double"


@dataclass(frozen=True, slots=True, kw_only=True)
class Gauge:
    """The widths that a finish is sewn with: whole marks of the gauge that the maker has.

    `plain` is a seam's and a single hem's; `french` a French seam's, whose first seam takes `fold`, trimmed to `trim`,
    the second the rest; `fold` also half of a double hem, and what is turned under; `strip` binds raw edges.
    """

    plain: Length
    french: Length
    fold: Length
    trim: Length
    strip: Length


_NOTHING: Final = Length(spelling="0 in")
_INCHES: Final = Gauge(
    plain=Length(spelling="1/2 in"),
    french=Length(spelling="5/8 in"),
    fold=Length(spelling="1/4 in"),
    trim=Length(spelling="1/8 in"),
    strip=Length(spelling="1 in"),
)
# No seam gauge and no throat plate in millimetres has a mark at 12.7.
_MILLIMETRES: Final = Gauge(
    plain=Length(spelling="12 mm"),
    french=Length(spelling="15 mm"),
    fold=Length(spelling="6 mm"),
    trim=Length(spelling="3 mm"),
    strip=Length(spelling="24 mm"),
)


def gauge(unit: Unit) -> Gauge:
    """The widths for who measures in that unit (common practice)."""
    return _INCHES if unit is Unit.IN else _MILLIMETRES


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """The finish of a garment. A pattern's allowances follow it, except those that are given."""

    seam: SeamFinish = SeamFinish.OVERLOCKED
    hem: HemFinish = HemFinish.SINGLE

    def allowances(self, unit: Unit) -> Mapping[Kind, Allowance]:
        """What each kind of edge gets that has no allowance of its own."""
        sewn, french = gauge(unit), self.seam is SeamFinish.FRENCH
        return MappingProxyType(
            {
                Kind.SEAM: _allowance(sewn.french if french else sewn.plain),
                Kind.HEM: _allowance(
                    *((sewn.fold, sewn.fold) if self.hem is HemFinish.DOUBLE else (sewn.plain,))
                ),
                Kind.EDGE: _allowance(sewn.fold if french else _NOTHING),
            }
        )


def _allowance(*parts: Length) -> Allowance:
    return Allowance(parts=parts)
