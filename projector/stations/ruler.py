"""The ruler test: lines of light are held against a tape, and what it says is typed on the table.

How long the lines should be is not shown before all are taped: people read what they expect.
"""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from calibration.table.saved import Alignment
from calibration.trust.ruler_test import RulerTest, is_misread
from patterns.errors import PatternError
from patterns.measures import inches
from projector.actions import Accept, Action, ChangeSide, Type, Undo
from projector.aligning.ruler_lines import RulerLines, ruler_light, ruler_lines
from projector.bindings import RULER_BINDINGS, Binding
from projector.lighting.lit_area import LitArea, lit_area
from projector.lighting.look import STRIP_LIGHT
from projector.person import QUARTER, SIDES, Person
from projector.scene import Controls, Layer, Scene
from projector.words.help_page import help_light
from projector.words.paragraph import paragraph_light
from projector.words.strip import lay_strip, strip_light
from projector.words.strip_rows import StripWords

CARET: Final = "_"  # still: nothing on the table flashes
MOST_SIGNS: Final = 16


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RulerStation:
    """`taped_in` are the lengths accepted so far, `typed` is what stands for the line in hand."""

    lit: LitArea
    facing_deg: float
    lines: RulerLines
    taped_in: tuple[float, ...] = ()
    typed: str = ""
    side: int = 0
    notice: str = ""
    result: RulerTest | None = None
    finished: bool = False

    @classmethod
    def begun(cls, alignment: Alignment) -> "RulerStation":
        """With the first line in hand; ProjectorError where the light is too small for any."""
        lit = lit_area(alignment.map)
        lines = ruler_lines(lit, Person(facing_deg=alignment.turn_deg))
        return cls(lit=lit, facing_deg=alignment.turn_deg, lines=lines)

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """Signs are text here; keys that cannot stand in a length keep their meaning."""
        return RULER_BINDINGS

    @property
    def person(self) -> Person:
        """The person at the table."""
        return Person(facing_deg=self.facing_deg + QUARTER * self.side)

    def after(self, action: Action) -> "RulerStation":
        """The station after the action; what cannot be is said and changes nothing."""
        match action:
            case ChangeSide():
                return replace(self, side=(self.side + 1) % SIDES)
            case Accept() if self.result is not None:
                return replace(self, finished=True)
            case Accept():
                return self._accepted()
            case Type(text=text) if self.result is None:
                return replace(self, typed=(self.typed + text)[:MOST_SIGNS], notice="")
            case Undo():
                return self._erased()
            case _:
                return self

    def scene(self, controls: Controls) -> Scene:
        """The lines, or the result, and the strip; the keys instead when asked for."""
        lit, person = self.lit, self.person
        if controls.helping:
            main = Layer(
                name="main", key=("help", person), draw=lambda: help_light(self.bindings, lit, person)
            )
        elif self.result is not None:
            words = self.result.words
            main = Layer(
                name="main",
                key=(words, person),
                draw=lambda: paragraph_light(words, STRIP_LIGHT, lit, person),
            )
        else:
            lines, chosen = self.lines, len(self.taped_in)
            main = Layer(
                name="main", key=(chosen, person), draw=lambda: ruler_light(lines, chosen, lit, person)
            )
        shows_lines = self.result is None and not controls.helping
        strip = lay_strip(
            self.strip_words(controls), lit, person, self.lines.outline_in if shows_lines else None
        )
        return (
            main,
            Layer(name="strip", key=(strip, person), draw=lambda: strip_light(strip, lit, person)),
        )

    def strip_words(self, controls: Controls) -> StripWords:
        """Which line, what was typed, and what to do."""
        preview = ("preview, not true to size",) if controls.preview else ()
        if self.result is not None:
            kept = "not kept" if controls.preview else "kept"
            ways = ("enter leaves", "backspace types the last line again")
            return StripWords(first=(f"the result is {kept}",), aside=(*preview, *ways))
        first = (f"line {len(self.taped_in) + 1}", f"the tape says: {self.typed}{CARET}")
        notice = (self.notice,) if self.notice else ("from tick to tick", "such as 35 15/16 or 912 mm")
        return StripWords(first=first, aside=(*preview, *notice, "enter goes on", "h shows the keys"))

    def _accepted(self) -> "RulerStation":
        if not self.typed.strip():
            return replace(self, notice="type what the tape says")
        try:
            taped_in = inches(self.typed)
        except PatternError:
            return replace(self, notice="that is no length: write 35 15/16 or 91.2 cm")
        if is_misread((self.lines.all[len(self.taped_in)].length_in, taped_in)):
            return replace(self, notice="that cannot be: measure again, and mind the unit")
        taped = (*self.taped_in, taped_in)
        result = (
            self.lines.tested(taped, datetime.now().astimezone())
            if len(taped) == len(self.lines.all)
            else None
        )
        return replace(self, taped_in=taped, typed="", notice="", result=result)

    def _erased(self) -> "RulerStation":
        if self.typed:
            return replace(self, typed=self.typed[:-1], notice="")
        if not self.taped_in:
            return replace(self, notice="nothing to erase")
        return replace(self, taped_in=self.taped_in[:-1], notice="", result=None)
