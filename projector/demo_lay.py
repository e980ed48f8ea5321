"""The demo's lay: the example pattern on cloth of a usual width, drawn to pin to the wall."""

import time
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from patterns.cutting.drafted import DraftedPattern
from patterns.laying.buying import Buying
from patterns.laying.cloth import Cloth
from patterns.laying.folding import FOLD_WORDS, Fold
from patterns.laying.lay import Lay
from patterns.laying.planning import plan
from patterns.measures import Unit
from patterns.saying import Say
from projector.pictures.lay_pictures import plan_of, write_lay_pictures

CLOTH: Final = Cloth(bought_width_in=60)
FOLD: Final = Fold.PARTIAL  # a strip stays whole beside it
SAY: Final = Say(Unit.IN)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlannedLay:
    """The lay and what it costs in cloth; `seconds` is how long planning took."""

    lay: Lay
    buying: Buying
    seconds: float

    @property
    def figures(self) -> Mapping[str, Any]:
        """As `lay --json` has them, with the time."""
        remnant = self.buying.remnant
        return {
            "fold": self.lay.folding.fold.value,
            "used_in": self.lay.used_in,
            "buy": self.buying.length_in,
            "waste": self.buying.wasted,
            "remnant_in": [remnant.width_in, remnant.length_in],
            "seconds": self.seconds,
        }

    @property
    def words(self) -> str:
        """The same for a person."""
        remnant = self.buying.remnant
        return (
            f"{FOLD_WORDS[self.lay.folding.fold]}: buy {self.buying.words} of cloth "
            f"{SAY(self.lay.cloth.bought_width_in)} wide, waste {100 * self.buying.wasted:.0f} %; "
            f"{SAY(remnant.width_in)} x {SAY(remnant.length_in)} stays whole   (planned in {self.seconds:.1f} s)"
        )


def demo_lay(out: Path, drafted: DraftedPattern) -> PlannedLay:
    """Plan it and write its plan."""
    begun = time.monotonic()
    lay = plan(drafted, CLOTH, FOLD)
    seconds = time.monotonic() - begun
    write_lay_pictures(out, plan_of(drafted, None, lay, SAY), None)
    return PlannedLay(lay=lay, buying=Buying.of(lay), seconds=seconds)
