"""The overarm seam brought forward of the fold along a flat garment's top.

The strip of cloth between the two is taken off the front and put on to the back, turned over about the overarm,
so that both overarms stay of one length and the neck and sleeve go round as they did.
"""

from dataclasses import replace
from typing import Final

import numpy as np

from patterns.curves import Array, Curve
from patterns.errors import PatternError
from patterns.measures import in_words
from patterns.meeting import ApartError, laid
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
    moved = Curve(shape.edges[number].curve.beziers + (0.0, down_in))
    try:
        return laid(shape, number, moved, _RUN_ON * down_in)
    except ApartError as apart:
        before, after = (shape.edges[i].name for i in shape.neighbours(number))
        raise PatternError(
            f"{shape.name}: its overarm {in_words(down_in)} lower does not meet {before} and {after} any more; "
            "bring the shoulder forward by less"
        ) from apart


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
