"""The error that a person at the table can mend, and the complaints that it lists."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Complaint:
    """One fault: what stands there and what is wanted, with its place where that is known.

    `at` is the way to the value ("pieces", "front", "edges", 2); `line` counts from 1, 0 when unknown.
    """

    found: str
    wanted: str
    at: tuple[str | int, ...] = ()
    file: str = ""
    line: int = 0

    def __str__(self) -> str:
        """The complaint as one sentence.

        >>> print(Complaint(found='"5 ft"', wanted="a length", file="top.yaml", line=3))
        top.yaml, line 3: found "5 ft"; wanted a length
        """
        line = f"line {self.line}" if self.line else ""
        place = ", ".join(part for part in (self.file, line) if part)
        sentence = f"found {self.found}; wanted {self.wanted}"
        return f"{place}: {sentence}" if place else sentence


class PatternError(Exception):
    """Says what was found, what was needed and what to do; `complaints` holds them one by one."""

    def __init__(self, message: str, complaints: Iterable[Complaint] = ()) -> None:
        super().__init__(message)
        self.complaints = tuple(complaints)

    @classmethod
    def listing(cls, complaints: Iterable[Complaint]) -> "PatternError":
        """One error for all complaints, a line each."""
        listed = tuple(complaints)
        return cls("\n".join(str(complaint) for complaint in listed), listed)
