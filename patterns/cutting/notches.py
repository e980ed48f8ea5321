"""Notches: the clips that show which places of two edges are sewn on to one another."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from patterns.changes import Draft
from patterns.curves import Array
from patterns.cutting.offsets import normals
from patterns.parts import End, Notch
from patterns.saying import LengthError, Say
from patterns.shape import Shape, ShapeEdge

NOTCH_DEPTH_IN: Final = 1 / 8  # deep enough to find, shallow enough to sew over (common practice)
NOTCH_PART: Final = 1 / 4  # of the allowance at most, so that the seam stays clear of the clip
NOTCH_APART_IN: Final = 1 / 4  # between the clips of one notch
NOTCH_CLEAR_IN: Final = 1.0  # none nearer to a corner: it would be caught in the crossing seam
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


def notch_at(shape: Shape, notch: Notch) -> tuple[ShapeEdge, float]:
    """The notch's edge and its place in inches from that edge's start; PatternError if it lies beyond."""
    edge = shape.edges[shape.number(notch.edge)]
    length = edge.curve.length_in
    at = notch.at.inches
    if at > length:
        raise LengthError(
            lambda say: (
                f"{shape.name}: a notch {notch.at.words} along {edge.name} lies beyond its end once changed, "
                f"at {say(length)}; move it"
            )
        )
    return edge, at if notch.from_end is End.START else length - at


def drafted_notch(shape: Shape, notch: Notch) -> DraftedNotch:
    """The notch with its clips; PatternError if it lies beyond its edge."""
    edge, at = notch_at(shape, notch)
    width, outward, curve = edge.width_in, shape.outward, edge.curve
    depth = min(NOTCH_DEPTH_IN, NOTCH_PART * width) if width else NOTCH_DEPTH_IN
    inner, outer = (width - depth, width) if width else (0.0, depth)
    beside = (np.arange(notch.count) - (notch.count - 1) / 2) * NOTCH_APART_IN
    places = np.clip(np.concatenate([[at], at + beside]), 0.0, curve.length_in)
    points, tangents = curve.poses_at(places)
    out = normals(tangents, outward)
    clips = np.stack([points + out * outer, points + out * inner], axis=1)
    return DraftedNotch(
        edge=edge.name,
        position=points[0],
        outward=out[0],
        count=notch.count,
        depth_in=depth,
        clips=tuple(clips[1:]),
    )


def near_corners(shape: Shape, say: Say) -> list[str]:
    """A warning for each notch that a crossing seam would hide."""
    warnings = []
    for notch in shape.notches:
        edge, at = notch_at(shape, notch)
        clear = min(at, edge.curve.length_in - at)
        if clear < NOTCH_CLEAR_IN:
            warnings.append(
                f"{shape.name}, {edge.name}: a notch {say(clear)} from a corner; keep it "
                f"{say(NOTCH_CLEAR_IN)} away, or the crossing seam will hide it"
            )
    return warnings


def unmatched(draft: Draft) -> Iterator[str]:
    """A warning for each join whose edges do not carry the same notches at the same distances.

    The distances may run from the same ends or, for edges walked against one another, from opposite ones.
    """
    shapes = {shape.name: shape for shape in draft.shapes}
    for join in draft.joins:
        if join.first.piece not in shapes or join.second.piece not in shapes:
            continue
        first, length = _groups(shapes[join.first.piece], join.first.edge)
        second, _ = _groups(shapes[join.second.piece], join.second.edge)
        against = [(length - at, count) for at, count in reversed(first)]
        if not _same(first, second) and not _same(against, second):
            yield (
                f"{join.first} and {join.second} do not carry the same notches at the same distances; "
                "give both the same"
            )


def _groups(shape: Shape, edge: str) -> tuple[list[tuple[float, int]], float]:
    """Place and count of each notch on an edge, in order from its start, and the edge's length."""
    placed = [(notch_at(shape, notch)[1], notch.count) for notch in shape.notches if notch.edge == edge]
    return sorted(placed), shape.edges[shape.number(edge)].curve.length_in


def _same(one: list[tuple[float, int]], two: list[tuple[float, int]]) -> bool:
    return len(one) == len(two) and all(
        a[1] == b[1] and abs(a[0] - b[0]) <= MATCHES_IN for a, b in zip(one, two, strict=True)
    )
