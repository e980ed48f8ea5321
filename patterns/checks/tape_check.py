"""What a tape says of the garment beside what was captured of it."""

import re
from dataclasses import dataclass
from typing import Final

from patterns.checks.half_measures import AT_A_DROP, MEASURES, captured_in, named
from patterns.errors import PatternError
from patterns.measures import Length, Unit, said_in
from patterns.piece import Piece

AGREES_IN: Final = 1 / 8  # what a tape on cloth can tell (common practice)
_TAPED: Final = re.compile(r"(?P<what>[^\W\d][^\d]*?)\s+(?P<length>[.\d½¼¾⅛⅜⅝⅞].*?)(?:\s+at\s+(?P<drop>.+))?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Taped:
    """What the tape said: one of MEASURES, or one of AT_A_DROP with its `drop`. PatternError for anything else."""

    what: str
    length: Length
    drop: Length | None = None

    def __post_init__(self) -> None:
        if self.what not in MEASURES and self.what not in AT_A_DROP:
            known = ", ".join((*MEASURES, *AT_A_DROP))
            raise PatternError(f'"{self.what}" cannot be checked; what can is {known}')
        if self.length.inches <= 0:
            raise PatternError(f"a {self.what} of {self.length.words} is no length to check by")
        if self.what in AT_A_DROP and self.drop is None:
            raise PatternError(
                f"a {self.what} needs its drop: how far below the high shoulder point it was taped, such as "
                f'"{self.what} {self.length} at 12 in"'
            )
        if self.what in MEASURES and self.drop is not None:
            raise PatternError(f'a {self.what} has a place of its own; leave "at {self.drop}" out')

    @property
    def name(self) -> str:
        """What was measured, and where."""
        return named(self.what, self.drop)


@dataclass(frozen=True, slots=True, kw_only=True)
class TapeCheck:
    """One measure as captured, in inches, and as taped."""

    taped: Taped
    captured_in: float

    @property
    def taped_in(self) -> float:
        """What the tape said, in inches."""
        return self.taped.length.inches

    @property
    def difference_in(self) -> float:
        """Inches by which the captured measure is the longer one."""
        return self.captured_in - self.taped_in

    @property
    def captured_words(self) -> str:
        """The captured measure in the unit that the tape has."""
        return said_in(self.captured_in, self.taped.length.own_unit)

    @property
    def difference_words(self) -> str:
        """By how much it is the longer or shorter one, in that unit."""
        apart = said_in(abs(self.difference_in), self.taped.length.own_unit)
        return f"{apart} {'more' if self.difference_in > 0 else 'less'}"

    @property
    def warning(self) -> str:
        """What to do about the difference; empty where the two agree."""
        if abs(self.difference_in) <= AGREES_IN:
            return ""
        return (
            f"{self.taped.name}: captured {self.captured_words}, taped {self.taped.length.words}, "
            f"{self.difference_words} than the tape; measure again, then pull the outline to where it belongs"
        )


def read_taped(text: str, unit: Unit = Unit.IN) -> Taped:
    """What a tape said, from "hem width 11 1/4 in" or "half bust 19 at 12 in"; a bare number is of `unit`.

    Raises PatternError for what cannot be read or is not measured.

    >>> read_taped("half bust 19 1/2 in at 12 in").name
    'half bust at 12 in'
    """
    match = _TAPED.fullmatch(text.strip())
    if match is None:
        raise PatternError(
            f'"{text}" is not a measure such as "hem width 11 1/4 in" or "half bust 19 in at 12 in"'
        )
    what = " ".join(match["what"].lower().split())
    drop = Length(spelling=match["drop"], unit=unit) if match["drop"] else None
    return Taped(what=what, length=Length(spelling=match["length"], unit=unit), drop=drop)


def tape_checks(
    piece: Piece, taped: tuple[Taped, ...], opposite: Piece | None = None
) -> tuple[TapeCheck, ...]:
    """Each taped measure beside the captured one; `opposite` is the back of a front, for a girth.

    Raises PatternError for a measure that the piece does not have.
    """
    return tuple(
        TapeCheck(taped=one, captured_in=captured_in(piece, one.what, one.drop, opposite)) for one in taped
    )
