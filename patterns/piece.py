"""A piece as its author wrote it, and the rules that its parts keep together."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np

from patterns.curves import Array, Curve
from patterns.errors import Complaint, PatternError
from patterns.loop import loop_of
from patterns.measures import Unit
from patterns.parts import Corner, CutCount, Edge, Grain, Kind, Notch, Point, check_name
from patterns.saying import Say

MEETS_IN: Final = 0.005  # edges meet if closer: 0.1 mm, the last digit of a file in millimetres
MOST_EDGES: Final = 100
_SMALLEST_IN2: Final = 0.01  # an outline within less than this is a line, not a piece


@dataclass(frozen=True, kw_only=True)
class Piece:
    """A piece's edges, in order round its seam line, with its grain and notches.

    Raises PatternError with a complaint for each rule that is broken: edges that do not meet, an outline that
    crosses itself, a fold that the cut count does not know of, notches on edges that are not there.
    """

    name: str
    cut: CutCount
    edges: tuple[Edge, ...]
    grain: Grain | None = None
    notches: tuple[Notch, ...] = ()

    @property
    def unit(self) -> Unit:
        """The one that its author has written it in."""
        return self.edges[0].path[0].x.own_unit

    def __post_init__(self) -> None:
        check_name(self.name)
        names = [edge.name for edge in self.edges]
        complaints = part_complaints(self.name, self.cut, self.edges, names, self.notches)
        complaints += _corner_complaints(self.edges)
        if len(self.edges) > 1 and not (complaints and any(_meeting_complaints(self.edges))):
            complaints += _outline_complaints(self)
        if not complaints:
            complaints += _notch_place_complaints(self)
        if complaints:
            raise PatternError.listing(complaints)

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def curves(self) -> tuple[Curve, ...]:
        """The edges' curves in inches, their ends moved on to one another, so that the loop is closed exactly."""
        return closed_curves(self.edges)

    @cached_property
    def _hash(self) -> int:
        return hash((self.name, self.edges))


def part_complaints(
    name: str,
    cut: CutCount | None,
    edges: Sequence[Edge | None],
    names: Sequence[str],
    notches: Sequence[Notch | None],
) -> list[Complaint]:
    """What is wrong between the parts of a piece whose edges have these names.

    A part that could not be read is None and passed over.
    """
    complaints = [*_count_complaints(name, edges), *_meeting_complaints(edges)]
    if cut is not None and None not in edges:
        complaints += _fold_complaints(name, cut, edges)
    complaints += _notch_edge_complaints(name, edges, names, notches)
    return complaints


def closed_curves(edges: tuple[Edge, ...]) -> tuple[Curve, ...]:
    """The edges' curves, each end moved on to the next one's start, so that the loop is closed exactly."""
    return tuple(
        edge.curve
        if edge.places_in[-1] == after.places_in[0]
        else edge.curve.from_to(edge.curve.start, after.curve.start)
        for edge, after in zip(edges, (*edges[1:], *edges[:1]), strict=True)
    )


def in_inches(points: tuple[Point, ...]) -> Array:
    """(n, 2) inches of authored points."""
    return np.array([point.place_in for point in points], dtype=np.float64)


def _count_complaints(name: str, edges: Sequence[Edge | None]) -> Iterator[Complaint]:
    count = len(edges)
    if not 2 <= count <= MOST_EDGES:
        yield Complaint(
            found=f"{count} edge{'' if count == 1 else 's'} in {name}",
            wanted=f"2 to {MOST_EDGES} edges that go once round the piece",
            at=("edges",),
        )
    seen: set[str] = set()
    for i, edge in enumerate(edges):
        if edge is None:
            continue
        if edge.name in seen:
            yield Complaint(
                found=f'a second edge named "{edge.name}" in {name}',
                wanted="a name of its own for each edge",
                at=("edges", i, "name"),
            )
        seen.add(edge.name)


def _fold_complaints(name: str, cut: CutCount, edges: Sequence[Edge | None]) -> Iterator[Complaint]:
    fold = Kind.FOLD
    folds = [i for i, edge in enumerate(edges) if edge is not None and edge.kind is fold]
    for i in folds[1:]:
        yield Complaint(found=f"a second fold in {name}", wanted="one fold a piece", at=("edges", i, "kind"))
    if folds and not cut.on_fold:
        yield Complaint(
            found=f'"{cut}" for {name}, which has a fold edge',
            wanted=f'"{cut.count} on fold", or an edge of another kind',
            at=("cut",),
        )
    if cut.on_fold and not folds:
        yield Complaint(
            found=f'"{cut}" for {name}, which has no fold edge',
            wanted="an edge of kind fold along x = 0",
            at=("cut",),
        )


