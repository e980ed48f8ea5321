"""Two traces of the same half, of left and right or of both faces -> the half between them."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from patterns.curves import Array, Curve
from patterns.errors import PatternError
from patterns.measures import in_words
from patterns.parts import Bend, Edge, Kind
from patterns.piece import Piece, closed_curves
from patterns.tracing.curve_fitting import Fitted, aim_for, fitted
from patterns.tracing.traced_edges import edge_of

APART_IN: Final = 1 / 4  # halves that differ more were not folded or traced alike (common practice)
_SAMPLE_IN: Final = 0.05  # between the places that are averaged


@dataclass(frozen=True, slots=True, kw_only=True)
class Averaged:
    """The average of two traces, how far the two lie apart at most and where, and the edges on which it is too far.

    `along_in` is how far along the edge `edge` that place is.
    """

    piece: Piece
    apart_in: float
    edge: str
    along_in: float
    warnings: tuple[str, ...]


def averaged(one: Piece, other: Piece) -> Averaged:
    """The half piece between two: corner on corner, and between corners at equal shares of the edges' lengths.

    It takes name, allowances, notches and grain of `one`. Raises PatternError where the two do not have the
    same edges in the same order.
    """
    names, others = ([edge.name for edge in piece.edges] for piece in (one, other))
    if names != others:
        raise PatternError(
            f"two traces with edges {', '.join(names)} and {', '.join(others)} cannot be averaged; both need "
            "the same edges in the same order, so name those of one again"
        )
    edges, warnings, worst = [], [], (0.0, names[0], 0.0)
    for edge, first, second in zip(
        one.edges, closed_curves(one.edges), closed_curves(other.edges), strict=True
    ):
        between, farthest, at = _between(first, second)
        worst = max(worst, (farthest, edge.name, at), key=lambda one: one[0])
        if farthest > APART_IN:
            warnings.append(
                f"{edge.name}: the two traces lie {in_words(farthest)} apart {in_words(at, 2)} along it, more "
                f"than {in_words(APART_IN)}; trace the worse half again, or use the better one"
            )
        edges.append(_edge(edge, between))
    apart, name, along = worst
    return Averaged(
        piece=replace(one, edges=tuple(edges)),
        apart_in=apart,
        edge=name,
        along_in=along,
        warnings=tuple(warnings),
    )


def _between(first: Curve, second: Curve) -> tuple[list[Fitted], float, float]:
    """The paths between two edges, how far these lie apart at most, and how far along that is."""
    runs, others = first.runs(), second.runs()
    if len(runs) != len(others):
        runs, others = (first,), (second,)
    between, farthest, farthest_at, along = [], 0.0, 0.0, 0.0
    for run, other in zip(runs, others, strict=True):
        shares = np.linspace(0, 1, max(int(run.length_in / _SAMPLE_IN), 2))
        here, there = (curve.points_at(shares * curve.length_in) for curve in (run, other))
        apart = np.hypot(*(here - there).T)
        worst = int(np.argmax(apart))
        if apart[worst] > farthest:
            farthest, farthest_at = float(apart[worst]), along + float(shares[worst]) * run.length_in
        along += run.length_in
        between.append(_path((here + there) / 2, straight=run.is_straight and other.is_straight))
    return between, farthest, farthest_at


def _path(points: Array, *, straight: bool) -> Fitted:
    if straight:
        return Fitted(points=points[[0, -1]], bend=Bend.STRAIGHT, stray_in=0.0)
    return fitted(points[1:-1], points[0], points[-1], aim_in=aim_for(0.0))


def _edge(like: Edge, between: list[Fitted]) -> Edge:
    made = edge_of(like.name, Kind.SEAM, between, like.path[0].x.unit)
    if like.kind is Kind.FOLD:
        nought = replace(made.path[0].x, spelling="0")
        return replace(like, path=tuple(replace(point, x=nought) for point in made.path), bend=Bend.STRAIGHT)
    return replace(like, path=made.path, bend=made.bend)
