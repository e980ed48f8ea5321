"""How true the light is, shown where it is: the forecast as areas on the table."""

from dataclasses import dataclass, replace
from typing import Final

from calibration.table.saved import Alignment
from projector.actions import Action, ChangeSide
from projector.bindings import BLANK, HELP, QUIT, SIDE, Binding
from projector.lighting.lit_area import LitArea, lit_area
from projector.person import QUARTER, SIDES, Person
from projector.pictures.forecast_areas import Area, Forecast, areas_of
from projector.pictures.forecast_light import forecast_layer
from projector.scene import Controls, Layer, Scene
from projector.trust import rounded_up
from projector.words.help_page import help_light
from projector.words.strip import lay_strip, strip_light
from projector.words.strip_rows import StripWords

BINDINGS: Final = (SIDE, BLANK, HELP, replace(QUIT, says="leave"))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ForecastStation:
    """`warnings` are what else there is to be told of the alignment, in a few words each."""

    alignment: Alignment
    lit: LitArea
    areas: tuple[Area, ...]
    warnings: tuple[str, ...] = ()
    side: int = 0

    @classmethod
    def begun(cls, alignment: Alignment, warnings: tuple[str, ...] = ()) -> "ForecastStation":
        """The areas of an alignment's forecast, for the person at the near side."""
        lit = lit_area(alignment.map)
        areas = areas_of(Forecast.of(alignment), lit)
        return cls(alignment=alignment, lit=lit, areas=areas, warnings=warnings)

    @property
    def bindings(self) -> tuple[Binding, ...]:
        """The keys that have a meaning here."""
        return BINDINGS

    @property
    def finished(self) -> bool:
        """It stays until the person leaves."""
        return False

    @property
    def person(self) -> Person:
        """The person at the table."""
        return Person(facing_deg=self.alignment.turn_deg + QUARTER * self.side)

    def after(self, action: Action) -> "ForecastStation":
        """The station after the action."""
        return replace(self, side=(self.side + 1) % SIDES) if isinstance(action, ChangeSide) else self

    def scene(self, controls: Controls) -> Scene:
        """The areas and the strip; the keys instead of the areas while help is asked for."""
        lit, person = self.lit, self.person
        strip = lay_strip(self.strip_words(controls), lit, person, None)
        words = Layer(name="strip", key=(strip, person), draw=lambda: strip_light(strip, lit, person))
        if controls.helping:
            page = Layer(
                name="main", key=("help", person), draw=lambda: help_light(self.bindings, lit, person)
            )
            return (page, words)
        return (forecast_layer(self.areas, lit, person, strip), words)

    def strip_words(self, controls: Controls) -> StripWords:
        """What is shown and the claim for the whole; then what else is known, and the keys."""
        alignment = self.alignment
        first = ["how true the light is", f"good to {rounded_up(alignment.p95_in)} nearly everywhere"]
        if not alignment.trustworthy:
            first.append("NOT GOOD ENOUGH TO CUT BY")
        aside = ["preview, not true to size"] if controls.preview else []
        aside += [] if alignment.size_checked else ["size not checked"]
        aside += [*self.warnings, "h shows the keys"]
        return StripWords(first=tuple(first), aside=tuple(aside))
