"""The words of a strip in rows: as many of its phrases in one as its width holds."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from projector.lighting.letters import words_width
from projector.lighting.look import STRIP_ASIDE_HEIGHT_IN, STRIP_ASIDE_LIGHT, STRIP_HEIGHT_IN, STRIP_LIGHT
from projector.words.line import WordsLine
from projector.words.running import DIGIT, numbers_in, with_room
from projector.words.unbroken import spaced, unbroken

BETWEEN: Final = "  ·  "
ASIDE: Final = STRIP_ASIDE_HEIGHT_IN / STRIP_HEIGHT_IN
ROW_GAP: Final = 0.6  # of the letters' height
SENTENCE: Final = 44  # letters; what is longer may be broken between its words, in rows of its own
RUNS: Final = re.compile(f"{DIGIT}.*?(?={BETWEEN}|$)")  # a length, and what its phrase says after it


@dataclass(frozen=True, slots=True, kw_only=True)
class StripWords:
    """What must be read first, and the rest below it, dimmer; numbers in `running` phrases change as a hand pulls."""

    first: tuple[str, ...]
    aside: tuple[str, ...] = ()
    running: tuple[str, ...] = ()

    @property
    def roomy(self) -> "StripWords":
        """The words with room for any number in place of those that run: the same while nothing else changes."""
        first, aside = (
            tuple(with_room(phrase) if phrase in self.running else phrase for phrase in phrases)
            for phrases in (self.first, self.aside)
        )
        return StripWords(first=first, aside=aside)

    @property
    def numbers(self) -> tuple[str, ...]:
        """Those that run, in the order of the words."""
        said = (phrase for phrase in (*self.first, *self.aside) if phrase in self.running)
        return tuple(number for phrase in said for number in numbers_in(phrase))


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One line of the strip, with its letters' height in inches."""

    text: str
    height_in: float
    light: float

    @property
    def width_in(self) -> float:
        """Inches from its first letter to its last."""
        return words_width(self.text) * self.height_in

    def parted(self, left: float, top: float) -> Iterator[WordsLine]:
        """Its words from a place on, where there are numbers that run parted before each, and after its phrase."""
        ends = sorted(
            {0, len(self.text), *(end for found in RUNS.finditer(self.text) for end in found.span())}
        )
        for start, end in pairwise(ends):
            across = words_width(self.text[:start]) * self.height_in
            yield WordsLine(self.text[start:end], self.height_in, self.light, left + across, top)


def in_rows(words: StripWords, width_in: float, text_in: float, most: int) -> tuple[Row, ...] | None:
    """The words in rows of that width; None where so many are not enough."""
    rows = _wrapped(words, width_in, text_in)
    return rows if rows is not None and len(rows) <= most else None


def _wrapped(words: StripWords, width_in: float, text_in: float) -> tuple[Row, ...] | None:
    aside_in = ASIDE * text_in
    first, aside = _lines(words.first, width_in / text_in), _lines(words.aside, width_in / aside_in)
    if first is None or aside is None:
        return None
    return (
        *(Row(text=text, height_in=text_in, light=STRIP_LIGHT) for text in first),
        *(Row(text=text, height_in=aside_in, light=STRIP_ASIDE_LIGHT) for text in aside),
    )


def size_in(rows: Sequence[Row]) -> tuple[float, float]:
    """Width and height, without the tails of the lowest letters."""
    height = sum(row.height_in for row in rows) + ROW_GAP * sum(row.height_in for row in rows[:-1])
    return max(row.width_in for row in rows), height


def _lines(phrases: Sequence[str], width: float) -> list[str] | None:
    """Phrases in lines not wider than so many letter heights; None if one that is not to be broken is wider."""
    lines: list[str] = []
    for phrase in phrases:
        longer = f"{lines[-1]}{BETWEEN}{phrase}" if lines else phrase
        if lines and words_width(longer) <= width:
            lines[-1] = longer
            continue
        broken = [phrase] if words_width(phrase) <= width else _broken(phrase, width)
        if broken is None:
            return None
        lines += broken
    return lines


def _broken(phrase: str, width: float) -> list[str] | None:
    """A sentence in lines, no length torn apart; None for a shorter phrase, or where a single word is too wide."""
    if len(phrase) <= SENTENCE:
        return None
    lines: list[str] = []
    for word in map(spaced, unbroken(phrase).split(" ")):
        if words_width(word) > width:
            return None
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and words_width(longer) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines
