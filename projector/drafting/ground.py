"""What stays the same while a pattern is drafted on the table."""

from dataclasses import dataclass

from calibration.table.saved import Alignment
from patterns.cutting.drafted import DraftedPattern
from projector.cloth.ground import Ground
from projector.drafting.checks import Wearer
from projector.lighting.lit_area import LitArea
from projector.person import QUARTER, Person


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DraftGround:
    """`warnings` say why not to trust the light, the gravest first."""

    alignment: Alignment
    lit: LitArea
    wearer: Wearer
    warnings: tuple[str, ...] = ()

    def person(self, side: int) -> Person:
        """The person at one of the four sides, counted anticlockwise from the near one."""
        return Person(facing_deg=self.alignment.turn_deg + QUARTER * side)

    def under(self, drafted: DraftedPattern) -> Ground:
        """The ground that drafted pieces are laid on, as for cutting."""
        pieces = tuple(drafted.pieces.values())
        return Ground(pieces=pieces, alignment=self.alignment, lit=self.lit, warnings=self.warnings)
