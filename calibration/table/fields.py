"""Fields of a file, each checked as it is taken: a complaint names the key and what is wanted."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import numpy as np

from calibration.frames import Array


class DamageError(Exception):
    """What is wrong with a file, without its name; `mend` is what to do where there is no copy of it."""

    def __init__(self, found: str, mend: str = "move the file away and align again") -> None:
        super().__init__(found)
        self.mend = mend


@dataclass(frozen=True, slots=True)
class Fields:
    """A group of fields; `of` says whose they are, such as "set-up 'attic': "."""

    values: Mapping[str, Any]
    of: str = ""

    def damaged(self, key: str, wanted: str) -> DamageError:
        """The complaint that the key does not hold what is wanted."""
        return DamageError(f"{self.of}damaged at '{key}', which should be {wanted}")

    def part(self, key: str) -> "Fields":
        """A group within the group."""
        value = self.values.get(key)
        if not isinstance(value, dict):
            raise self.damaged(key, "a group of fields")
        return Fields(value, self.of)

    def parts(self, key: str) -> tuple["Fields", ...]:
        """A list of groups."""
        value = self.values.get(key)
        if not isinstance(value, list) or not all(isinstance(one, dict) for one in value):
            raise self.damaged(key, "a list of groups of fields")
        return tuple(Fields(one, self.of) for one in value)

    def holds(self, key: str) -> bool:
        """Whether there is anything under the key."""
        return self.values.get(key) is not None

    def number(self, key: str) -> float:
        """A finite number."""
        value = self.values.get(key)
        if isinstance(value, bool) or not isinstance(value, int | float) or not np.isfinite(value):
            raise self.damaged(key, "a number")
        return float(value)

    def more_than_nothing(self, key: str) -> float:
        """A number above 0."""
        value = self.number(key)
        if value <= 0:
            raise self.damaged(key, "more than 0")
        return value

    def whole(self, key: str) -> int:
        """A whole number from 0."""
        value = self.values.get(key)
        if isinstance(value, bool) or not isinstance(value, int) or value < 0:
            raise self.damaged(key, "a whole number")
        return value

    def text(self, key: str) -> str:
        """Words, perhaps none."""
        value = self.values.get(key)
        if not isinstance(value, str):
            raise self.damaged(key, "text")
        return value

    def truth(self, key: str) -> bool:
        """True or false."""
        value = self.values.get(key)
        if not isinstance(value, bool):
            raise self.damaged(key, "true or false")
        return value

    def date(self, key: str) -> datetime:
        """A date and time; one that names no zone is local."""
        try:
            found = datetime.fromisoformat(str(self.values.get(key)))
        except ValueError:
            raise self.damaged(key, "a date and time") from None
        return found if found.tzinfo is not None else found.astimezone()

    def numbers(self, key: str, shape: tuple[int, ...]) -> Array:
        """Finite numbers in an array of the shape."""
        wanted = f"{' by '.join(str(n) for n in shape)} numbers"
        try:
            array = np.array(self.values.get(key), dtype=np.float64)
        except (TypeError, ValueError):
            raise self.damaged(key, wanted) from None
        if array.shape != shape or not np.isfinite(array).all():
            raise self.damaged(key, wanted)
        return array

    def pair(self, key: str) -> tuple[float, float]:
        """Two numbers."""
        first, second = self.numbers(key, (2,)).tolist()
        return first, second

    def triple(self, key: str) -> tuple[float, float, float]:
        """Three numbers."""
        first, second, third = self.numbers(key, (3,)).tolist()
        return first, second, third

    def pairs(self, key: str) -> tuple[tuple[float, float], ...]:
        """A list of two numbers each."""
        return tuple((first, second) for first, second in self._rows(key, 2))

    def triples(self, key: str) -> tuple[tuple[float, float, float], ...]:
        """A list of three numbers each."""
        return tuple((first, second, third) for first, second, third in self._rows(key, 3))

    def _rows(self, key: str, width: int) -> list[list[float]]:
        value = self.values.get(key)
        if not isinstance(value, list):
            raise self.damaged(key, f"a list of {width} numbers each")
        rows: list[list[float]] = self.numbers(key, (len(value), width)).tolist() if value else []
        return rows
