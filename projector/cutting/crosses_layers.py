"""The crosses on the cloth in light: bright while they are to be marked, dim where they only show it lies still."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from projector.cloth.cloth_marks import Marks, of_piece, on_table
from projector.cloth.mark_light import CROSS, KEPT, crosses_light
from projector.cutting.stage import Stage
from projector.lighting.look import LineStyle
from projector.scene import Layer

if TYPE_CHECKING:
    from projector.stations.cut import CutStation


def crosses_layers(station: "CutStation") -> Iterator[Layer]:
    """What the station and its stage show of them."""
    lit, person, cloth = station.ground.lit, station.person, station.work.cloth
    if station.stage is Stage.FINDING:
        yield from station.tool.layers(station)
        return
    to_mark = _to_mark(station)
    crosses = station.work.crosses_in if to_mark is None else to_mark
    if crosses is None:
        return
    style: LineStyle = KEPT if to_mark is None and station.stage is not Stage.LAYING else CROSS
    marks = on_table(cloth, crosses)
    yield Layer(
        name="crosses", key=(marks, person, style), draw=lambda: crosses_light(marks, lit, person, style)
    )


def _to_mark(station: "CutStation") -> Marks | None:
    """Those of the reach at hand, in cloth inches, while the step is to mark them."""
    copy, step = station.copy, station.step
    if station.stage is not Stage.CUTTING or copy.reaches is None or step is None or not step.marks:
        return None
    crosses = copy.reaches.reaches[copy.reach].crosses
    return None if crosses is None else of_piece(copy.place, crosses.marks_in)
