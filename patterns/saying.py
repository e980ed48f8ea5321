"""Sentences with lengths in them, which wait for the unit of their file.

What changes a seam line knows inches alone. It says what went wrong as a function of how lengths are said, and the
pattern, which knows its own unit, has it said so.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from patterns.errors import PatternError
from patterns.measures import TAPE_PARTS, Unit, said_as_set, said_finely, said_in


@dataclass(frozen=True, slots=True)
class Say:
    """How lengths are said in one unit.

    >>> say = Say(Unit.CM)
    >>> f"{say(2.0)} at {say.place(1.0, 0.5)}"
    '5.1 cm at [2.54 cm, 1.27 cm]'
    """

    unit: Unit

    def __call__(self, length_in: float, parts: int = TAPE_PARTS) -> str:
        """The inches as a tape says them, or to 1/`parts` in and as finely in millimetres."""
        return said_in(length_in, self.unit, parts)

    def beyond(self, limit_in: float, length_in: float, parts: int = TAPE_PARTS) -> str:
        """Inches that are more than a limit: "a little over" it where a tape would say the same of both."""
        said, limit = self(length_in, parts), self(limit_in, parts)
        return f"a little over {limit}" if said == limit else said

    def allowance(self, length_in: float) -> str:
        """As a seam gauge is set to it, never rounded: half an inch is 12.7 mm, not 13."""
        return said_as_set(length_in, self.unit)

    def finely(self, length_in: float) -> str:
        """In decimals."""
        return said_finely(length_in, self.unit)

    def place(self, x_in: float, y_in: float) -> str:
        """A place on a piece."""
        return f"[{self.finely(x_in)}, {self.finely(y_in)}]"


Sentence = Callable[[Say], str]


class LengthError(PatternError):
    """A PatternError with lengths in its sentence: in inches until the unit of the file is known."""

    def __init__(self, sentence: Sentence, unit: Unit = Unit.IN) -> None:
        super().__init__(sentence(Say(unit)))
        self.sentence = sentence


@contextmanager
def lengths_said_in(unit: Unit) -> Iterator[None]:
    """Any LengthError from within is said in that unit.

    >>> with lengths_said_in(Unit.MM):
    ...     raise LengthError(lambda say: f"{say(2.0)} is too much")
    Traceback (most recent call last):
        ...
    patterns.saying.LengthError: 51 mm is too much
    """
    try:
        yield
    except LengthError as error:
        raise LengthError(error.sentence, unit) from error
