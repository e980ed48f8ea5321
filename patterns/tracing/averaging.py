"""Two traces of the same half, of left and right or of both faces -> the half between them."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from patterns.alterations.between import APART_IN, between
from patterns.curves import Curve
from patterns.errors import PatternError
from patterns.parts import Bend, Edge, Kind
from patterns.piece import Piece, closed_curves
from patterns.saying import Say
from patterns.tracing.curve_fitting import Fitted, aim_for, fitted
from patterns.tracing.traced_edges import edge_of

_SAME_DIGITS: Final = 6  # of inches: a corner is said to be of the edge that it begins
_SAMPLE_IN: Final = 0.05  # between the places that a path is fitted to


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
    say = Say(one.unit)
    for edge, first, second in zip(
        one.edges, closed_curves(one.edges), closed_curves(other.edges), strict=True
    ):
        found = between(edge.name, first, second)
        here = (found.apart_in, edge.name, found.along_in)
        worst = max(here, worst, key=lambda one: round(one[0], _SAME_DIGITS))
        if found.apart_in > APART_IN:
            warnings.append(
                f"{edge.name}: the two traces lie {say.beyond(APART_IN, found.apart_in)} apart "
                f"{say(found.along_in, 2)} along it, more than {say(APART_IN)}; trace the worse half again, "
                "or use the better one"
            )
        edges.append(_edge(edge, found.curve))
    apart, name, along = worst
    return Averaged(
        piece=replace(one, edges=tuple(edges)),
        apart_in=apart,
        edge=name,
        along_in=along,
        warnings=tuple(warnings),
    )


def _fit(run: Curve) -> Fitted:
    """A path along a smooth run, through few points."""
    if run.is_straight:
        return Fitted(points=np.stack([run.start, run.end]), bend=Bend.STRAIGHT, stray_in=0.0)
    points = run.points_at(np.linspace(0, run.length_in, max(int(run.length_in / _SAMPLE_IN), 3)))
    return fitted(points[1:-1], points[0], points[-1], aim_in=aim_for(0.0))


def _edge(like: Edge, curve: Curve) -> Edge:
    made = edge_of(like.name, Kind.SEAM, [_fit(run) for run in curve.runs()], like.path[0].x.unit)
    if like.kind is Kind.FOLD:
        nought = replace(made.path[0].x, spelling="0")
        return replace(like, path=tuple(replace(point, x=nought) for point in made.path), bend=Bend.STRAIGHT)
    return replace(like, path=made.path, bend=made.bend)
