"""Allowances that are surely a slip of the pen: wider together than what lies between them."""

from collections.abc import Iterator
from typing import Final

from patterns.saying import LengthError
from patterns.shape import Shape, ShapeEdge

FITTING_IN: Final = 1.0  # of a seam at most, left for fitting (common practice); straps have less


def check_allowances(shape: Shape) -> None:
    """LengthError where the allowances at both ends of an edge, one of them wide, are together longer than it.

    Turned in they would lie over one another: more than half a sleeve along both sides of it, a hem turned up
    beyond the piece. A strap that is narrower than its two narrow allowances is neither.
    """
    if all(edge.width_in <= FITTING_IN for edge in shape.edges):
        return
    slip = next(_slips(shape), None)
    if slip is None:
        return
    wide, between = slip
    length = between.curve.length_in
    raise LengthError(
        lambda say: (
            f"{shape.name}, {wide.name}: an allowance of {say(wide.width_in)} is more than {between.name}, "
            f"{say(length)} long, has room for; give {wide.name} at most {say(length / 2)}"
        )
    )


def _slips(shape: Shape) -> Iterator[tuple[ShapeEdge, ShapeEdge]]:
    """Each edge with too wide an allowance, and the edge beside it that is too short for it."""
    for number, edge in enumerate(shape.edges):
        before, after = (shape.edges[i] for i in shape.neighbours(number))
        wide = before if before.width_in >= after.width_in else after
        if wide.width_in > FITTING_IN and before.width_in + after.width_in > edge.curve.length_in:
            yield wide, edge
