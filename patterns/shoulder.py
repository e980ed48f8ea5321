"""The overarm seam brought forward of the fold along a flat garment's top.

The strip of cloth between the two is taken off the front and put on to the back, turned over about the overarm,
so that both overarms stay of one length and the neck and sleeve go round as they did.
"""

from dataclasses import replace
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array, Curve
from patterns.errors import PatternError
from patterns.measures import in_words
from patterns.shape import Shape

OVERARM: Final = "overarm"  # the edge from the shoulder point to the sleeve hem
_RUN_ON: Final = 4.0  # times the move: how far edges are run on, to be sure that they meet


def shoulder_forward(front: Shape, back: Shape, by_in: float) -> tuple[Shape, Shape]:
    """Front and back with the overarm seam `by_in` inches further forward.

    Measured down the body, the front is shorter by just so much all along its overarm, and the back longer.
    Raises PatternError if the front's overarm would not meet its neighbours any more.
    """
    shorter = _lowered(front, by_in)
    traced, cut = (_from_neck(_overarm(shape)) for shape in (front, shorter))
    run = _from_neck(_overarm(back))
    start = run.start + _turned_over(cut.start - traced.start, traced.start_tangent, run.start_tangent)
    end = run.end + _turned_over(cut.end - traced.end, traced.end_tangent, run.end_tangent)
    raised = Curve(run.beziers - (0.0, by_in)).from_to(start, end)
    if run.is_straight and len(run.beziers) == 1:
        raised = Curve.straight(np.stack([start, end]))
    number = back.number(OVERARM)
    walked = raised if run is _overarm(back) else raised.reversed()
    return shorter, back.with_edge(replace(back.edges[number], curve=walked), number)


def _lowered(shape: Shape, down_in: float) -> Shape:
    """The shape with its overarm lower, its neighbours cut off where they meet it or run on up to it."""
    number = shape.number(OVERARM)
    edges, count = list(shape.edges), len(shape.edges)
    before, after = (number - 1) % count, (number + 1) % count
    reach = _RUN_ON * down_in
    moved = Curve(edges[number].curve.beziers + (0.0, down_in))
    longer = _run_on(_run_on(moved, reach).reversed(), reach).reversed()
    try:
        first, start = _up_to(edges[before].curve, longer, reach)
        last, end = _up_to(edges[after].curve.reversed(), longer, reach)
    except _ApartError as apart:
        raise PatternError(
            f"{shape.name}: its overarm {in_words(down_in)} lower does not meet {edges[before].name} and "
            f"{edges[after].name} any more; bring the shoulder forward by less"
        ) from apart
    edges[before] = replace(edges[before], curve=first)
    edges[number] = replace(edges[number], curve=longer.between(start, end).from_to(first.end, last.end))
    edges[after] = replace(edges[after], curve=last.reversed())
    return replace(shape, edges=tuple(edges))


class _ApartError(Exception):
    """Two edges do not meet where they should."""


def _up_to(neighbour: Curve, across: Curve, reach_in: float) -> tuple[Curve, float]:
    """The curve up to where it meets `across` next to its end, and how far along that they meet."""
    longer = _run_on(neighbour, reach_in)
    line, other = shapely.LineString(longer.points), shapely.LineString(across.points)
    met = shapely.get_coordinates(line.intersection(other))
    if not len(met):
        raise _ApartError
    nearest = shapely.Point(met[np.argmin(np.hypot(*(met - neighbour.end).T))])
    place, place_across = line.project(nearest), other.project(nearest)
    ended = longer.between(0.0, min(place, longer.length_in))
    return ended.from_to(ended.start, np.array(nearest.coords[0])), min(place_across, across.length_in)


def _run_on(curve: Curve, reach_in: float) -> Curve:
    """The curve and a straight line on from its end."""
    line = Curve.straight(np.stack([curve.end, curve.end + curve.end_tangent * reach_in]))
    return Curve.chain(curve, line)


def _overarm(shape: Shape) -> Curve:
    return shape.edges[shape.number(OVERARM)].curve


def _from_neck(overarm: Curve) -> Curve:
    return overarm if overarm.start[0] < overarm.end[0] else overarm.reversed()


def _turned_over(move: Array, there: Array, here: Array) -> Array:
    """(2,) a move beside the front's overarm as it shows on the back, turned over about the overarm.

    `there` and `here` are the overarms' unit directions (2,) away from the neck, where it happens.
    """
    beside = np.array([-there[1], there[0]])
    turned: Array = (move @ there) * here - (move @ beside) * np.array([-here[1], here[0]])
    return turned
