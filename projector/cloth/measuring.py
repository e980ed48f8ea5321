"""What is measured on the cloth between two points: straight, along an edge of the piece, and against its grain."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from shapely.ops import substring

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.marks import Line, LineKind, lines_of
from patterns.cutting.placement import Placement
from patterns.tracing.hand_trace import Place

ON_EDGE_IN: Final = 1 / 4  # half of an allowance: nearer to a line than to its neighbour
NAMES: Final = {LineKind.SEAM: "seam line", LineKind.CUT: "cut line"}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AlongEdge:
    """The part (n, 2) of a piece's line between two points, in table inches, and what the line is called."""

    name: str
    path_in: Array

    @property
    def length_in(self) -> float:
        """Inches along it."""
        return float(np.hypot(*np.diff(self.path_in, axis=0).T).sum())


def along_edge(piece: DraftedPiece, placement: Placement, one_in: Place, other_in: Place) -> AlongEdge | None:
    """The way along the seam line or the cut line, whichever both points lie on; None where they lie on none.

    Round a closed line it is the shorter of the two.
    """
    ends = (shapely.Point(one_in), shapely.Point(other_in))
    near: list[tuple[float, Line]] = []
    for line in lines_of(piece, placement):
        if line.kind in NAMES:
            away = max(_path(line).distance(end) for end in ends)
            near.append((away, line))
    away, line = min(near, key=lambda pair: pair[0])
    if away > ON_EDGE_IN:
        return None
    way = _between(_path(line), line.closed, *ends)
    name = f"{_edge_name(piece, placement, way)} {NAMES[line.kind]}".strip()
    return AlongEdge(name=name, path_in=way)


def angle_to_grain_deg(
    piece: DraftedPiece, placement: Placement, one_in: Place, other_in: Place
) -> float | None:
    """Degrees from 0 to 90 between a line and the piece's grainline, or else its fold; None where one is missing."""
    step = np.subtract(other_in, one_in)
    grain = grain_direction(piece)
    if grain is None or not step.any():
        return None
    along = placement.direction(grain)
    return math.degrees(math.atan2(abs(along[0] * step[1] - along[1] * step[0]), abs(float(along @ step))))


def grain_direction(piece: DraftedPiece) -> Array | None:
    """(2,) in piece inches: of the grainline, or else of the fold; None without either."""
    if piece.grain is not None:
        grain: Array = piece.grain[1] - piece.grain[0]
        return grain
    return np.array([0.0, 1.0]) if piece.fold is not None else None


def _path(line: Line) -> shapely.LineString:
    return shapely.LineString(np.vstack([line.points, line.points[:1]]) if line.closed else line.points)


def _between(path: shapely.LineString, closed: bool, one: shapely.Point, other: shapely.Point) -> Array:
    start, end = sorted((path.project(one), path.project(other)))
    if not closed or end - start <= path.length / 2:
        return np.array(substring(path, start, end).coords)
    after, before = substring(path, end, path.length), substring(path, 0.0, start)
    return np.array([*after.coords, *before.coords[1:]])


def _edge_name(piece: DraftedPiece, placement: Placement, way: Array) -> str:
    """The edge that the whole way lies along; "" where it runs over several."""
    lifted = placement.lifted(way)
    if placement.opened:
        lifted[:, 0] = np.abs(lifted[:, 0])
    spots = shapely.points(lifted)
    away = {
        name: shapely.distance(shapely.LineString(edge.points), spots).max()
        for name, edge in piece.edges.items()
    }
    nearest = min(away, key=lambda name: float(away[name]))
    return nearest if away[nearest] <= piece.edges[nearest].allowance_in + ON_EDGE_IN else ""
