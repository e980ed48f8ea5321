"""The overarm seam brought forward of the fold along a flat garment's top.

The strip of cloth between the two is taken off the front and put on to the back, turned over about the overarm,
so that both overarms stay of one length and the neck and sleeve go round as they did.
"""

from dataclasses import replace
from typing import Final

import numpy as np

from patterns.alterations.meeting import laid
from patterns.curves import Array, Curve
from patterns.shape import Shape

OVERARM: Final = "overarm"  # the edge from the shoulder point to the sleeve hem


def shoulder_forward(front: Shape, back: Shape, by_in: float) -> tuple[Shape, Shape]:
    """Front and back with the overarm seam `by_in` inches further forward.

    Measured down the body, the front is shorter by just so much all along its overarm, and the back longer.
    Raises PatternError if the front's overarm would not meet its neighbours any more.
    """
    number = front.number(OVERARM)
    lower = Curve(front.edges[number].curve.beziers + (0.0, by_in))
    shorter = laid(front, number, lower, by_in, "lower")
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
