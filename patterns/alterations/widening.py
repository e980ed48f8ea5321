"""A piece wider or narrower, at its fold or at its side."""

from dataclasses import replace

import numpy as np

from patterns.alterations.necks import LEAST_BODY_IN
from patterns.alterations.reshaping import stretched
from patterns.alterations.sleeves import SIDE, SLEEVE_HEM, Sleeve
from patterns.curves import Array, Curve
from patterns.errors import PatternError
from patterns.parts import Kind
from patterns.saying import LengthError
from patterns.shape import Shape, ShapeEdge


def widened_at_fold(shape: Shape, by_in: float) -> Shape:
    """The shape with all but its fold `by_in` further from the centre line, or nearer.

    The edges that meet the fold are stretched to it and meet it as they did. Raises PatternError where one of
    them is too narrow for that, or there is no fold.
    """
    if shape.fold is None:
        raise PatternError(f"{shape.name} has no fold to be widened at; widen it at its side")
    away = np.array([by_in, 0.0])
    edges = [replace(edge, curve=Curve(edge.curve.beziers + away)) for edge in shape.edges]
    before, after = shape.neighbours(shape.fold)
    if before == after:
        raise PatternError(
            f"{shape.name}: its {edges[before].name} goes all round from fold to fold; give neck and hem an edge each"
        )
    for number in (before, after):
        _check_leaves(shape, shape.edges[number], by_in)
    first, last = shape.edges[before].curve, shape.edges[after].curve
    edges[before] = replace(edges[before], curve=stretched(first, first.start + away, first.end))
    edges[after] = replace(edges[after], curve=stretched(last, last.start, last.end + away))
    edges[shape.fold] = shape.edges[shape.fold]
    grain = None if shape.grain_in is None else shape.grain_in + away
    return replace(shape, edges=tuple(edges), grain_in=grain)


def _check_leaves(shape: Shape, edge: ShapeEdge, by_in: float) -> None:
    """LengthError where nothing of the edge beside the fold is left."""
    width = float(max(edge.curve.start[0], edge.curve.end[0]))
    if width + by_in <= 0:
        raise LengthError(
            lambda say: (
                f"{shape.name}: {say(-by_in)} narrower at the fold takes away all of its {edge.name}, which is "
                f"{say(width)} wide on the half piece; narrow it by less"
            )
        )


def widened_at_side(shape: Shape, by_in: float) -> Shape:
    """The shape with its side `by_in` further out, or further in, its hem stretched to that.

    Where the side begins at a sleeve hem, that stays, and the side comes out between there and the underarm.
    Raises PatternError where nothing would be left.
    """
    number = shape.number(SIDE)
    across, rest = shape.edges[number].curve.points[:, 0], shape.ring[:, 0]
    out = 1.0 if across.mean() > rest.mean() else -1.0
    room = float((out * across).min() - (out * rest).min())
    if room + by_in < LEAST_BODY_IN:
        raise LengthError(
            lambda say: (
                f"{shape.name}: {say(-by_in)} narrower at the side leaves nothing of the piece, which is "
                f"{say(room)} wide there; narrow it by at most {say(room - LEAST_BODY_IN)}"
            )
        )
    edges = list(shape.edges)
    edges[number] = replace(edges[number], curve=_side_moved(shape, number, out, by_in))
    before, after = shape.neighbours(number)
    edges[before] = _from_to(edges[before], edges[before].curve.start, edges[number].curve.start)
    edges[after] = _from_to(edges[after], edges[number].curve.end, edges[after].curve.end)
    return replace(shape, edges=tuple(edges))


def _side_moved(shape: Shape, number: int, out: float, by_in: float) -> Curve:
    away = np.array([out * by_in, 0.0])
    moved = Curve(shape.edges[number].curve.beziers + away)
    if SLEEVE_HEM not in (shape.edges[i].name for i in shape.neighbours(number)):
        return moved
    sleeve = Sleeve.of(shape)
    _check_underarm(sleeve, by_in)
    return sleeve.walked(replace(sleeve, side=sleeve.walked(moved)).rejoined(-away))


def _check_underarm(sleeve: Sleeve, by_in: float) -> None:
    """LengthError where the underarm would come out as far as the sleeve does."""
    under = sleeve.side.point_at(sleeve.underarm_in)
    room = abs(float(sleeve.side.start[0] - under[0])) - LEAST_BODY_IN
    if by_in > room and sleeve.underarm_in < sleeve.side.length_in:
        raise LengthError(
            lambda say: (
                f"{sleeve.shape.name}: {say(by_in)} wider at the side brings the underarm out to the end of the "
                f"sleeve; widen it by at most {say(max(room, 0.0))}, or lengthen the sleeve first"
            )
        )


def _from_to(edge: ShapeEdge, start: Array, end: Array) -> ShapeEdge:
    """The edge with its ends there: a hem stretched, so that it meets a fold as it did."""
    if edge.kind is not Kind.HEM:
        return edge.from_to(start, end)
    return replace(edge, curve=stretched(edge.curve, start, end))
