"""Whether a facing lies within the piece that it faces."""

from typing import Final, cast

import shapely

from patterns.alterations.facing import OUTER
from patterns.curves import FLAT_IN
from patterns.errors import PatternError
from patterns.shape import Shape

_ON_EDGE_IN: Final = 2 * FLAT_IN  # two flattened runs of one edge stray this far from one another


def check_within(facing: Shape, garment: Shape) -> None:
    """PatternError where the facing's outer edge leaves the piece that it faces."""
    points = facing.edges[facing.number(OUTER)].curve.points
    outer = cast(shapely.LineString, shapely.linestrings(points))
    room = garment.loop.room
    if room.covers(outer):
        return
    beyond = outer.difference(room.buffer(_ON_EDGE_IN))
    if beyond.is_empty:
        return
    names = [
        edge.name
        for edge in garment.edges
        if beyond.distance(shapely.LineString(edge.curve.points)) <= 2 * _ON_EDGE_IN
    ]
    raise PatternError(
        f"{facing.name}: it would reach beyond {' and '.join(names)}; make the facing narrower"
    )
