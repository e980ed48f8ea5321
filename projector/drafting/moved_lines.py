"""Which lines of a piece have moved since a point was taken: while it is pulled, only those are drawn anew."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final, TypeAlias

import numpy as np

from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.marks import Line, LineKind, piece_lines
from patterns.cutting.placement import Placement
from projector.lighting.dashes import corners
from projector.lighting.light import drawn_path
from projector.lighting.lit_area import LitArea
from projector.lighting.piece_light import some_lines_light
from projector.lighting.strokes import Plane, in_plane, in_rows
from projector.scene import Layer

LineKey: TypeAlias = tuple[LineKind, bool, bytes]

OUTLINES: Final = (LineKind.CUT, LineKind.SEAM)


def line_layers(
    piece: DraftedPiece, before: DraftedPiece, placement: Placement, lit: LitArea
) -> Iterator[Layer]:
    """The piece's lines, and apart from them those that were otherwise before; all as wide as they were then."""

    def layer(name: str, lines: Sequence[Line]) -> Layer:
        return Layer(
            name=name,
            key=(*map(_key, lines), before, placement),
            draw=lambda: some_lines_light(lines, before, placement, lit),
        )

    opened = placement.opened
    still, moved = parted(piece_lines(piece, opened), piece_lines(before, opened))
    yield layer("lines", still)
    if moved:
        yield layer("moved lines", moved)


@lru_cache(maxsize=256)
def _key(line: Line) -> LineKey:
    """All that it is, to be compared."""
    return line.kind, line.closed, line.points.tobytes()


def parted(now: Sequence[Line], before: Sequence[Line]) -> tuple[Sequence[Line], Sequence[Line]]:
    """The lines that are as they were, and those that are not.

    The cut line is parted round what has moved, a dashed one at the corners round it: dashes begin anew there, so that
    they stay what they are.
    """
    if now is before:
        return now, ()
    known = set(map(_key, before))
    outlines: dict[LineKind, Line] = {line.kind: line for line in before if line.kind in OUTLINES}
    still: list[Line] = []
    moved: list[Line] = []
    for line in now:
        old = outlines.get(line.kind)
        if _key(line) in known:
            still.append(line)
        elif old is not None and old.closed is line.closed:
            ends, between = _outline_parted(line, old)
            still += ends
            moved.append(between)
        else:
            moved.append(line)
    return still, moved


def _outline_parted(line: Line, old: Line) -> tuple[list[Line], Line]:
    """The ends of an outline that are as they were, and what is between them."""
    path, was = in_plane(drawn_path(line)), in_plane(drawn_path(old))
    last, solid = len(path) - 1, line.kind is LineKind.CUT
    begins, stops = max(_alike(path, was) - 1, 0), last + 1 - _alike(path[::-1], was[::-1])
    if not solid:
        turns = np.flatnonzero(corners(path))
        begins = int(turns[turns.searchsorted(begins, "right") - 1])
        stops = int(turns[min(int(turns.searchsorted(stops)), len(turns) - 1)])
    stops = min(stops, last)
    if begins >= stops or (begins, stops) == (0, last):
        return [], line
    ends, between = [path[stops:], path[: begins + 1]], path[begins : stops + 1]
    if solid:  # each point is drawn as one with the steps to it and from it
        around = np.arange(begins - 1, stops + 2)
        between = path[around % last if line.closed else around[(around >= 0) & (around <= last)]]
        ends = [np.concatenate([ends[0], ends[1][1:]])] if line.closed else ends
    still = [Line(kind=line.kind, points=in_rows(points)) for points in ends if len(points) > 1]
    return still, Line(kind=line.kind, points=in_rows(between))


def _alike(path: Plane, was: Plane) -> int:
    """How many points at the start of two paths are the same."""
    both = min(len(path), len(was))
    other = path[:both] != was[:both]
    first = int(other.argmax())
    return first if other[first] else both
