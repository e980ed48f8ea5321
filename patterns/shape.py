"""A piece while it is drafted: its seam line as curves in inches, which the changes work on."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Final

import numpy as np

from patterns.curves import Array, Curve
from patterns.errors import PatternError
from patterns.loop import Loop, loop_of
from patterns.parts import Allowance, Corner, CutCount, Kind, Notch
from patterns.piece import Piece, in_inches

CENTRE: Final = ("centre", "center", "crotch")  # how the names of centre seams begin
ALONG_CENTRE_IN: Final = 1 / 4  # off the centre line, and an edge of any name is the centre seam
REMEMBERED: Final = 512  # shapes, or what is made of an edge: more than any pattern at hand has


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapeEdge:
    """One edge on the seam line; `allowance_in` has two parts for a hem folded twice, `width_in` is all of it."""

    name: str
    kind: Kind
    curve: Curve
    allowance_in: tuple[float, ...]
    corner: Corner | None = None
    width_in: float = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "width_in", sum(self.allowance_in))

    def __hash__(self) -> int:
        return hash((self.name, self.curve))  # few others share both; a kind would be reckoned anew each time

    def from_to(self, start: Array, end: Array) -> "ShapeEdge":
        """The edge with its ends moved to `start` and `end`, (2,) each; straight lines stay straight.

        The very same one where they are there already.
        """
        curve, fold = self.curve, self.kind is Kind.FOLD
        there = [start.tolist(), end.tolist()] == [curve.start.tolist(), curve.end.tolist()]
        if there and (not fold or len(curve.beziers) == 1):
            return self
        if fold or curve.is_straight:
            between = () if fold else curve.corners[1:-1]
            corners = np.array([start, *between, end])
            moved = curve if np.array_equal(corners, curve.corners) else Curve.straight(corners)
        else:
            moved = curve.from_to(start, end)
        return self if moved is curve else replace(self, curve=moved)


@dataclass(frozen=True, kw_only=True, eq=False)
class Shape:
    """A closed loop of edges, walked so that the piece lies on the same side all the way round."""

    name: str
    cut: CutCount
    edges: tuple[ShapeEdge, ...]
    grain_in: Array | None = None
    notches: tuple[Notch, ...] = ()

    @classmethod
    def of(cls, piece: Piece, allowances: Mapping[Kind, Allowance]) -> "Shape":
        """The piece as authored; an edge without an allowance of its own takes its kind's, a fold none."""
        edges = []
        for edge, curve in zip(piece.edges, piece.curves, strict=True):
            given = edge.allowance or allowances.get(edge.kind)
            edges.append(
                ShapeEdge(
                    name=edge.name,
                    kind=edge.kind,
                    curve=curve,
                    allowance_in=given.inches if given and edge.kind is not Kind.FOLD else (0.0,),
                    corner=edge.corner,
                )
            )
        grain = in_inches((piece.grain.start, piece.grain.end)) if piece.grain else None
        return cls(name=piece.name, cut=piece.cut, edges=tuple(edges), grain_in=grain, notches=piece.notches)

    @cached_property
    def loop(self) -> Loop:
        """The seam line, which is the same on all shapes that differ in other things alone."""
        return loop_of(tuple(edge.curve for edge in self.edges))

    @property
    def ring(self) -> Array:
        """(n, 2) inches of the seam line, flattened; the last point does not repeat the first."""
        return self.loop.ring

    @cached_property
    def outward(self) -> float:
        """1 if a quarter turn from x towards -y of the walking direction points outward, else -1."""
        return 1.0 if signed_area(self.ring) > 0 else -1.0

    @cached_property
    def fold(self) -> int | None:
        """The number of the fold edge."""
        folds = [i for i, edge in enumerate(self.edges) if edge.kind is Kind.FOLD]
        return folds[0] if folds else None

    def number(self, edge: str) -> int:
        """The number of the edge so named; PatternError if there is none."""
        if edge not in self._numbers:
            raise PatternError(f'{self.name} has no edge "{edge}"; its edges are {", ".join(self._numbers)}')
        return self._numbers[edge]

    @cached_property
    def _numbers(self) -> dict[str, int]:
        return {edge.name: number for number, edge in enumerate(self.edges)}

    def neighbours(self, number: int) -> tuple[int, int]:
        """The numbers of the edges before and after edge `number`."""
        count = len(self.edges)
        return (number - 1) % count, (number + 1) % count

    def starting(self, first: int) -> "Shape":
        """The same loop, walked from edge number `first`; the very same shape if it is already."""
        return replace(self, edges=self.edges[first:] + self.edges[:first]) if first else self

    def with_edge(self, edge: ShapeEdge, number: int) -> "Shape":
        """The loop with one edge replaced, and its neighbours' ends moved on to the new one's."""
        edges = list(self.edges)
        edges[number] = edge
        before, after = self.neighbours(number)
        edges[before] = edges[before].from_to(edges[before].curve.start, edge.curve.start)
        edges[after] = edges[after].from_to(edge.curve.end, edges[after].curve.end)
        return replace(self, edges=tuple(edges))


def signed_area(ring: Array) -> float:
    """Square inches within the closed (n, 2) ring, positive if walked from x towards y."""
    x, y = ring.T
    closing = x[-1] * y[0] - x[0] * y[-1]
    return float(x[:-1] @ y[1:] - x[1:] @ y[:-1] + closing) / 2


def is_centre_seam(name: str, points: Array) -> bool:
    """Whether an edge along (n, 2) inches is sewn to that of its piece's mirror image, by its name or its place."""
    return name.startswith(CENTRE) or bool(abs(points[:, 0]).max() <= ALONG_CENTRE_IN)


def crosses_itself(shape: Shape) -> tuple[str, ...]:
    """The names of the edges at a place where the seam line crosses or touches itself; empty if nowhere."""
    if not shape.loop.crosses_itself:
        return ()
    _, touched = shape.loop.crossed()
    return tuple(shape.edges[i].name for i in touched) or ("itself",)
