"""Sewing: the card in words of light, one step at a time, turned to where the person stands."""

from dataclasses import dataclass, replace
from typing import Final

from calibration.table.saved import Alignment
from patterns.sewing.step import Step
from projector.actions import Action, ChangeSide, Flip, Show
from projector.bindings import BLANK, FREEZE, HELP, QUIT, SIDE, Binding
from projector.lighting.lit_area import LitArea
from projector.person import QUARTER, SIDES, Person
from projector.scene import Controls, Layer, Scene
from projector.sewing.page import card_light, lay_step
from projector.words.help_page import help_light
from projector.words.strip import lay_strip, strip_light
from projector.words.strip_rows import StripWords

BINDINGS: Final = (
    Binding(
        shown="page down, n; page up, p",
        says="next step; the one before",
        keys=("page down", "n", "right", "down", "return", "page up", "p", "left", "up"),
        actions=(*5 * (Flip(by=1),), *4 * (Flip(by=-1),)),
    ),
    Binding(
        shown="1 to 9",
        says="that step",
        keys=tuple(str(number) for number in range(1, 10)),
        actions=tuple(Show(number=number) for number in range(1, 10)),
    ),
    Binding(shown="home", says="the first step", keys=("home",), actions=(Show(number=1),)),
    replace(FREEZE, says="hold this step, or free"),
    BLANK,
    SIDE,
    HELP,
    replace(QUIT, says="leave; the step is kept"),
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CardGround:
    """What stays the same while sewing: the garment's name and steps, `cautions` for the first, and the light."""

    name: str
    steps: tuple[Step, ...]
    cautions: tuple[str, ...]
    alignment: Alignment
    lit: LitArea


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CardStation:
    """`shown` is the number of the step that is lit, from 0."""

    ground: CardGround
    shown: int = 0
    side: int = 0
    notice: str = ""

    @classmethod
    def begun(cls, ground: CardGround, title: str = "") -> "CardStation":
        """At the step of that title, else at the first."""
        titles = [step.title for step in ground.steps]
        return cls(ground=ground, shown=titles.index(title) if title in titles else 0)

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """The keys that have a meaning here."""
        return BINDINGS

    @property
    def finished(self) -> bool:
        """It stays until the person leaves."""
        return False

    @property
    def step(self) -> Step:
        """The step that is lit."""
        return self.ground.steps[self.shown]

    @property
    def person(self) -> Person:
        """The person at the table."""
        return Person(facing_deg=self.ground.alignment.turn_deg + QUARTER * self.side)

    def after(self, action: Action) -> "CardStation":
        """The station after the action; beyond the first and the last step there is nothing."""
        match action:
            case Flip(by=by):
                return self._showing(self.shown + by)
            case Show(number=number):
                return self._showing(number - 1)
            case ChangeSide():
                return replace(self, side=(self.side + 1) % SIDES, notice="")
            case _:
                return self

    def scene(self, controls: Controls) -> Scene:
        """The step and the strip; the keys instead of the step while help is asked for."""
        lit, person, ground = self.ground.lit, self.person, self.ground
        strip = lay_strip(self.strip_words(controls), lit, person, None)
        words = Layer(name="strip", key=(strip, person), draw=lambda: strip_light(strip, lit, person))
        if controls.helping:
            page = Layer(name="main", key=("help", person), draw=lambda: help_light(BINDINGS, lit, person))
            return (page, words)
        lines = lay_step(self.step, ground.cautions if self.shown == 0 else (), lit, person, strip)
        card = Layer(name="main", key=(lines, person), draw=lambda: card_light(lines, lit, person))
        return (card, words)

    def strip_words(self, controls: Controls) -> StripWords:
        """Which step of which garment; then what comes next, and the keys."""
        steps = self.ground.steps
        first = [f"step {self.shown + 1} of {len(steps)}", self.ground.name]
        if controls.frozen:
            return StripWords(first=("FROZEN", *first), aside=("f frees it",))
        aside = ["preview, not true to size"] if controls.preview else []
        aside += [self.notice] if self.notice else []
        aside += (
            [f"next: {steps[self.shown + 1].title}"] if self.shown + 1 < len(steps) else ["the last step"]
        )
        return StripWords(first=tuple(first), aside=(*aside, "h shows the keys"))

    def _showing(self, number: int) -> "CardStation":
        last = len(self.ground.steps) - 1
        if number < 0:
            return replace(self, notice="this is the first step")
        if number > last:
            return replace(self, notice=f"there is no step {number + 1}")
        return replace(self, shown=number, notice="")
