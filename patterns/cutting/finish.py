"""How the raw edges of a garment are finished, and the allowances that each way needs (common practice)."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType
from typing import Final

from patterns.measures import Length
from patterns.parts import Allowance, Kind

FACED_NECK_IN: Final = 1 / 2  # whatever finishes the other seams: the facing covers this one


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
class Finish:
    """The finish of a garment. A pattern's allowances follow it, except those that are given."""

    seam: SeamFinish = SeamFinish.OVERLOCKED
    hem: HemFinish = HemFinish.SINGLE

    @property
    def allowances(self) -> Mapping[Kind, Allowance]:
        """What each kind of edge gets that has no allowance of its own."""
        return MappingProxyType(
            {
                Kind.SEAM: _SEAMS.get(self.seam, _HALF),
                Kind.HEM: _HEMS[self.hem],
                Kind.EDGE: _EDGES.get(self.seam, _NONE),
            }
        )


def _allowance(*parts: str) -> Allowance:
    return Allowance(parts=tuple(Length(spelling=part) for part in parts))


_HALF: Final = _allowance("1/2 in")
_NONE: Final = _allowance("0 in")
# a first seam of 1/4 in wrong sides out, trimmed to 1/8, then one of 3/8 that encloses it
_SEAMS: Final = MappingProxyType({SeamFinish.FRENCH: _allowance("5/8 in")})
_HEMS: Final = MappingProxyType({HemFinish.SINGLE: _HALF, HemFinish.DOUBLE: _allowance("1/4 in", "1/4 in")})
# the outer edge of a facing: turned under where nothing covers it
_EDGES: Final = MappingProxyType({SeamFinish.FRENCH: _allowance("1/4 in")})
