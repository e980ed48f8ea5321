"""A DXF file as lines in inches: pattern data by its layers (`dxf_layers.py`), or any drawing by its layers' names."""

import io
import logging
from collections.abc import Iterator
from dataclasses import replace
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Final, TypeGuard

import numpy as np

from patterns.curves import Array
from patterns.errors import PatternError
from patterns.exchange import dxf_layers as layers
from patterns.exchange.drawn import (
    FLAT_IN,
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
from patterns.exchange.said import cut_count, said_edge
from patterns.measures import Unit

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.entities.dxfentity import DXFEntity
    from ezdxf.entities.dxfgfx import DXFGraphic
    from ezdxf.entities.insert import Insert
    from ezdxf.entities.text import Text
    from ezdxf.math import Vec3

MOST_ENTITIES: Final = 1_000_000
MOST_COPIES: Final = 10_000  # of one block in rows and columns
DEEPEST: Final = 20  # blocks within blocks
FARTHEST_IN: Final = 100_000.0  # of anything that is drawn
_ROLES: Final = {
    layers.BOUNDARY: Role.CUT,
    layers.NOTCHES: Role.NOTCH,
    layers.MIRROR: Role.FOLD,
    layers.GRAIN: Role.GRAIN,
    layers.SEW_LINES: Role.SEAM,
}
# $INSUNITS, as the DXF reference has it: inches, feet, millimetres, centimetres, metres, yards, decimetres
_HEADER_IN: Final = {1: 1.0, 2: 12.0, 4: 1 / 25.4, 5: 1 / 2.54, 6: 100 / 2.54, 10: 36.0, 14: 10 / 2.54}
_HEADER_UNIT: Final = {4: Unit.MM, 5: Unit.CM, 6: Unit.CM, 14: Unit.CM}
_WORDS_IN: Final = {layers.METRIC: 1 / 25.4, layers.ENGLISH: 1.0}
_LINES: Final = frozenset(("LINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "LWPOLYLINE", "POLYLINE"))
_WORDLESS: Final = frozenset(("TEXT", "MTEXT", "ATTRIB", "ATTDEF", "DIMENSION"))  # passed over
_ARC_PARTS: Final = 16  # cubics of a circle: they stray a hundred-millionth of its radius
_SPLINE_LEVEL: Final = 6
_DOWN: Final = np.array([1.0, -1.0])

# of what is no DXF, or one that was damaged, the library says so in more ways than its own
_BROKEN: Final = (ArithmeticError, AssertionError, AttributeError, LookupError, TypeError, ValueError)
logging.getLogger("ezdxf").addHandler(
    logging.NullHandler()
)  # what it mends in a file is not for the terminal


def dxf_drawing(path: Path, scale_in: float | None) -> Drawing:
    """The lines of a file; `scale_in` is how long one of its units is, None to go by what the file says.

    Raises PatternError where it is no DXF that can be read, or does not say what its units are.
    """
    document = _document(path)
    space = list(islice(document.modelspace(), MOST_ENTITIES))
    told, unit = _scale(document, space)
    scale = told if scale_in is None else scale_in
    if scale is None:
        raise PatternError(
            f"{path}: does not say what its units are; say with --scale how long one of them is, such as 1mm or 1in, "
            "or with --across how wide all its outlines are together"
        )
    reader = _Reader(path, scale)
    loose: list[DrawnPath] = []
    pieces: list[DrawnPiece] = []
    for entity in space:
        if _is_insert(entity):
            piece = reader.piece(entity)
            if piece.name:
                pieces.append(piece)
            else:  # any block: it may well hold several pieces
                block = entity.dxf.name
                loose += [replace(path, name=path.name or block) for path in piece.paths]
        else:
            loose += reader.paths(entity)
    said = [edge.allowance for piece in pieces for edge, _ in piece.starts if edge.allowance is not None]
    return Drawing(
        pieces=tuple(piece for piece in pieces if piece.paths),
        loose=tuple(loose),
        unit=said[0].parts[0].own_unit if said else unit,
        notes=tuple(dict.fromkeys(reader.notes)),
    )


def _is_insert(entity: "DXFGraphic") -> TypeGuard["Insert"]:
    return entity.dxftype() == "INSERT"


def _document(path: Path) -> "Document":
    from ezdxf import recover  # costs 0.7 s, and only here is it needed
    from ezdxf.lldxf.const import DXFError

    content = content_of(path)
    try:
        document, _ = recover.read(io.BytesIO(content))
    except (DXFError, *_BROKEN) as wrong:
        raise PatternError(f"{path}: is no DXF that can be read; export it again, as release 12") from wrong
    return document


def _scale(document: "Document", space: list["DXFGraphic"]) -> tuple[float | None, Unit]:
    """Inches of one unit, as the header or a line of text says, None where neither does; and our unit for it."""
    header = int(document.header.get("$INSUNITS", 0))
    texts = (entity.dxf.text for layout in (space, *document.blocks) for entity in layout if _is_text(entity))
    for label, text in map(layers.heard, texts):
        if label == layers.UNITS.lower() and text.upper() in _WORDS_IN:
            metric = text.upper() == layers.METRIC
            return _WORDS_IN[text.upper()], Unit.MM if metric else Unit.IN
    return _HEADER_IN.get(header), _HEADER_UNIT.get(header, Unit.IN)


def _is_text(entity: "DXFEntity") -> TypeGuard["Text"]:
    return entity.dxftype() == "TEXT"


class _Reader:
    """Turns entities into lines, in inches and y down, and counts them."""

    def __init__(self, file: Path, scale_in: float) -> None:
        self.file = file
        self.scale_in = scale_in
        self.budget = Budget()
        self.entities = 0
        self.notes: list[str] = []

    def piece(self, insert: "Insert") -> DrawnPiece:
        """What a block holds, as one piece; it has no name where it does not say itself which piece it is."""
        parts = list(self._parts(insert, 0))
        says = [part.dxf.text for part in parts if _is_text(part)]
        heard = dict(layers.heard(line) for line in says)
        known = layers.PIECE_NAME.lower() in heard
        counts = [heard.get(label.lower(), "") for label in (layers.REMARK, layers.QUANTITY)]
        paths = tuple(path for part in parts for path in self.paths(part, numbered=known))
        starts = tuple(self._starts(parts))
        return DrawnPiece(
            name=heard.get(layers.PIECE_NAME.lower(), ""),
            paths=paths,
            cut=next((text for text in counts if cut_count(text)), ""),
            origin=self._place(insert.dxf.insert) if starts else None,
            starts=starts,
        )

    def _parts(self, insert: "Insert", depth: int) -> Iterator["DXFGraphic"]:
        """All that a block draws, blocks within it opened."""
        if depth > DEEPEST:
            raise PatternError(
                f"{self.file}: blocks lie more than {DEEPEST} deep in one another; export it again"
            )
        if insert.mcount > MOST_COPIES:
            raise PatternError(f"{self.file}: a block that is there {insert.mcount:,} times is no pattern")
        for one in insert.multi_insert() if insert.mcount > 1 else (insert,):
            for part in self._opened(one):
                self.entities += 1
                if self.entities > MOST_ENTITIES:
                    raise PatternError(
                        f"{self.file}: more than {MOST_ENTITIES:,} parts are no pattern; export the pieces alone"
                    )
                if _is_insert(part):
                    yield from self._parts(part, depth + 1)
                else:
                    yield part

    def _opened(self, insert: "Insert") -> list["DXFGraphic"]:
        from ezdxf.lldxf.const import DXFError

        try:
            return list(insert.virtual_entities())
        except (DXFError, *_BROKEN):
            self.notes.append("a block that cannot be read was left out")
            return []

    def paths(self, entity: "DXFGraphic", *, numbered: bool = False) -> Iterator[DrawnPath]:
        """The line that an entity draws; layers that are `numbered` mean what the standard says."""
        kind = entity.dxftype()
        if kind not in _LINES and kind != "POINT":
            if kind not in _WORDLESS:
                self.notes.append(f"{kind} is nothing that a pattern is made of, and was left out")
            return
        layer = str(entity.dxf.layer)
        role = _ROLES.get(layer, Role.OTHER) if numbered and layer.isdigit() else role_of(layer)
        if kind != "POINT":
            points, closed = self._flat(entity)
            if len(points) > 1:
                name = layer if role is Role.UNSAID and not layer.isdigit() else ""
                yield self.budget.took(DrawnPath(points=points, closed=closed, role=role, name=name))
        elif role is Role.NOTCH:
            place = self._place(entity.dxf.location)
            yield self.budget.took(DrawnPath(points=place[None], role=role))

    def _flat(self, entity: "DXFGraphic") -> tuple[Array, bool]:
        """(n, 2) inches along a line, none where it is none, and whether it is closed."""
        from ezdxf.lldxf.const import DXFError
        from ezdxf.path import make_path

        nothing = np.zeros((0, 2))
        try:
            path = make_path(entity, segments=_ARC_PARTS, level=_SPLINE_LEVEL)
            reach = max((max(abs(at.x), abs(at.y)) for at in path.control_vertices()), default=0.0)
            if not reach * self.scale_in <= FARTHEST_IN:
                raise ValueError
            places = [(place.x, place.y) for place in path.flattening(FLAT_IN / self.scale_in)]
        except (DXFError, *_BROKEN):  # a mesh that is stored as a polyline, or nonsense
            self.notes.append(f"a {entity.dxftype()} that cannot be read was left out")
            return nothing, False
        if len(places) < 2:
            return nothing, False
        points = np.array(places) * self.scale_in * _DOWN
        closed = bool(path.is_closed)
        return without_repeats(points, closed=closed), closed

    def _starts(self, parts: list["DXFGraphic"]) -> Iterator[tuple[SaidEdge, Array]]:
        """The edges that lines of text name, each with the place where it begins."""
        for part in parts:
            if not _is_text(part):
                continue
            label, text = layers.heard(part.dxf.text)
            if label == layers.EDGE.lower():
                said = _edge(text)
                if said is not None:
                    yield said, self._place(part.dxf.insert)

    def _place(self, at: "Vec3") -> Array:
        place: Array = np.array([at.x, at.y]) * self.scale_in * _DOWN
        return place


def _edge(text: str) -> SaidEdge | None:
    """From "side, seam, 0.5 in" or "centre front, fold"; a name may have commas of its own."""
    name, kind, allowance = (*text.rsplit(", ", 2), "", "")[:3]
    whole = said_edge(name, kind, allowance)
    name, _, kind = text.rpartition(", ")
    return whole or said_edge(name, kind, "")
