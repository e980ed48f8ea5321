"""Cloth slid so that what lies beyond the light comes into it: two crosses first, to find it again by."""

from dataclasses import replace
from typing import TYPE_CHECKING

import shapely

from patterns.tracing.hand_trace import Place
from projector.cloth.cloth_marks import on_cloth
from projector.cloth.laid_pieces import outline_in
from projector.cloth.reach_crosses import farthest_apart
from projector.cloth.reaches import room_in
from projector.cutting.crosses_tool import CrossesTool

if TYPE_CHECKING:
    from projector.stations.cut import CutStation


def sliding(station: "CutStation", slide_in: Place) -> "CutStation":
    """The station with two crosses to be marked, far apart on the lit piece and what is not cut yet.

    They are in the light before and after. Raises ProjectorError where there are none.
    """
    lying = zip(station.ground.pieces, station.work.copies, station.work.placements, strict=True)
    uncut = [
        shapely.Polygon(outline_in(piece, placement)).buffer(0)
        for piece, copy, placement in lying
        if not copy.ticked or copy is station.copy
    ]
    cloth = shapely.union_all(uncut)
    marks = farthest_apart(cloth, slide_in, room_in(station.ground.lit, station.person))
    work = replace(station.work, crosses_in=on_cloth(station.work.cloth, marks))
    tool = CrossesTool(slide_in=slide_in).taken_up(station)
    return replace(station, work=work, tool=tool, notice="")
