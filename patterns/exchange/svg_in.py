"""An SVG file as lines in inches, whatever groups, transforms and units it has; nothing outside it is opened.

SVG 2, chapter 5 for groups and `use`. What is not drawn where it stands (`defs`), and text and pictures, are passed
over.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final
from xml.etree.ElementTree import Element

import numpy as np

from patterns.curves import Array
from patterns.errors import PatternError
from patterns.exchange.drawn import (
    Budget,
    Drawing,
    DrawnPath,
    DrawnPiece,
    Role,
    SaidEdge,
    content_of,
    role_of,
    without_repeats,
)
from patterns.exchange.said import said_edge
from patterns.exchange.svg_out import (
    ALLOWANCE_SAID,
    CUT_SAID,
    EDGE_SAID,
    KIND_SAID,
    PIECE_SAID,
    UNIT_SAID,
)
from patterns.exchange.svg_shapes import (
    Matrix,
    ShapeError,
    flattened,
    length,
    path_data,
    placed,
    times,
    transform,
)
from patterns.exchange.svg_tree import names_of, nested, parsed, tag_of, target_of, true_size
from patterns.measures import Unit
from patterns.parts import Kind

MOST_VISITS: Final = 200_000  # of elements, those that `use` repeats counted each time
DEEPEST_USE: Final = 20
_GROUPS: Final = frozenset(("svg", "g", "a", "switch"))
_SHAPES: Final = frozenset(("path", "line", "polyline", "polygon", "circle", "ellipse", "rect"))
_HIDDEN: Final = re.compile(r"display\s*:\s*none")
_ORIGIN: Final = np.zeros((1, 2))


def svg_drawing(path: Path, scale_in: float | None) -> Drawing:
    """The lines of a file; `scale_in` is how long one of its units is, None to go by what the file says.

    Raises PatternError where it is no SVG that can be read, has a document type, or says no true size.
    """
    return svg_drawing_of(content_of(path), path, scale_in)


def svg_drawing_of(content: bytes, path: Path, scale_in: float | None) -> Drawing:
    """The same of what a file or a part of it holds."""
    root = parsed(content, path)
    walk = _Walk(file=path, known={element.get("id", ""): element for element in root.iter()})
    try:
        scaled = None if scale_in is None else np.array([[scale_in, 0.0, 0.0], [0.0, scale_in, 0.0]])
        loose = tuple(walk.within(root, true_size(root, path) if scaled is None else scaled, ()))
    except ShapeError as wrong:
        raise PatternError(
            f"{path}: found {wrong}, which cannot be read; export it again as plain SVG"
        ) from wrong
    said: str = root.get(UNIT_SAID) or root.get("width") or ""
    unit = next((one for one in Unit if said.endswith(one.value)), Unit.IN)
    return Drawing(pieces=tuple(walk.pieces), loose=loose, unit=unit, notes=tuple(dict.fromkeys(walk.notes)))


@dataclass(kw_only=True)
class _Walk:
    """Goes through a tree: lines are given out, but those of a group that says which piece it is go into `pieces`."""

    file: Path
    known: dict[str, Element]
    pieces: list[DrawnPiece] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    budget: Budget = field(default_factory=Budget)
    visits: int = 0
    uses: int = 0

    def within(self, element: Element, matrix: Matrix, names: tuple[str, ...]) -> Iterator[DrawnPath]:
        """The lines of what an element holds; `names` are those round it, the nearest first."""
        for child in element:
            yield from self._drawn(child, matrix, names)

    def _drawn(self, element: Element, matrix: Matrix, names: tuple[str, ...]) -> Iterator[DrawnPath]:
        self.visits += 1
        if self.visits > MOST_VISITS:
            raise PatternError(f"{self.file}: what it repeats has no end; export it again as plain SVG")
        tag = tag_of(element)
        if _HIDDEN.search(element.get("style", "")) or element.get("display") == "none":
            self.notes.append("what is hidden in the file was left out")
            return
        matrix = times(matrix, transform(element.get("transform", "")))
        names = (*names_of(element), *names)
        if tag in _SHAPES:
            yield from self._shape(element, matrix, names)
        elif tag == "use":
            yield from self._used(element, matrix, names)
        elif tag in _GROUPS:
            inner = times(matrix, nested(element)) if tag == "svg" else matrix
            if PIECE_SAID in element.attrib:
                self._keep_piece(element, inner, tuple(self.within(element, inner, names)))
            else:
                yield from self.within(element, inner, names)

    def _used(self, element: Element, matrix: Matrix, names: tuple[str, ...]) -> Iterator[DrawnPath]:
        target = target_of(element)
        again = self.known.get(target[1:]) if target.startswith("#") else None
        if again is None:
            self.notes.append(f'"{target[:40]}" lies outside the file and was not opened')
            return
        if self.uses >= DEEPEST_USE:
            raise PatternError(f"{self.file}: what it repeats has no end; export it again as plain SVG")
        x, y = length(element.get("x")), length(element.get("y"))
        there = times(matrix, np.array([[1.0, 0.0, x], [0.0, 1.0, y]]))
        self.uses += 1
        held = tag_of(again) == "symbol"
        yield from self.within(again, there, names) if held else self._drawn(again, there, names)
        self.uses -= 1

    def _shape(self, element: Element, matrix: Matrix, names: tuple[str, ...]) -> Iterator[DrawnPath]:
        role = role_of(*names)
        name, kind, allowance = (element.get(key, "") for key in (EDGE_SAID, KIND_SAID, ALLOWANCE_SAID))
        edge = said_edge(name, kind, allowance) if role is not Role.NOTCH else None
        called = next((name for name in names if role_of(name) is Role.UNSAID), "")
        for points, closed in flattened(path_data(tag_of(element), element.attrib), matrix):
            points = without_repeats(points, closed=closed)
            if len(points) > 1:
                path = DrawnPath(points=points, closed=closed, role=role, edge=edge, name=called)
                yield self.budget.took(path)

    def _keep_piece(self, group: Element, matrix: Matrix, paths: tuple[DrawnPath, ...]) -> None:
        self.pieces.append(
            DrawnPiece(
                name=group.get(PIECE_SAID, ""),
                paths=paths,
                cut=group.get(CUT_SAID, ""),
                origin=placed(_ORIGIN, matrix)[0],
                starts=tuple(_starts(paths)),
            )
        )


def _starts(paths: tuple[DrawnPath, ...]) -> Iterator[tuple[SaidEdge, Array]]:
    """The named edges of a piece; a fold begins where the last of the others ends."""
    named = [(path.edge, path) for path in paths if path.edge is not None]
    seams = [(edge, path) for edge, path in named if edge.kind is not Kind.FOLD]
    yield from ((edge, path.points[0]) for edge, path in seams)
    folds = [edge for edge, _ in named if edge.kind is Kind.FOLD]
    if seams and folds:
        yield folds[0], seams[-1][1].points[-1]
