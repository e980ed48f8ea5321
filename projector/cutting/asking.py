"""Cutting that was left is come back to: does the cloth still lie where it lay?"""

from dataclasses import replace
from typing import TYPE_CHECKING

from projector.actions import Action, FindCloth, Freeze, LayOn, Next
from projector.cutting.edge_tool import EdgeTool
from projector.cutting.finding import find_if_marked
from projector.cutting.stage import Stage

if TYPE_CHECKING:
    from projector.stations.cut import CutStation


def asked(station: "CutStation", action: Action) -> "CutStation":
    """The station after an answer; until there is one, pieces can be looked at."""
    match action:
        case Next() if not station.copies.still_to_cut(station.shown):
            return replace(station, work=station.work.afresh(), stage=Stage.LAYING, shown=0)
        case Next():
            return station.held()
        case FindCloth():
            return find_if_marked(station)
        case LayOn():
            return replace(station, stage=Stage.FINDING, tool=EdgeTool().taken_up(station), notice="")
        case Freeze():
            return replace(station, stage=Stage.LAYING, notice="lay the pieces as the cloth lies now")
        case _:
            return station.flipped(action)