def _meeting_complaints(edges: Sequence[Edge | None]) -> Iterator[Complaint]:
    following = [*edges[1:], *edges[:1]]
    for i, (edge, after) in enumerate(zip(edges, following, strict=True)):
        if edge is None or after is None:
            continue
        end_in, start_in = edge.places_in[-1], after.places_in[0]
        if end_in != start_in and math.dist(end_in, start_in) > MEETS_IN:
            end, start = edge.path[-1], after.path[0]
            yield Complaint(
                found=f"{edge.name} ending at [{end.x}, {end.y}] and {after.name} beginning at "
                f"[{start.x}, {start.y}]",
                wanted="each edge to begin where the last ended, and the last to close on the first",
                at=("edges", (i + 1) % len(edges), "path"),
            )


def _outline_complaints(piece: Piece) -> Iterator[Complaint]:
    outline = loop_of(piece.curves)
    if outline.room.area < _SMALLEST_IN2 and outline.room.convex_hull.area < _SMALLEST_IN2:
        yield Complaint(
            found=f"an outline of {piece.name} that encloses nothing",
            wanted="edges that go once round the piece",
            at=("edges",),
        )
        return
    if piece.cut.on_fold and outline.ring[:, 0].min() < -MEETS_IN:
        for i, (edge, curve) in enumerate(zip(piece.edges, piece.curves, strict=True)):
            x = float(curve.points[:, 0].min())
            if x < -MEETS_IN:
                yield Complaint(
                    found=f"{edge.name} reaching {_say(edge)(-x, 64)} across the centre line",
                    wanted="x of 0 or more all round a piece on the fold",
                    at=("edges", i, "path"),
                )
    elif outline.crosses_itself:
        place, touched = outline.crossed()
        names = " and ".join(piece.edges[i].name for i in touched) or "the outline"
        crossing = "crossing itself" if len(touched) < 2 else "crossing"
        yield Complaint(
            found=f"{names} {crossing} near {Say(piece.unit).place(*place)}",
            wanted="a loop that does not cross or touch itself",
            at=("edges", touched[-1], "path") if touched else ("edges",),
        )


def _say(edge: Edge) -> Say:
    """Lengths in the unit that its author has written the edge in."""
    return Say(edge.path[0].x.own_unit)


def _notch_edge_complaints(
    name: str, edges: Sequence[Edge | None], names: Sequence[str], notches: Sequence[Notch | None]
) -> Iterator[Complaint]:
    fold = Kind.FOLD
    folds = {edge.name for edge in edges if edge is not None and edge.kind is fold}
    for i, notch in enumerate(notches):
        if notch is None:
            continue
        if notch.edge not in names:
            yield Complaint(
                found=f'a notch on "{notch.edge}"',
                wanted=f"an edge of {name}: {', '.join(names)}",
                at=("notches", i, "edge"),
            )
        elif notch.edge in folds:
            yield Complaint(
                found=f"a notch on {notch.edge}, a fold",
                wanted="a notch on an edge that is cut",
                at=("notches", i, "edge"),
            )


def _notch_place_complaints(piece: Piece) -> Iterator[Complaint]:
    numbers = {edge.name: number for number, edge in enumerate(piece.edges)}
    for i, notch in enumerate(piece.notches):
        number, at_in = numbers[notch.edge], notch.at.inches
        start_in, *_, end_in = piece.edges[number].places_in
        if at_in < math.dist(start_in, end_in) - MEETS_IN:
            continue  # that is sooner found, and no edge is shorter
        if at_in > (length_in := piece.curves[number].length_in):
            yield Complaint(
                found=f"a notch {notch.at.words} along {notch.edge}",
                wanted=f"at most the edge's length, {Say(notch.at.own_unit).finely(length_in)}",
                at=("notches", i, "at"),
            )


def _corner_complaints(edges: tuple[Edge, ...]) -> Iterator[Complaint]:
    for i, edge in enumerate(edges):
        if edge.corner is None:
            continue
        after = edges[(i + 1) % len(edges)]
        kinds = (edge.kind, after.kind)
        if Kind.FOLD in kinds:
            yield Complaint(
                found=f"a {edge.corner.value} corner where {edge.name} meets {after.name}",
                wanted="no corner at the fold: the cut line ends on it",
                at=("edges", i, "corner"),
            )
        elif edge.corner is Corner.REFLECTED and kinds.count(Kind.HEM) != 1:
            yield Complaint(
                found=f"a reflected corner between {edge.name} and {after.name}",
                wanted="one of the two to be a hem, about whose fold line the other is mirrored",
                at=("edges", i, "corner"),
            )
