"""A rule of the lay that is broken, as a cutter would say it."""

from dataclasses import dataclass
from enum import Enum
from typing import Final

HAIR_IN: Final = 1 / 1000  # less than cloth can show: what rounding may leave


class Rule(Enum):
    """What a lay must keep."""

    GAP = "gap"
    SELVEDGE = "selvedge"
    LENGTH = "length"
    FLAW = "flaw"
    FOLD = "fold"
    LAYER = "layer"
    GRAIN = "grain"
    NAP = "nap"
    REPEAT = "repeat"
    COUNT = "count"


@dataclass(frozen=True, slots=True, kw_only=True)
class Violation:
    """One broken rule: `numbers` of the pieces in the lay that break it, and a sentence about it."""

    rule: Rule
    numbers: tuple[int, ...]
    sentence: str

    def __str__(self) -> str:
        return self.sentence
