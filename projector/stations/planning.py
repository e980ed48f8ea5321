"""While a lay is planned: what is searched, and the best so far, in still words; it ends when all is tried."""

from dataclasses import dataclass, replace
from typing import Final

from projector.actions import Action, ChangeSide
from projector.bindings import BLANK, HELP, QUIT, SIDE, Binding
from projector.laying.ground import LayGround
from projector.lighting.look import STRIP_LIGHT
from projector.person import SIDES
from projector.scene import Controls, Layer, Scene
from projector.words.help_page import help_light
from projector.words.paragraph import paragraph_light

PLANNING: Final = (SIDE, BLANK, HELP, replace(QUIT, says="search no longer: the best so far is taken"))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlanningStation:
    """`told` is where the search has come to."""

    ground: LayGround
    told: str = ""
    side: int = 0
    finished: bool = False

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """The keys that have a meaning now."""
        return PLANNING

    def after(self, action: Action) -> "PlanningStation":
        """The words turned to another side."""
        return replace(self, side=(self.side + 1) % SIDES) if isinstance(action, ChangeSide) else self

    def scene(self, controls: Controls) -> Scene:
        """The words in the middle of the light; the keys while help is asked for."""
        lit, person = self.ground.lit, self.ground.person(self.side)
        if controls.helping:
            return (Layer(name="help", key=person, draw=lambda: help_light(PLANNING, lit, person)),)
        told = self.told.replace(": ", "\n")
        words = f"planning the lay\n{told}\nq: the best so far will do"
        return (
            Layer(
                name="told",
                key=(words, person),
                draw=lambda: paragraph_light(words, STRIP_LIGHT, lit, person),
            ),
        )
