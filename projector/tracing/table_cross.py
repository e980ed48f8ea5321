"""A cross of light that is walked over the table, with arrow keys or after the pointer; in table inches."""

import math
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.measures import Unit, said_in
from patterns.tracing.hand_trace import Place
from projector.actions import Action, Aim, ChangeOffset, ChangeStep, Move
from projector.lighting.lit_area import LitArea
from projector.person import Person

# coarse, and fine as half a pixel where a pixel is 1/32 in: what a careful eye can tell
STEPS_IN: Final = {Unit.IN: (1 / 4, 1 / 64), Unit.CM: (5 / 25.4, 0.5 / 25.4), Unit.MM: (5 / 25.4, 0.5 / 25.4)}
BESIDE_IN: Final = 1.5  # clear of a fingertip and its shadow
USUAL_OFFSETS: Final = {
    "on the pointer": (0.0, 0.0),
    "above the pointer": (0.0, BESIDE_IN),
    "left of the pointer": (-BESIDE_IN, 0.0),
    "right of the pointer": (BESIDE_IN, 0.0),
}
UNSTEADY_PX: Final = 6.0  # that the pointer may stray unheeded once the arrows have set the cross


@dataclass(frozen=True, slots=True, kw_only=True)
class TableCross:
    """`offset_in` is where it is beside the pointer, as the person sees it: right and away.

    It steps by what a tape in `unit` has; `stepped` says that the arrows moved it since the pointer did.
    """

    at_in: Place
    fine: bool = False
    offset_in: Place = (0.0, 0.0)
    slip_in: Place = (0.0, 0.0)
    pointer_px: tuple[float, float] | None = None
    stepped: bool = False
    unit: Unit = Unit.IN

    @classmethod
    def in_the_middle(cls, lit: LitArea, unit: Unit, offset_in: Place = (0.0, 0.0)) -> "TableCross":
        """In the middle of the light."""
        x, y = lit.centre_in.tolist()
        return cls(at_in=(x, y), unit=unit, offset_in=offset_in)

    def after(self, action: Action, lit: LitArea, person: Person) -> "TableCross":
        """Moved, or moving otherwise; the same after any other action. It never leaves the light."""
        match action:
            case Move(right=right, away=away):
                step = STEPS_IN[self.unit][self.fine != action.other_step]
                return replace(self._moved((step * right, step * away), lit, person), stepped=True)
            case Aim(at_px=at_px):
                return self._aimed(at_px, lit, person)
            case ChangeStep():
                return replace(self, fine=not self.fine)
            case ChangeOffset():
                usual = tuple(USUAL_OFFSETS.values())
                following = (usual.index(self.offset_in) + 1) % len(usual) if self.offset_in in usual else 0
                right, away = np.subtract(usual[following], self.offset_in).tolist()
                return replace(self._moved((right, away), lit, person), offset_in=usual[following])
            case _:
                return self

    def laid_on(self, at_in: Place) -> "TableCross":
        """On a point, from where it moves on with the pointer as far as the pointer goes."""
        (x, y), (slip_x, slip_y) = self.at_in, self.slip_in
        return replace(self, at_in=at_in, slip_in=(slip_x + at_in[0] - x, slip_y + at_in[1] - y))

    def let_go(self) -> "TableCross":
        """No longer holding a point."""
        return replace(self, slip_in=(0.0, 0.0))

    @property
    def words(self) -> tuple[str, ...]:
        """How it steps once it does, and where it is beside the pointer if it is."""
        step, other = (
            said_in(STEPS_IN[self.unit][fine], self.unit, 64) for fine in (self.fine, not self.fine)
        )
        steps = (f"steps {step}, s: {other}",)
        places = {place: name for name, place in USUAL_OFFSETS.items()}
        beside = (f"cross {places.get(self.offset_in, 'beside the pointer')}",)
        return (
            *(steps if self.stepped or self.fine or self.pointer_px is None else ()),
            *(beside if self.offset_in != (0.0, 0.0) else ()),
        )

    def _aimed(self, at_px: tuple[float, float], lit: LitArea, person: Person) -> "TableCross":
        unsteady = self.stepped and self.pointer_px is not None
        if unsteady and self.pointer_px is not None and math.dist(at_px, self.pointer_px) < UNSTEADY_PX:
            return self
        there = lit.projector_map.table_from_screen([at_px]) + self.slip_in
        at_in = _in_the_light(there + person.on_table(np.array([self.offset_in])), lit)
        return replace(self, at_in=at_in, pointer_px=at_px, stepped=False)

    def _moved(self, seen_in: Place, lit: LitArea, person: Person) -> "TableCross":
        """Moved by inches to the right and away, as far as the light goes."""
        there = np.array([self.at_in]) + person.on_table(np.array([seen_in]))
        return replace(self, at_in=_in_the_light(there, lit))


def _in_the_light(there: Array, lit: LitArea) -> Place:
    """A place on the table, (1, 2), or where it lies beyond the light, one at the light's end."""
    width, height = lit.projector_map.screen_px
    u, v = lit.projector_map.screen_from_table(there)[0].tolist()
    if not (0 <= u <= width - 1 and 0 <= v <= height - 1):
        within = [min(max(u, 0.0), width - 1.0), min(max(v, 0.0), height - 1.0)]
        there = lit.projector_map.table_from_screen([within])
    x, y = there[0].tolist()
    return x, y
