"""Which ends of two edges that are sewn together meet."""

from typing import Final

from patterns.curves import Array
from patterns.shape import Shape, ShapeEdge

STEEP: Final = 1 / 4  # of an edge's reach: one that rises less says nothing of which end is the upper one


def same_way(first: Shape, number: int, second: Shape, other: int) -> bool:
    """Whether two joined edges begin at the same end of their seam; pieces may be walked against one another.

    Told by the edges next to them, by their names and kinds. Where these do not tell, as at an armhole, the upper
    ends meet, or of edges that lie level those nearer to the centre line.
    """
    (before, after), (start, end) = _beside(first, number), _beside(second, other)
    alike = _likeness(before, start) + _likeness(after, end)
    against = _likeness(before, end) + _likeness(after, start)
    if alike != against:
        return alike > against
    return _run_alike(_reach(first, number), _reach(second, other))


def _beside(shape: Shape, number: int) -> tuple[ShapeEdge, ShapeEdge]:
    before, after = shape.neighbours(number)
    return shape.edges[before], shape.edges[after]


def _likeness(one: ShapeEdge, two: ShapeEdge) -> int:
    return (one.name == two.name) + (one.kind is two.kind)


def _reach(shape: Shape, number: int) -> Array:
    """(2,) inches from the edge's start to its end."""
    curve = shape.edges[number].curve
    return curve.end - curve.start


def _run_alike(one: Array, two: Array) -> bool:
    steep = all(abs(reach[1]) > STEEP * abs(reach[0]) for reach in (one, two))
    axis = 1 if steep else 0
    return bool(one[axis] * two[axis] >= 0)
