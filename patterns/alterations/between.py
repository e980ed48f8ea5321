"""Two traces of one half, of left and right, and the half between them."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from patterns.curves import Curve
from patterns.errors import PatternError
from patterns.shape import Shape

APART_IN: Final = 1 / 4  # halves that differ more were not folded or traced alike (common practice)
_LOOKED_AT_IN: Final = 0.05  # between the places where the two are held against one another
_HELD_AT: Final = 33  # places of each smooth run at which the curve between two is held to its course


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Between:
    """The edge half way between two of its name; how far these lie apart at most, and how far along that is."""

    edge: str
    curve: Curve
    apart_in: float
    along_in: float


def halfway(one: Shape, other: Shape) -> tuple[Between, ...]:
    """Each edge of `one` half way to that of `other`: corner on corner, and at equal shares of their lengths.

    Raises PatternError unless both are halves on the fold with the same edges in the same order.
    """
    return tuple(between(edge, first, second) for edge, first, second in _matched(one, other))


def taken_from(one: Shape, other: Shape) -> Shape:
    """The shape with the outline of the other trace; PatternError as `halfway`."""
    curves = [second for _, _, second in _matched(one, other)]
    return with_curves(one, curves)


def with_curves(shape: Shape, curves: list[Curve]) -> Shape:
    """The shape with these curves in place of its edges'."""
    return replace(
        shape,
        edges=tuple(replace(edge, curve=curve) for edge, curve in zip(shape.edges, curves, strict=True)),
    )


def _matched(one: Shape, other: Shape) -> Iterator[tuple[str, Curve, Curve]]:
    """Each edge's name with its curve in both, walked alike."""
    if one.fold is None or other.fold is None:
        raise PatternError(
            f"{one.name} and {other.name} are not both halves on the fold, so nothing says how they lie on one "
            "another; trace both folded"
        )
    alike = one.outward == other.outward
    edges = {edge.name: edge.curve if alike else edge.curve.reversed() for edge in other.edges}
    names, others = [edge.name for edge in one.edges], list(edges) if alike else list(edges)[::-1]
    first = others.index(names[0]) if names[0] in others else 0
    if names != others[first:] + others[:first]:
        raise PatternError(
            f"{one.name} and {other.name} have edges {', '.join(names)} and {', '.join(others)}; both need the same "
            "edges in the same order, so name those of one again"
        )
    for edge in one.edges:
        yield edge.name, edge.curve, edges[edge.name]


def between(edge: str, first: Curve, second: Curve) -> Between:
    """The curve half way between two, at equal shares of their lengths: from corner to corner if they have as many."""
    runs, others = first.runs(), second.runs()
    if len(runs) != len(others):
        runs, others = (first,), (second,)
    apart_in, along_in, begun = 0.0, 0.0, 0.0
    for run, other in zip(runs, others, strict=True):
        shares = np.linspace(0, 1, max(int(run.length_in / _LOOKED_AT_IN), 2))
        here, there = (curve.points_at(shares * curve.length_in) for curve in (run, other))
        apart = np.hypot(*(here - there).T)
        worst = int(np.argmax(apart))
        if apart[worst] > apart_in:
            apart_in, along_in = float(apart[worst]), begun + float(shares[worst]) * run.length_in
        begun += run.length_in
    curve = Curve.chain(*map(_middle, runs, others))
    return Between(edge=edge, curve=curve, apart_in=apart_in, along_in=along_in)


def _middle(one: Curve, other: Curve) -> Curve:
    if one.is_straight and other.is_straight:
        return Curve.straight(np.stack([one.start + other.start, one.end + other.end]) / 2)
    shares = np.linspace(0, 1, _HELD_AT)
    (here, along), (there, across) = (curve.poses_at(shares * curve.length_in) for curve in (one, other))
    slopes = (along * one.length_in + across * other.length_in) / 2
    return Curve.hermite((here + there) / 2, slopes, np.diff(shares))
