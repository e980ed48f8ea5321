"""The crosses on the cloth in light: bright while they are to be marked, dim where they only show it lies still."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from projector.cloth.cloth_marks import Marks, of_piece, on_table
from projector.cloth.mark_light import CROSS, KEPT, crosses_light
from projector.cutting.finding import FindTool
from projector.cutting.stage import Stage
from projector.lighting.look import LineStyle
from projector.scene import Layer

if TYPE_CHECKING:
    from projector.stations.cut import CutStation


def crosses_layers(station: "CutStation") -> Iterator[Layer]:
    """What the station and its stage show of them."""
    lit, person = station.ground.lit, station.person
    if station.stage is Stage.FINDING:
        yield from station.tool.layers(station)
        return
    marks = marks_in(station)
    if marks is None:
        return
    only_kept = _to_mark(station) is None and station.stage is not Stage.LAYING
    style: LineStyle = KEPT if only_kept else CROSS
    yield Layer(
        name="crosses", key=(marks, person, style), draw=lambda: crosses_light(marks, lit, person, style)
    )


def marks_in(station: "CutStation") -> Marks | None:
    """Where those are that it shows, in table inches; None where it shows none."""
    if isinstance(station.tool, FindTool) and station.stage is Stage.FINDING:
        return station.tool.expected_in
    to_mark = _to_mark(station)
    crosses = station.work.crosses_in if to_mark is None else to_mark
    return None if crosses is None else on_table(station.work.cloth, crosses)


def _to_mark(station: "CutStation") -> Marks | None:
    """Those of the reach at hand, in cloth inches, while the step is to mark them."""
    copy, step = station.copy, station.step
    if station.stage is not Stage.CUTTING or copy.reaches is None or step is None or not step.marks:
        return None
    crosses = copy.reaches.reaches[copy.reach].crosses
    return None if crosses is None else of_piece(copy.place, crosses.marks_in)
