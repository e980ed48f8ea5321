"""Clips: where the allowance must be cut so that a seam can be turned out at a corner."""

import math
from collections.abc import Iterator
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array, Curve
from patterns.cutting.offsets import normal, turn_rad
from patterns.parts import Kind
from patterns.shape import Shape

CLIP_SHORT_IN: Final = 1 / 16  # stop short of the stitching
CLIP_TURN_RAD: Final = math.radians(20)  # a corner that turns in more cannot be turned out unclipped


def clips_of(shape: Shape, cut_line: Array) -> tuple[Array, ...]:
    """(2, 2) clips from the cut edge to CLIP_SHORT_IN short of each stitched corner that turns in.

    The point of a V neck at the fold is such a corner, seen opened out. `shape` begins after its fold.
    """
    return (*_at_fold(shape, cut_line), *_at_corners(shape, cut_line))


def _at_fold(shape: Shape, cut_line: Array) -> Iterator[Array]:
    if shape.fold is None:
        return
    first, last = shape.edges[0], shape.edges[-2]
    fold = shape.edges[-1].curve
    for corner, leaving, out, cut, width in (
        (fold.end, first.curve.start_tangent, fold.end_tangent, cut_line[0], first.width_in),
        (fold.start, -last.curve.end_tangent, -fold.start_tangent, cut_line[-1], last.width_in),
    ):
        (x, y), (out_x, out_y) = leaving.tolist(), out.tolist()
        turns_in = math.pi - 2 * math.acos(max(-1.0, min(1.0, x * out_x + y * out_y)))
        if turns_in > CLIP_TURN_RAD and width > CLIP_SHORT_IN:
            yield np.array([cut, corner + out * CLIP_SHORT_IN])


def _at_corners(shape: Shape, cut_line: Array) -> Iterator[Array]:
    runs: list[tuple[Curve, float]] = [
        (run, edge.width_in)
        for edge in shape.edges
        if edge.kind is not Kind.FOLD
        for run in edge.curve.runs()
    ]
    followed = zip(runs, runs[1:] + ([] if shape.fold is not None else runs[:1]), strict=False)
    for (before, width_before), (after, width_after) in followed:
        one, two, corner = before.end_tangent, after.start_tangent, before.end
        turns_in = -shape.outward * turn_rad(one, two)
        if turns_in <= CLIP_TURN_RAD or min(width_before, width_after) <= CLIP_SHORT_IN:
            continue
        towards = normal(one, shape.outward) + normal(two, shape.outward)
        towards = towards / np.hypot(*towards)
        reach = shapely.LineString([corner, corner + towards * 4 * max(width_before, width_after)])
        crossed = shapely.get_coordinates(reach.intersection(shapely.LinearRing(cut_line)))
        if len(crossed):
            near = int(np.argmin(np.hypot(*(crossed - corner).T)))
            yield np.stack([crossed[near], corner + towards * CLIP_SHORT_IN])
