"""A `Pattern` as the plain values that its file holds: texts, lists and entries, every spelling as authored."""

from collections.abc import Iterator
from typing import TypeAlias

from patterns.changes import Change, Join, entries_of
from patterns.parts import Bend, Edge, End, Notch, Point
from patterns.pattern import Pattern
from patterns.piece import Piece

Value: TypeAlias = "str | list[Value] | dict[str, Value]"


def document(pattern: Pattern) -> dict[str, Value]:
    """The file's entries in the order in which they are written; what has its default is left out."""
    return dict(_entries(pattern))


def _entries(pattern: Pattern) -> Iterator[tuple[str, Value]]:
    yield "pattern", pattern.name
    yield "unit", pattern.unit.value
    if pattern.finish is not None:
        yield "finish", {"seam": pattern.finish.seam.value, "hem": pattern.finish.hem.value}
    if pattern.allowances:
        yield "allowance", {one.kind.value: str(one.allowance) for one in pattern.allowances}
    yield "pieces", {piece.name: dict(_piece(piece)) for piece in pattern.pieces}
    if pattern.joins:
        yield "joins", [_join(join) for join in pattern.joins]
    if pattern.changes:
        yield "changes", [dict(_change(change)) for change in pattern.changes]
    if pattern.versions:
        yield (
            "versions",
            {
                version.name: {"without": [str(number) for number in version.without]}
                if version.without
                else {}
                for version in pattern.versions
            },
        )


def _piece(piece: Piece) -> Iterator[tuple[str, Value]]:
    yield "cut", str(piece.cut)
    yield "edges", [dict(_edge(edge)) for edge in piece.edges]
    if piece.grain is not None:
        yield "grain", [_point(piece.grain.start), _point(piece.grain.end)]
    if piece.notches:
        yield "notches", [dict(_notch(notch)) for notch in piece.notches]


def _edge(edge: Edge) -> Iterator[tuple[str, Value]]:
    yield "name", edge.name
    yield "kind", edge.kind.value
    yield "path", [_point(point) for point in edge.path]
    if edge.bend is not Bend.STRAIGHT:
        yield "curve", edge.bend.value
    if edge.allowance is not None:
        yield "allowance", str(edge.allowance)
    if edge.corner is not None:
        yield "corner", edge.corner.value


def _notch(notch: Notch) -> Iterator[tuple[str, Value]]:
    yield "edge", notch.edge
    yield "at", notch.at.spelling
    if notch.from_end is not End.START:
        yield "from", notch.from_end.value
    if notch.count != 1:
        yield "count", str(notch.count)


def _join(join: Join) -> Value:
    edges: Value = [str(join.first), str(join.second)]
    return edges if join.ease is None else {"edges": edges, "ease": join.ease.spelling}


def _change(change: Change) -> Iterator[tuple[str, Value]]:
    for key, spelled in entries_of(change):
        yield key, spelled[0] if len(spelled) == 1 else list[Value](spelled)


def _point(point: Point) -> Value:
    return [point.x.spelling, point.y.spelling]
