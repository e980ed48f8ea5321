"""The hem of a piece moved up or down, slanted, or given a seam for a band."""

from dataclasses import replace
from typing import Final

import numpy as np

from patterns.alterations.meeting import laid
from patterns.alterations.necks import LEAST_BODY_IN
from patterns.alterations.reshaping import warped
from patterns.curves import Array, Curve
from patterns.errors import PatternError
from patterns.parts import Corner, Kind
from patterns.saying import LengthError
from patterns.shape import Shape

HEM: Final = "hem"  # the edge that the changes of a piece's length work on
LEVEL_AT_FOLD_IN: Final = 1 / 2  # so far from the fold a slanted hem stays as it was, to make no peak


def hem_lowered(shape: Shape, down_in: float) -> Shape:
    """The shape with its hem `down_in` lower, or higher where that is less than nothing.

    The hem keeps its form; the edges beside it run on straight, or are cut off where they meet it, and stay
    as they were up to there. Raises PatternError where nothing would be left.
    """
    number = shape.number(HEM)
    if shape.fold is not None:
        fold = shape.edges[shape.fold].curve.length_in
        if fold + down_in < LEAST_BODY_IN:
            raise LengthError(
                lambda say: (
                    f"{shape.name}: {say(-down_in)} shorter leaves no body at the centre, which is "
                    f"{say(fold)} long; shorten it by at most {say(fold - LEAST_BODY_IN)}"
                )
            )
    moved = Curve(shape.edges[number].curve.beziers + (0.0, down_in))
    return laid(shape, number, moved, down_in, "lower" if down_in > 0 else "higher")


def hem_slanted(shape: Shape, down_in: float) -> Shape:
    """The shape with its hem `down_in` lower at the side, or higher where that is less than nothing.

    From LEVEL_AT_FOLD_IN beside the fold on it sweeps down or up, and keeps its directions at both ends, so that
    it runs through at the fold and across the side seam as it did. Raises PatternError unless the hem runs from
    a fold to a side.
    """
    number = shape.number(HEM)
    if shape.fold not in shape.neighbours(number):
        raise PatternError(
            f"{shape.name}: a hem is slanted from the fold to the side of a half piece; cut it on the fold"
        )
    curve = shape.edges[number].curve
    out_in = max(_side_x(shape, number, down_in) - LEVEL_AT_FOLD_IN, LEVEL_AT_FOLD_IN)

    def slanted(points: Array) -> Array:
        share = np.clip((points[:, 0] - LEVEL_AT_FOLD_IN) / out_in, 0.0, 1.0)
        return points + np.outer(share**2 * (3 - 2 * share), (0.0, down_in))

    return laid(shape, number, warped(curve, slanted), down_in, "lower" if down_in > 0 else "higher")


def _side_x(shape: Shape, number: int, down_in: float) -> float:
    """How far out a hem ends, in inches, whose side is cut off where that is higher by -`down_in`."""
    before, after = shape.neighbours(number)
    side = shape.edges[before].curve.reversed() if after == shape.fold else shape.edges[after].curve
    x, y = side.points.T
    level = y[0] + min(down_in, 0.0)
    above = max(int(np.argmax(y <= level)), 1)
    return float(np.interp(level, y[above - 1 : above + 1][::-1], x[above - 1 : above + 1][::-1]))


def banded(shape: Shape, band_in: float, allowance_in: float) -> Shape:
    """The shape shorter by the band that is joined on, its hem a seam with the allowance for that."""
    shape = hem_lowered(shape, -band_in)
    number = shape.number(HEM)
    turned = (shape.neighbours(number)[0], number)
    edges = [
        replace(edge, corner=None) if edge.corner is Corner.REFLECTED and i in turned else edge
        for i, edge in enumerate(shape.edges)
    ]
    edges[number] = replace(edges[number], kind=Kind.SEAM, allowance_in=(allowance_in,))
    return replace(shape, edges=tuple(edges))
