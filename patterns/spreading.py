"""A piece cut across at a level and spread or folded up there, as is done where its hem is to stay as it is."""

from collections.abc import Callable
from dataclasses import replace
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array, Curve
from patterns.errors import PatternError
from patterns.measures import in_words
from patterns.reshaping import warped
from patterns.shape import Shape

_BAND: Final = 2.0  # times the change: so far above and below the level curved edges take part
_HALVINGS: Final = 5  # of that band, until nothing else lies within it
_LEAST_BAND: Final = 1.0  # times the change: folded up over less, a curved side would buckle


def spread(shape: Shape, level_in: float, by_in: float) -> Shape:
    """The shape with all below `level_in` from the high shoulder point lower by `by_in` (higher if negative).

    Straight edges stay straight; curved ones are re-joined smoothly over a band about the level, and keep
    their form above and below. Raises PatternError unless the level crosses the piece once, from edge to edge.
    """
    crossed = _crossed(shape, level_in)
    if not _is_clean(shape, crossed):
        names = ", ".join(shape.edges[i].name for i in crossed) or "nothing"
        raise PatternError(
            f"{shape.name}: {in_words(level_in)} below the high shoulder point a cut across meets {names}; choose "
            "a level that runs once from edge to edge, between underarm and hem"
        )
    band = _band(shape, level_in, abs(by_in), crossed)
    if by_in < 0 and band < -by_in * _LEAST_BAND:
        raise PatternError(
            f"{shape.name}: {in_words(level_in)} below the high shoulder point is too near to a corner to fold "
            f"{in_words(-by_in)} away; choose a level further from it"
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
    left, right = shape.ring[:, 0].min() - 1, shape.ring[:, 0].max() + 1
    line = shapely.LineString([(left, level_in), (right, level_in)])
    return [
        i
        for i, edge in enumerate(shape.edges)
        for _ in shapely.get_coordinates(line.intersection(shapely.LineString(edge.curve.points)))
    ]


def _is_clean(shape: Shape, crossed: list[int]) -> bool:
    """Whether the level runs once through the piece, from one edge to another, from the fold where there is one."""
    return len(crossed) == len(set(crossed)) == 2 and (shape.fold is None or shape.fold in crossed)


def _band(shape: Shape, level_in: float, by_in: float, crossed: list[int]) -> float:
    """How far above and below the level curved edges take part: as far as only the crossed edges go there."""
    corners = np.array([edge.curve.start[1] for edge in shape.edges])
    band = min(_BAND * by_in, float(np.abs(corners - level_in).min()))
    for _ in range(_HALVINGS):
        if all(_crossed(shape, level_in + side * 0.999 * band) == crossed for side in (-1, 1)):
            break
        band /= 2
    return band


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
    low, high = line.bounds[0] - 1, line.bounds[2] + 1
    met = shapely.get_coordinates(line.intersection(shapely.LineString([(low, y), (high, y)])))
    if not len(met):
        return 0.0 if y <= line.coords[0][1] else length_in
    return min(float(line.project(shapely.Point(met[0]))), length_in)
