"""Numbers that change while a hand pulls: each has the room that its widest takes, so that no word about it moves."""

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from projector.words.unbroken import HELD

DIGIT: Final = "\N{FIGURE SPACE}"  # as wide as a digit, where one may come
NUMBER: Final = re.compile(
    r"(?<![\d./])(?:(?P<whole>\d+)(?: \d+/\d+)?|\d+/\d+|(?P<tens>\d+)\.\d+)(?: (?P<unit>in|cm|mm)\b|°|(?= degrees))"
)
_ROOM: Final = re.compile(f"{DIGIT}[{DIGIT}{HELD} ./]*(?:in|cm|mm|°|(?=[{HELD} ]degrees))")


@lru_cache(maxsize=256)
def with_room(phrase: str) -> str:
    """The phrase with room for each of its lengths and angles in place of them.

    >>> with_room("neck 5 3/8 in").replace(DIGIT, "0") == f"neck 0{HELD}00/00{HELD}in"
    True
    """
    return NUMBER.sub(_room, phrase).replace(f"{DIGIT} degrees", f"{DIGIT}{HELD}degrees")


@lru_cache(maxsize=256)
def numbers_in(phrase: str) -> tuple[str, ...]:
    """The lengths and angles that a phrase says, in order."""
    return tuple(found.group() for found in NUMBER.finditer(phrase))


def filled(text: str, numbers: Iterator[str]) -> Iterator[str]:
    """Inverse of `with_room`, in parts: the words, and in each room the next of the numbers.

    >>> list(filled(f"neck {with_room('5 3/8 in')}: goes", iter(["6 in"])))
    ['neck ', '6 in', ': goes']
    """
    before, *after = _ROOM.split(text)
    yield from [before] if before else []
    for words in after:
        yield next(numbers)
        yield from [words] if words else []


def _room(number: "re.Match[str]") -> str:
    """Room for any number with as many digits before its fraction; few millimetres may come to be said in cm."""
    whole, unit = DIGIT * len(number["whole"] or number["tens"] or "0"), number["unit"]
    match unit:
        case "in":
            return f"{whole}{HELD}{DIGIT * 2}/{DIGIT * 2}{HELD}in"
        case "mm" if len(whole) > 1:
            return f"{whole}{HELD}mm"
        case None:
            return f"{whole}.{DIGIT}{'°' if number[0].endswith('°') else ''}"
        case _:
            return f"{whole}.{DIGIT}{HELD}cm"
