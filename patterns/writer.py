"""A `Pattern` -> a pattern file that reads back equal, every unit and spelling with it.

A pattern does not hold the comments of the file it came from, so writing over a file drops them: `has_comments` asks.
"""

import json
import os
import re
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from patterns.changes import Change, Facing, RaiseNeck, ShoulderForward, VNeck
from patterns.errors import PatternError
from patterns.parts import Bend, Edge, End, Notch, Point
from patterns.pattern import Pattern
from patterns.piece import Piece

_PLAIN: Final = re.compile(r"[0-9A-Za-zÀ-ÖØ-öø-ÿ.½¼¾⅛⅜⅝⅞][-0-9A-Za-zÀ-ÖØ-öø-ÿ ./+½¼¾⅛⅜⅝⅞']*|-[0-9][0-9. /]*")

_QUOTED: Final = re.compile(r""" "(?:[^"\\]|\\.)*" | '[^']*' """, re.VERBOSE)
_COMMENT: Final = re.compile(r"(?:^|\s)#", re.MULTILINE)


def has_comments(text: str) -> bool:
    """Whether a pattern file's text has comments.

    >>> has_comments('pattern: "Top #2"'), has_comments("pattern: Top  # the chorus's")
    (False, True)
    """
    return _COMMENT.search(_QUOTED.sub("", text)) is not None


def write_pattern(path: str | Path, pattern: Pattern) -> None:
    """Write the pattern, whole or not at all: a reader sees the old file or the new one.

    Raises PatternError if the file cannot be written.
    """
    file = Path(path)
    text = "\n".join(_lines(pattern)) + "\n"
    try:
        handle, name = tempfile.mkstemp(prefix=f".{file.name}.", dir=file.parent)
    except OSError as closed:
        raise PatternError(
            f"{file}: cannot be written ({closed.strerror}); choose another folder"
        ) from closed
    beside = Path(name)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as out:
            out.write(text)
            out.flush()
            os.fsync(out.fileno())
        beside.chmod(file.stat().st_mode & 0o777 if file.is_file() else 0o644)
        beside.replace(file)
    except OSError as closed:
        beside.unlink(missing_ok=True)
        raise PatternError(f"{file}: cannot be written ({closed.strerror}); choose another place") from closed


def _lines(pattern: Pattern) -> Iterator[str]:
    yield f"pattern: {_text(pattern.name)}"
    yield f"unit: {pattern.unit.value}"
    if pattern.allowances:
        given = (f"{one.kind.value}: {_text(str(one.allowance))}" for one in pattern.allowances)
        yield f"allowance: {{{', '.join(given)}}}"
    yield "pieces:"
    for piece in pattern.pieces:
        yield from _piece(piece)
    if pattern.joins:
        yield "joins:"
        for join in pattern.joins:
            yield f"  - [{_text(str(join.first))}, {_text(str(join.second))}]"
    if pattern.changes:
        yield "changes:"
        for change in pattern.changes:
            yield f"  - {{{', '.join(_change(change))}}}"
    if pattern.versions:
        yield "versions:"
        for version in pattern.versions:
            without = f"without: [{', '.join(str(number) for number in version.without)}]"
            yield f"  {_text(version.name)}: {{{without if version.without else ''}}}"


def _piece(piece: Piece) -> Iterator[str]:
    yield f"  {_text(piece.name)}:"
    yield f"    cut: {piece.cut}"
    yield "    edges:"
    for edge in piece.edges:
        yield f"      - {{{', '.join(_edge(edge))}}}"
    if piece.grain is not None:
        yield f"    grain: [{_point(piece.grain.start)}, {_point(piece.grain.end)}]"
    if piece.notches:
        yield "    notches:"
        for notch in piece.notches:
            yield f"      - {{{', '.join(_notch(notch))}}}"


def _edge(edge: Edge) -> Iterator[str]:
    yield f"name: {_text(edge.name)}"
    yield f"kind: {edge.kind.value}"
    yield f"path: [{', '.join(_point(point) for point in edge.path)}]"
    if edge.bend is not Bend.STRAIGHT:
        yield f"curve: {edge.bend.value}"
    if edge.allowance is not None:
        yield f"allowance: {_text(str(edge.allowance))}"
    if edge.corner is not None:
        yield f"corner: {edge.corner.value}"


def _notch(notch: Notch) -> Iterator[str]:
    yield f"edge: {_text(notch.edge)}"
    yield f"at: {_text(notch.at.spelling)}"
    if notch.from_end is not End.START:
        yield f"from: {notch.from_end.value}"
    if notch.count != 1:
        yield f"count: {notch.count}"


def _change(change: Change) -> Iterator[str]:
    if isinstance(change, VNeck):
        yield from ("neck: v", f"piece: {_text(change.piece)}", f"depth: {_text(change.depth.spelling)}")
    elif isinstance(change, RaiseNeck):
        yield from (f"raise neck: {_text(change.by.spelling)}", f"piece: {_text(change.piece)}")
    elif isinstance(change, Facing):
        yield from (f"facing: {_text(change.garment)}", f"of: {_text(str(change.of))}")
        yield f"depth: {_text(change.depth.spelling)}"
        if change.below_point is not None:
            yield f"below point: {_text(change.below_point.spelling)}"
    elif isinstance(change, ShoulderForward):
        yield f"shoulder forward: {_text(change.by.spelling)}"
        if (change.front, change.back) != ("front", "back"):
            yield from (f"front: {_text(change.front)}", f"back: {_text(change.back)}")
    if change.off:
        yield "off: yes"


def _point(point: Point) -> str:
    return f"[{_text(point.x.spelling)}, {_text(point.y.spelling)}]"


def _text(value: str) -> str:
    """The text as YAML: plain where it can stand plain, else in double quotes."""
    return (
        value
        if _PLAIN.fullmatch(value) and not value.endswith(" ")
        else json.dumps(value, ensure_ascii=False)
    )
