"""Whether a line runs through where pieces meet: across a seam that joins two edges, and across the fold."""

import math
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Final, NamedTuple

from patterns.alterations.walks import same_way
from patterns.changes import Draft, Join
from patterns.curves import Array
from patterns.parts import Kind
from patterns.saying import Say
from patterns.shape import REMEMBERED, Shape, ShapeEdge

RUNS_THROUGH_DEG: Final = 2.0  # either side of 180: a smaller bend is not seen once sewn (common practice)
SQUARE_DEG: Final = 1.0  # either side of 90 at the fold (common practice)
SQUARE_IN: Final = 1 / 2  # from the fold, so far a line is to be square to it (common practice)
POINT_DEG: Final = 15.0  # a line farther from square than this has a point that is meant, as a V has
NECK: Final = "neck"
# Seams that go round a body or a limb, across those that join its pieces.
RUNNING_ON: Final = (NECK, "armhole", "waist", "crotch")


class Junction(NamedTuple):
    """Where two lines meet across a seam: "front/neck" and "back/neck", with their angles to that seam.

    The angles are those within the pieces, in degrees; a line that runs through has a sum of 180.
    """

    lines: tuple[str, str]
    seam: tuple[str, str]
    first_deg: float
    second_deg: float

    @property
    def sum_deg(self) -> float:
        """180 where the line runs straight through."""
        return self.first_deg + self.second_deg

    @property
    def warning(self) -> str:
        """What a cutter should do about a line that bends; empty where it runs through."""
        bend = self.sum_deg - 180
        if abs(bend) <= RUNS_THROUGH_DEG:
            return ""
        shape = "a dip" if bend > 0 else "a peak"  # more than 180 within the pieces is a corner into them
        return (
            f"{self.lines[0]} and {self.lines[1]} meet at {self.sum_deg:.1f} degrees where {self.seam[0]} is "
            f"sewn to {self.seam[1]}: {shape} of {abs(bend):.1f} degrees; redraw one so that the line runs "
            "through"
        )


def junctions(draft: Draft) -> Iterator[Junction]:
    """Each place where a neck, a hem, a raw edge or another line goes on across a join, in the order of the joins."""
    faced_on = facings_of_necks(draft.joins)
    for join in draft.sewn:
        first, second = draft.shape(join.first.piece), draft.shape(join.second.piece)
        numbers = first.number(join.first.edge), second.number(join.second.edge)
        copied = first.name in faced_on or second.name in faced_on
        yield from _across(first, second, numbers, but=NECK if copied else "")


@lru_cache(maxsize=REMEMBERED)
def _across(first: Shape, second: Shape, numbers: tuple[int, int], but: str) -> tuple[Junction, ...]:
    """The lines, but for one of that name, that go on across the seam of the edges with these numbers."""
    i, j = numbers
    seam = f"{first.name}/{first.edges[i].name}", f"{second.name}/{second.edges[j].name}"
    others = _ends(second)[j] if same_way(first, i, second, j) else _ends(second)[j][::-1]
    return tuple(
        Junction(
            lines=(f"{first.name}/{one.name}", f"{second.name}/{two.name}"),
            seam=seam,
            first_deg=one_deg,
            second_deg=two_deg,
        )
        for (one, one_deg), (two, two_deg) in zip(_ends(first)[i], others, strict=True)
        if one.name != but and _goes_on(one, two)
    )


def facings_of_necks(joins: Iterable[Join]) -> frozenset[str]:
    """The pieces whose neck is sewn on to the neck of another, which is the garment's."""
    return frozenset(join.second.piece for join in joins if join.first.edge == NECK == join.second.edge)


def off_square(draft: Draft, say: Say) -> Iterator[str]:
    """A warning for each line that meets the fold neither square nor in a point that is meant."""
    for shape in draft.shapes:
        if shape.fold is None:
            continue
        for edge, angle in _ends(shape)[shape.fold]:
            off = abs(angle - 90)
            if SQUARE_DEG < off < POINT_DEG:
                yield (
                    f"{shape.name}, {edge.name}: it meets the fold {off:.1f} degrees off square, which makes "
                    f"{'a dip' if angle > 90 else 'a peak'} at the centre; draw its first "
                    f"{say(SQUARE_IN)} square to the fold"
                )


End = tuple[ShapeEdge, float]


@lru_cache(maxsize=REMEMBERED)
def _ends(shape: Shape) -> tuple[tuple[End, End], ...]:
    """For each edge its neighbours at its start and end, each with the angle within the piece there, in degrees."""
    edges = shape.edges
    following = edges[1:] + edges[:1]
    ends_deg = [
        _interior_deg(shape, edge.curve.end_tangent, after.curve.start_tangent)
        for edge, after in zip(edges, following, strict=True)
    ]
    return tuple(
        ((edges[number - 1], ends_deg[number - 1]), (after, ends_deg[number]))
        for number, after in enumerate(following)
    )


def _interior_deg(shape: Shape, arriving: Array, leaving: Array) -> float:
    (x, y), (on_x, on_y) = arriving.tolist(), leaving.tolist()
    turn = math.atan2(x * on_y - y * on_x, x * on_x + y * on_y)
    return 180 - math.degrees(shape.outward * turn)


def _goes_on(one: ShapeEdge, two: ShapeEdge) -> bool:
    """Whether the two are one line once sewn: hems, raw edges, necks and such; not the next seam of a facing."""
    if one.kind is not two.kind:
        return False
    return one.kind in (Kind.HEM, Kind.EDGE) or one.name == two.name in RUNNING_ON
