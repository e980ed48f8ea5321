"""How the person chose to see the light: the look, her own width of line and size of words, and what is added."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from patterns.measures import Unit, in_words
from projector.actions import Action, ChangeLine, ChangeLook, ChangeText, ShowGrid, ShowRepeats
from projector.errors import ProjectorError
from projector.lighting.limits import (
    LEAST_LINE_IN,
    LEAST_TEXT_IN,
    LIMIT_WORDS,
    LOOK_NAMES,
    MOST_LINE_IN,
    MOST_TEXT_IN,
)
from projector.lighting.looks import LOOKS, Look

LINES_IN: Final = (LEAST_LINE_IN, 1 / 16, 3 / 32, 1 / 8, 3 / 16, MOST_LINE_IN)
TEXTS_IN: Final = (LEAST_TEXT_IN, 1 / 2, 3 / 4, 1.0, 5 / 4, 3 / 2, MOST_TEXT_IN)
GRIDS: Final = (None, Unit.IN, Unit.CM)
PARTS: Final = 32  # of an inch, in words


@dataclass(frozen=True, slots=True, kw_only=True)
class Seeing:
    """`line_in` and `text_in` are None where the look's own hold. Raises ProjectorError as the look does."""

    name: str = LOOK_NAMES[0]
    line_in: float | None = None
    text_in: float | None = None
    repeats: bool = False
    grid: Unit | None = None

    def __post_init__(self) -> None:
        if self.name not in LOOKS:
            raise ProjectorError(f'found no look "{self.name}"; there are {", ".join(LOOK_NAMES)}')
        _ = self.look

    @property
    def look(self) -> Look:
        """The look in force."""
        own = LOOKS[self.name]
        return replace(own, line_in=self.line_in or own.line_in, text_in=self.text_in or own.text_in)

    def after(self, action: Action) -> "Seeing":
        """What becomes of it by the action; the very same after one that is not about seeing."""
        match action:
            case ChangeLook():
                following = (LOOK_NAMES.index(self.name) + 1) % len(LOOK_NAMES)
                return replace(self, name=LOOK_NAMES[following], line_in=None)
            case ChangeLine(by=by):
                return replace(self, line_in=_stepped(LINES_IN, self.look.line_in, by))
            case ChangeText(by=by):
                return replace(self, text_in=_stepped(TEXTS_IN, self.look.text_in, by))
            case ShowRepeats():
                return replace(self, repeats=not self.repeats)
            case ShowGrid():
                return replace(self, grid=GRIDS[(GRIDS.index(self.grid) + 1) % len(GRIDS)])
            case _:
                return self

    def words(self, action: Action) -> str:
        """What an action that is about seeing has come to, for the strip."""
        match action:
            case ChangeLook():
                advice = self.look.advice
                return f"look for {self.name} cloth" + (f": {advice}" if advice else "")
            case ChangeLine():
                return f"cut line {_said(self.look.line_in, LINES_IN, 'line')}"
            case ChangeText():
                return f"words {_said(self.look.text_in, TEXTS_IN, 'text')}"
            case ShowRepeats():
                return (
                    "the cut line repeated 1/2 in outside" if self.repeats else "no repeats of the cut line"
                )
            case ShowGrid():
                return "no grid" if self.grid is None else f"a grid of 1 {self.grid.value}"
            case _:
                return ""

    @property
    def kept(self) -> Mapping[str, Any]:
        """As a file keeps it; `seeing_of` is its inverse."""
        return {
            "look": self.name,
            "line_in": self.line_in,
            "text_in": self.text_in,
            "repeats": self.repeats,
            "grid": None if self.grid is None else self.grid.value,
        }


def seeing_of(kept: Mapping[str, Any]) -> Seeing:
    """What a file kept; ValueError or KeyError where it is not of ours, ProjectorError beyond the limits."""
    line, text, grid = kept["line_in"], kept["text_in"], kept["grid"]
    return Seeing(
        name=str(kept["look"]),
        line_in=None if line is None else float(line),
        text_in=None if text is None else float(text),
        repeats=kept["repeats"] is True,
        grid=None if grid is None else Unit(grid),
    )


def _stepped(ladder: tuple[float, ...], now: float, by: int) -> float:
    """The next rung above or below, and no farther than the ladder goes."""
    if by > 0:
        return next((rung for rung in ladder if rung > now), ladder[-1])
    return next((rung for rung in reversed(ladder) if rung < now), ladder[0])


def _said(length_in: float, ladder: tuple[float, ...], what: str) -> str:
    """The length, and the limits where it has come to one."""
    limits = f", of {LIMIT_WORDS[what]}" if length_in in (ladder[0], ladder[-1]) else ""
    return f"{in_words(length_in, PARTS)}{limits}"
