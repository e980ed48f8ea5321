"""The tools of the cut station, in the order in which they are taken up."""

from typing import TYPE_CHECKING, Final

from projector.cutting.crosses_tool import CrossesTool
from projector.cutting.edge_tool import EdgeTool
from projector.cutting.measure_tool import MeasureTool
from projector.cutting.tools import CutTool, PieceTool

if TYPE_CHECKING:
    from projector.stations.cut import CutStation

TOOLS: Final[tuple[CutTool, ...]] = (PieceTool(), EdgeTool(), CrossesTool(), MeasureTool())


def following_tool(station: "CutStation") -> CutTool:
    """The one after the station's, taken up."""
    names = [tool.name for tool in TOOLS]
    return TOOLS[(names.index(station.tool.name) + 1) % len(TOOLS)].taken_up(station)
