"""What is in hand on the drafting table, and how the traced piece is with it under the cross."""

import math
from dataclasses import dataclass
from typing import Final, TypeAlias

from patterns.errors import PatternError
from patterns.tracing.hand_trace import Place
from patterns.tracing.laid_piece import LaidPiece
from projector.drafting.work import DraftWork

AT_POINT_IN: Final = 1.5  # of the cross: a point so near is meant, and no edge
AT_EDGE_IN: Final = 0.75
IN_REACH_IN: Final = 3.0  # a point farther away is not meant


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldPoint:
    """A traced point, by its number, taken where it lay."""

    number: int
    from_in: Place

    def pulled(self, points: LaidPiece, to_in: Place) -> LaidPiece:
        """With the point under the cross."""
        return points.moved(self.number, to_in)

    def told(self, points: LaidPiece) -> tuple[str, tuple[int, ...]]:
        """What is in hand, and the numbers of the edges that change with it."""
        return points.at_point(self.number)


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldEdge:
    """A whole edge, by its number, taken at a place on it."""

    number: int
    from_in: Place

    def pulled(self, points: LaidPiece, to_in: Place) -> LaidPiece:
        """With the edge moved across itself as far as the cross went."""
        return points.carried(self.number, self.from_in, to_in)

    def told(self, points: LaidPiece) -> tuple[str, tuple[int, ...]]:
        """What is in hand, and the numbers of the edges that change with it: its own and its neighbours'."""
        count = len(points.curves)
        beside = ((self.number - 1) % count, (self.number + 1) % count)
        return f"the {points.said(self.number)}", beside


Grip: TypeAlias = HeldPoint | HeldEdge


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Held:
    """A grip, and in `trial` the work with it as near to the cross as can be."""

    grip: Grip
    trial: DraftWork

    @property
    def point(self) -> int | None:
        """The number of the point in hand; None where it is an edge."""
        return self.grip.number if isinstance(self.grip, HeldPoint) else None


def grip_at(points: LaidPiece, at_in: Place) -> Grip:
    """What a hand at the cross takes: a point close by, or the edge under it, or a point in reach.

    PatternError where there is neither.
    """
    number = points.nearest(at_in)
    x, y = points.places_in[number].tolist()
    away_in = math.dist((x, y), at_in)
    edge = points.nearest_edge(at_in)
    on_edge = points.nearest_on(edge, at_in)
    if away_in > AT_POINT_IN and math.dist(on_edge, at_in) <= AT_EDGE_IN:
        return HeldEdge(number=edge, from_in=on_edge)
    if away_in > IN_REACH_IN:
        raise PatternError(
            "no traced point or edge is near the cross; with tab and c the cross goes to a point"
        )
    return HeldPoint(number=number, from_in=(x, y))
