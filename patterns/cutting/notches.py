"""Notches: the clips that show which places of two edges are sewn on to one another."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from patterns.alterations.notching import NOTCH_APART_IN, NOTCH_CLEAR_IN, notch_at
from patterns.changes import Draft, EdgeRef
from patterns.curves import Array
from patterns.saying import Say
from patterns.shape import REMEMBERED, Shape, ShapeEdge

NOTCH_DEPTH_IN: Final = 1 / 8  # deep enough to find, shallow enough to sew over (common practice)
NOTCH_PART: Final = 1 / 4  # of the allowance at most, so that the seam stays clear of the clip
MATCHES_IN: Final = 1 / 16  # notches of two edges this close are laid on to one another (common practice)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DraftedNotch:
    """A notch: its `position` (2,) on the seam line, unit direction `outward` (2,), and the clips to cut.

    Each of `clips` (2, 2) runs from the cut edge inwards; on an edge without allowance it is a mark that lies
    outside the cut edge, since a clip would cut the garment.
    """

    edge: str
    position: Array
    outward: Array
    count: int
    depth_in: float
    clips: tuple[Array, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Placed:
    """A notch on its edge, `at_in` inches from the edge's start."""

    edge: ShapeEdge
    at_in: float
    count: int


def drafted_notches(shape: Shape) -> tuple[DraftedNotch, ...]:
    """The notches with their clips; PatternError if one lies beyond its edge."""
    return tuple(_clipped(notch.edge, notch.at_in, notch.count, shape.outward) for notch in _placed(shape))


@lru_cache(maxsize=REMEMBERED)
def _placed(shape: Shape) -> tuple[_Placed, ...]:
    places = (notch_at(shape, notch) for notch in shape.notches)
    return tuple(
        _Placed(edge=edge, at_in=at_in, count=notch.count)
        for notch, (edge, at_in) in zip(shape.notches, places, strict=True)
    )


@lru_cache(maxsize=REMEMBERED)
def _clipped(edge: ShapeEdge, at_in: float, count: int, outward: float) -> DraftedNotch:
    width, curve = edge.width_in, edge.curve
    depth = min(NOTCH_DEPTH_IN, NOTCH_PART * width) if width else NOTCH_DEPTH_IN
    inner, outer = (width - depth, width) if width else (0.0, depth)
    beside = [at_in + (number - (count - 1) / 2) * NOTCH_APART_IN for number in range(count)]
    points, tangents = curve.poses_at(
        np.array([min(max(place, 0.0), curve.length_in) for place in (at_in, *beside)])
    )
    out = [(y * outward, -x * outward) for x, y in tangents.tolist()]
    clips = [
        np.array([[x + out_x * reach, y + out_y * reach] for reach in (outer, inner)])
        for (x, y), (out_x, out_y) in zip(points[1:].tolist(), out[1:], strict=True)
    ]
    return DraftedNotch(
        edge=edge.name,
        position=points[0],
        outward=np.array(out[0]),
        count=count,
        depth_in=depth,
        clips=tuple(clips),
    )


@lru_cache(maxsize=REMEMBERED)
def near_corners(shape: Shape, say: Say) -> tuple[str, ...]:
    """A warning for each notch that a crossing seam would hide."""
    warnings = []
    for notch in _placed(shape):
        clear = min(notch.at_in, notch.edge.curve.length_in - notch.at_in)
        if clear < NOTCH_CLEAR_IN:
            warnings.append(
                f"{shape.name}, {notch.edge.name}: a notch {say(clear)} from a corner; keep it "
                f"{say(NOTCH_CLEAR_IN)} away, or the crossing seam will hide it"
            )
    return tuple(warnings)


def unmatched(draft: Draft) -> Iterator[str]:
    """A warning for each join whose edges do not carry the same notches at the same distances.

    The distances may run from the same ends or, for edges walked against one another, from opposite ones; and
    of edges that are eased on to one another, each from the nearer end.
    """
    for join in draft.sewn:
        first, second = draft.shape(join.first.piece), draft.shape(join.second.piece)
        yield from _unmatched(first, join.first, second, join.second)


@lru_cache(maxsize=REMEMBERED)
def _unmatched(first: Shape, edge: EdgeRef, second: Shape, other: EdgeRef) -> tuple[str, ...]:
    """That warning where it is due for these edges."""
    groups, length = _groups(first, edge.edge)
    other_groups, other_length = _groups(second, other.edge)
    against = [(length - at, count) for at, count in reversed(groups)]
    if any(_same(walked, other_groups, other_length - length) for walked in (groups, against)):
        return ()
    copied = "" if groups and other_groups else f": {{notch: [{edge}, {other}]}} does it"
    return (
        f"{edge} and {other} do not carry the same notches at the same distances; give both the same{copied}",
    )


def _groups(shape: Shape, edge: str) -> tuple[list[tuple[float, int]], float]:
    """Place and count of each notch on an edge, in order from its start, and the edge's length."""
    placed = [(notch.at_in, notch.count) for notch in _placed(shape) if notch.edge.name == edge]
    return sorted(placed), shape.edges[shape.number(edge)].curve.length_in


def _same(one: list[tuple[float, int]], two: list[tuple[float, int]], longer_in: float) -> bool:
    """Whether the places agree, the second edge being `longer_in` the longer one."""
    return len(one) == len(two) and all(
        a[1] == b[1] and min(abs(b[0] - a[0]), abs(b[0] - longer_in - a[0])) <= MATCHES_IN
        for a, b in zip(one, two, strict=True)
    )
