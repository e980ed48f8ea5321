"""An edge laid somewhere else, its neighbours cut off where they meet it or run on straight up to it."""

from dataclasses import replace
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array, Curve
from patterns.parts import Kind
from patterns.saying import LengthError
from patterns.shape import Shape, ShapeEdge

_RUN_ON: Final = 4.0  # times the move: how far edges are run on, to be sure that they meet


def laid(shape: Shape, number: int, along: Curve, by_in: float, moved: str) -> Shape:
    """The shape with edge `number` on the curve `along`, which is cut off or run on at its ends too.

    `by_in` is how far the edge has been moved at most, and `moved` says so: "lower". Edges are run on in their
    own directions; a fold stays on x = 0. Raises PatternError where the edge and a neighbour do not meet.
    """
    edges = list(shape.edges)
    before, after = shape.neighbours(number)
    reach = _RUN_ON * abs(by_in)
    longer = run_on(run_on(along, reach).reversed(), reach).reversed()
    try:
        first, start = _up_to(edges[before], edges[before].curve, longer, reach)
        last, end = _up_to(edges[after], edges[after].curve.reversed(), longer, reach)
        if start >= end:
            raise _ApartError
    except _ApartError as apart:
        raise LengthError(
            lambda say: (
                f"{shape.name}: its {edges[number].name} {say(abs(by_in))} {moved} does not meet "
                f"{edges[before].name} and {edges[after].name} any more; move it by less"
            )
        ) from apart
    edges[before] = replace(edges[before], curve=first)
    edges[number] = replace(edges[number], curve=_straightened(longer, start, end, first.end, last.end))
    edges[after] = replace(edges[after], curve=last.reversed())
    return replace(shape, edges=tuple(edges))


def run_on(curve: Curve, reach_in: float) -> Curve:
    """The curve and a straight line on from its end."""
    line = Curve.straight(np.stack([curve.end, curve.end + curve.end_tangent * reach_in]))
    return Curve.chain(curve, line)


class _ApartError(Exception):
    """Two edges do not meet where they should."""


def _up_to(edge: ShapeEdge, walked: Curve, across: Curve, reach_in: float) -> tuple[Curve, float]:
    """The edge, `walked` towards its end, up to where it meets `across` there, and how far along that it is."""
    longer = run_on(walked, reach_in)
    line, other = shapely.LineString(longer.points), shapely.LineString(across.points)
    met = shapely.get_coordinates(line.intersection(other))
    if not len(met):
        raise _ApartError
    nearest = met[np.argmin(np.hypot(*(met - walked.end).T))]
    place = line.project(shapely.Point(nearest))
    place_across = min(other.project(shapely.Point(nearest)), across.length_in)
    if edge.kind is Kind.FOLD:
        return Curve.straight(np.array([walked.start, [0.0, nearest[1]]])), place_across
    return _straightened(longer, 0.0, min(place, longer.length_in), walked.start, nearest), place_across


def _straightened(curve: Curve, start_in: float, end_in: float, start: Array, end: Array) -> Curve:
    """The part of the curve, its ends moved on to `start` and `end`; one straight line stays one."""
    part = curve.between(start_in, end_in)
    if len(part.runs()) == 1 and part.is_straight:
        return Curve.straight(np.stack([start, end]))
    return part.from_to(start, end)
