"""What stays the same while pieces lie on the table."""

from dataclasses import dataclass
from typing import Final

from calibration.table.saved import Alignment
from patterns.cutting.drafted import DraftedPiece
from patterns.measures import Unit
from projector.lighting.lit_area import LitArea
from projector.person import QUARTER, Person

BY_LAY: Final = "the lay: "  # begins a warning of a rule that the lay breaks


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ground:
    """`warnings` say why not to trust the light, the gravest first; `tested` how the last ruler test came out.

    Lengths are said in `unit`.
    """

    pieces: tuple[DraftedPiece, ...]
    alignment: Alignment
    lit: LitArea
    warnings: tuple[str, ...] = ()
    tested: tuple[str, ...] = ()
    unit: Unit = Unit.IN

    @property
    def aligned(self) -> str:
        """When the table was aligned, as it is kept with the work that lies on it."""
        return self.alignment.aligned_on.isoformat(timespec="seconds")

    @property
    def faults(self) -> tuple[str, ...]:
        """The warnings of rules that the lay breaks."""
        return tuple(warning for warning in self.warnings if warning.startswith(BY_LAY))

    def person(self, side: int) -> Person:
        """The person at one of the four sides, counted anticlockwise from the near one."""
        return Person(facing_deg=self.alignment.turn_deg + QUARTER * side)
