"""Notches in pairs: the same group at the same distance from the matching ends of two edges that are sewn together."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from types import MappingProxyType
from typing import Final

import numpy as np

from patterns.alterations.walks import same_way
from patterns.curves import Curve
from patterns.measures import Length
from patterns.parts import End, Notch
from patterns.saying import LengthError
from patterns.shape import REMEMBERED, Shape, ShapeEdge

NOTCH_APART_IN: Final = 1 / 4  # between the clips of one notch
NOTCH_CLEAR_IN: Final = 1.0  # none nearer to a corner: it would be caught in the crossing seam
NOTCH_STEP_IN: Final = 1 / 8  # groups stand at whole steps, which a gauge shows
MOST_CLIPS: Final = 3  # in one group
# Groups on an edge up to so long (common practice) and the share of it at which each stands. No two spaces are
# alike, so that groups which meet those of an edge turned end for end lie apart.
ALONE: Final = (0.42,)
PLACES: Final = MappingProxyType({6.0: ALONE, 20.0: (0.3, 0.62), math.inf: (0.2, 0.45, 0.75)})
EASE_PART: Final = 1 / 10  # of the longer edge: more is gathered or drawn wrong, and not eased in
_CORNER_RAD: Final = math.radians(20)  # a turn within an edge that must be clipped or pivoted


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Seam:
    """Two edges that are sewn together; `alike` where both are walked from the same end of the seam."""

    first: Shape
    second: Shape
    one: ShapeEdge
    other: ShapeEdge
    alike: bool

    @property
    def lengths_in(self) -> tuple[float, float]:
        """Inches of both edges."""
        return self.one.curve.length_in, self.other.curve.length_in

    @property
    def is_eased(self) -> bool:
        """Whether one can be eased in to the other, if they are not of one length."""
        return abs(self.lengths_in[0] - self.lengths_in[1]) <= EASE_PART * max(self.lengths_in)

    @property
    def notches(self) -> tuple[tuple[Notch, ...], tuple[Notch, ...]]:
        """Those that both edges have."""
        return _of(self.first, self.one), _of(self.second, self.other)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Group:
    """A group of clips, so far from one end of the seam as its first edge is walked."""

    at_in: float
    end: End
    count: int


@lru_cache(maxsize=REMEMBERED)
def seam_of(first: Shape, edge: str, second: Shape, other: str, alike: bool | None) -> Seam:
    """The seam of those edges; which ends of them meet is told by their shape where `alike` is None."""
    i, j = first.number(edge), second.number(other)
    return Seam(
        first=first,
        second=second,
        one=first.edges[i],
        other=second.edges[j],
        alike=same_way(first, i, second, j) if alike is None else alike,
    )


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


@lru_cache(maxsize=REMEMBERED)
def paired(seam: Seam, count: int, most_groups: int) -> tuple[tuple[Notch, ...], tuple[Notch, ...]]:
    """The notches to be added to the first and to the second edge; none to an edge that has some already.

    Where one edge has notches the other gets the same. Where neither has, groups of `count`, one more and so on
    round to one are placed, as many as the edges are long enough for and no more than `most_groups`. Each stands
    as far from the nearer end on both edges, so that what one is longer is eased in between.
    """
    here, there = seam.notches
    if here and there:
        return (), ()
    if here:
        groups = tuple(_as_group(seam.first, notch) for notch in here)
        return (), tuple(_notch(seam.other.name, group, seam.alike) for group in groups)
    if there:
        groups = tuple(_as_group(seam.second, notch) for notch in there)
        return tuple(_notch(seam.one.name, group, seam.alike) for group in groups), ()
    groups = tuple(_groups(seam, count, most_groups))
    return (
        tuple(_notch(seam.one.name, group, alike=True) for group in groups),
        tuple(_notch(seam.other.name, group, seam.alike) for group in groups),
    )


@lru_cache(maxsize=REMEMBERED)
def notched(shape: Shape, added: tuple[Notch, ...]) -> Shape:
    """The shape with these notches more; the very same one each time, so that it is drafted once."""
    return replace(shape, notches=(*shape.notches, *added)) if added else shape


def _of(shape: Shape, edge: ShapeEdge) -> tuple[Notch, ...]:
    return tuple(notch for notch in shape.notches if notch.edge == edge.name)


def _groups(seam: Seam, count: int, most: int) -> Iterator[_Group]:
    short = min(seam.lengths_in)
    shares = next(places for longest, places in PLACES.items() if short < longest)[:most]
    taken: list[float] = []
    for number, share in enumerate(shares if len(shares) > 1 else ALONE):
        clips = (count - 1 + number) % MOST_CLIPS + 1
        end = End.START if share < 1 / 2 else End.END
        at = _nearest_clear(seam, min(share, 1 - share) * short, end, clips)
        if at is None:
            continue
        from_start = at if end is End.START else short - at
        if all(abs(from_start - other) >= NOTCH_CLEAR_IN for other in taken):
            taken.append(from_start)
            yield _Group(at_in=at, end=end, count=clips)


def _nearest_clear(seam: Seam, wanted_in: float, end: End, count: int) -> float | None:
    """The place nearest to that wanted, from that end, clear of every corner on both edges, and off the middle."""
    clear = NOTCH_CLEAR_IN + (count - 1) / 2 * NOTCH_APART_IN
    last = min(seam.lengths_in) - clear
    steps = np.arange(math.ceil(clear / NOTCH_STEP_IN), math.floor(last / NOTCH_STEP_IN) + 1)
    places = steps.astype(np.float64) * NOTCH_STEP_IN
    for curve in (seam.one.curve, seam.other.curve if seam.alike else seam.other.curve.reversed()):
        for corner in _corners(curve if end is End.START else curve.reversed()):
            places = places[np.abs(places - corner) >= clear]
        places = places[np.abs(places - curve.length_in / 2) >= NOTCH_STEP_IN]
    return float(places[np.argmin(np.abs(places - wanted_in))]) if len(places) else None


def _corners(curve: Curve) -> Iterator[float]:
    """How far along the curve, in inches, each corner within it is."""
    at, runs = 0.0, curve.runs()
    for run, after in pairwise(runs):
        at += run.length_in
        one, two = run.end_tangent, after.start_tangent
        if abs(math.atan2(one[0] * two[1] - one[1] * two[0], one @ two)) > _CORNER_RAD:
            yield at


def _as_group(shape: Shape, notch: Notch) -> _Group:
    """An authored notch from the end that is nearer to it."""
    edge, at = notch_at(shape, notch)
    end = End.START if at <= edge.curve.length_in / 2 else End.END
    return _Group(at_in=at if end is End.START else edge.curve.length_in - at, end=end, count=notch.count)


def _notch(edge: str, group: _Group, alike: bool) -> Notch:
    """The group on an edge that is walked as the group's end is counted, or against it."""
    end = group.end if alike else (End.END if group.end is End.START else End.START)
    at = Length(spelling=f"{group.at_in:.6f}".rstrip("0").rstrip("."))
    return Notch(edge=edge, at=at, from_end=end, count=group.count)
