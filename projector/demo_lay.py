"""The demo's lay: the example pattern on cloth of a usual width, drawn to pin to the wall."""

import time
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from calibration import Alignment
from calibration.practice.table import Cloth as LaidCloth
from calibration.practice.table import PracticeTable
from patterns.cutting.drafted import DraftedPattern
from patterns.laying.buying import Buying
from patterns.laying.cloth import Cloth
from patterns.laying.folding import FOLD_WORDS, Fold
from patterns.laying.lay import Lay
from patterns.measures import Unit
from patterns.planning.plan import plan
from patterns.saying import Say
from projector.actions import Flip
from projector.laying.ground import LayGround
from projector.laying.work import LayWork, in_the_light
from projector.lighting.canvas import frame
from projector.lighting.ink import Pixels
from projector.lighting.lit_area import lit_area
from projector.outputs import write_picture
from projector.pictures.lay_pictures import plan_of, write_lay_pictures
from projector.scene import Controls
from projector.stations.lay import LayStation

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


def demo_lay(out: Path, drafted: DraftedPattern, table: PracticeTable, alignment: Alignment) -> PlannedLay:
    """Plan it, write its plan, and lay it in light on the practice table."""
    begun = time.monotonic()
    lay = plan(drafted, CLOTH, FOLD)
    seconds = time.monotonic() - begun
    write_lay_pictures(out, plan_of(drafted, None, lay, SAY), None)
    write_picture(out / "lay-table.jpg", _on_table(lay, table, alignment))
    return PlannedLay(lay=lay, buying=Buying.of(lay), seconds=seconds)


def _on_table(lay: Lay, table: PracticeTable, alignment: Alignment) -> Pixels:
    """The first piece in light on the folded cloth, as someone standing at the table sees it."""
    ground = LayGround(alignment=alignment, lit=lit_area(alignment.map), say=SAY)
    work = LayWork(lay=lay, cloth=in_the_light(lay, ground.lit, ground.person(0)))
    station = LayStation.begun(ground, work)
    cloth = LaidCloth(outline_in=station.outline_in)
    light = station.after(Flip(by=1)).scene(Controls())
    picture = frame((layer.draw() for layer in light), alignment.map.screen_px)
    return table.photo_standing(picture, cloths=[cloth])
