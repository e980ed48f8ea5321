"""What stays the same while a lay is on the table."""

from dataclasses import dataclass

from calibration.table.saved import Alignment
from patterns.saying import Say
from projector.lighting.lit_area import LitArea
from projector.person import QUARTER, Person


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LayGround:
    """`warnings` say why not to trust the light, the gravest first; lengths are said by `say`."""

    alignment: Alignment
    lit: LitArea
    say: Say
    warnings: tuple[str, ...] = ()

    def person(self, side: int) -> Person:
        """The person at one of the four sides, counted anticlockwise from the near one."""
        return Person(facing_deg=self.alignment.turn_deg + QUARTER * side)
