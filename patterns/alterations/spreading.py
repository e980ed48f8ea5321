"""A piece cut across at a level and spread or folded up there, as is done where its hem is to stay as it is."""

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Final

import numpy as np
import shapely

from patterns.alterations.reshaping import warped
from patterns.curves import Array, Curve
from patterns.parts import Kind
from patterns.saying import LengthError
from patterns.shape import Shape

_BAND: Final = 2.0  # times the change: so far above and below the level curved edges take part
_SHORTEST_BAND_IN: Final = 1.0  # a small change over less would be a bend too sharp for an allowance
_HALVINGS: Final = 5  # of that band, until nothing else lies within it
_WITHIN: Final = 0.999  # of the band, where it is looked at: an edge may end just on it
_LEAST_BAND: Final = 1.0  # times the change: folded up over less, a curved side would buckle


def spread(shape: Shape, level_in: float, by_in: float) -> Shape:
    """The shape with all below `level_in` from the high shoulder point lower by `by_in` (higher if negative).

    Straight edges stay straight; curved ones are re-joined smoothly over a band about the level, and keep
    their form above and below. Raises PatternError unless the level crosses the piece once, from edge to edge.
    """
    crossed = _crossed(shape, level_in)
    if not _is_clean(shape, crossed):
        names = ", ".join(shape.edges[i].name for i in crossed) or "nothing"
        raise LengthError(
            lambda say: (
                f"{shape.name}: {say(level_in)} below the high shoulder point a cut across meets {names}; choose "
                "a level that runs once from edge to edge, between underarm and hem"
            )
        )
    curves = [shape.edges[i].curve for i in crossed]
    band = _band([curve for curve in curves if not curve.is_straight], level_in, abs(by_in))
    corners = [y for curve in curves if curve.is_straight for y in curve.corners[:, 1] if y > level_in]
    room = min(corners, default=math.inf) - level_in
    if by_in < 0 and min(band / _LEAST_BAND, room) < -by_in:
        raise LengthError(
            lambda say: (
                f"{shape.name}: {say(level_in)} below the high shoulder point is too near to a corner to fold "
                f"{say(-by_in)} away; choose a level further from it"
            )
        )

    def moved(points: Array) -> Array:
        share = np.clip((points[:, 1] - level_in + band) / (2 * band), 0.0, 1.0)
        return points + np.outer(share**2 * (3 - 2 * share), (0.0, by_in))

    edges = []
    for i, edge in enumerate(shape.edges):
        below = edge.curve.corners[:, 1] > level_in
        if edge.curve.is_straight:
            curve = Curve.straight(edge.curve.corners + np.outer(below, (0.0, by_in)))
        elif i in crossed:
            curve = _rejoined(edge.curve, (level_in - band, level_in + band), moved, by_in)
        else:
            curve = Curve(edge.curve.beziers + (0.0, by_in)) if below.all() else edge.curve
        edges.append(replace(edge, curve=curve))
    grain = None if shape.grain_in is None else moved(shape.grain_in)
    return replace(shape, edges=tuple(edges), grain_in=grain)


def _crossed(shape: Shape, level_in: float) -> list[int]:
    """The edges that the level meets, once for each time; one that runs along it twice."""
    return [
        i for i, edge in enumerate(shape.edges) for _ in _met(shapely.LineString(edge.curve.points), level_in)
    ]


def _is_clean(shape: Shape, crossed: list[int]) -> bool:
    """Whether the level runs once through the piece, from edge to edge and across no hem; from a fold if it has one."""
    hems = [i for i in crossed if shape.edges[i].kind is Kind.HEM]
    return len(crossed) == len(set(crossed)) == 2 and not hems and (shape.fold in (None, *crossed))


def _band(curves: list[Curve], level_in: float, by_in: float) -> float:
    """How far above and below the level the curves, which cross it, take part: no further than they cross once."""
    ends = [abs(float(end[1]) - level_in) for curve in curves for end in (curve.start, curve.end)]
    band = min([max(_BAND * by_in, _SHORTEST_BAND_IN), *ends])
    lines = [shapely.LineString(curve.points) for curve in curves]
    for _ in range(_HALVINGS):
        levels = [level_in + side * _WITHIN * band for side in (-1, 1)]
        if all(len(_met(line, level)) == 1 for line in lines for level in levels):
            break
        band /= 2
    return band


def _met(line: shapely.LineString, level_in: float) -> Array:
    """(n, 2) inches, where the line meets the level; both ends of what runs along it."""
    low, high = line.bounds[0] - 1, line.bounds[2] + 1
    met: Array = shapely.get_coordinates(
        line.intersection(shapely.LineString([(low, level_in), (high, level_in)]))
    )
    return met


def _rejoined(
    curve: Curve, band: tuple[float, float], moved: Callable[[Array], Array], by_in: float
) -> Curve:
    """The curve, which crosses the band once, with what is within it moved and what is below `by_in` lower."""
    if curve.start[1] > curve.end[1]:
        return _rejoined(curve.reversed(), band, moved, by_in).reversed()
    line = shapely.LineString(curve.points)
    first, last = (_place(line, y, curve.length_in) for y in band)
    parts = [warped(curve.between(first, last), moved)]
    if first > 0:
        parts.insert(0, curve.between(0.0, first))
    if last < curve.length_in:
        lower = Curve(curve.between(last, curve.length_in).beziers + (0.0, by_in))
        parts.append(lower.from_to(parts[-1].end, lower.end))
    return Curve.chain(*parts)


def _place(line: shapely.LineString, y: float, length_in: float) -> float:
    """How far along the line it comes to `y`; an end of it where it stops there."""
    met = _met(line, y)
    if not len(met):
        return 0.0 if y <= line.coords[0][1] else length_in
    return min(float(line.project(shapely.Point(met[0]))), length_in)
