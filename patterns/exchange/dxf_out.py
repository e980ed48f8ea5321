"""Drafted pieces as DXF pattern data, in millimetres: a block a piece, a layer a kind of line (`dxf_layers.py`)."""

import io
import math
from collections.abc import Iterator
from itertools import count
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from patterns.curves import Array
from patterns.cutting.labels import Label
from patterns.cutting.marks import LineKind
from patterns.exchange import dxf_layers as layers
from patterns.exchange.marked import MarkedPiece, Spread
from patterns.exchange.svg_out import MM_IN_AN_INCH
from patterns.exchange.turns import kinks
from patterns.measures import Length, Unit
from patterns.parts import Kind

if TYPE_CHECKING:
    from ezdxf.layouts.blocklayout import BlockLayout

TEXT_IN: Final = 0.08
ROW_IN: Final = 0.11  # from row to row of them: all that is said of a piece stands in the gap below it
LONGEST_BLOCK: Final = 31  # letters of a block's name in release 12
_UP: Final = np.array([MM_IN_AN_INCH, -MM_IN_AN_INCH])
_DECIMALS: Final = 5  # of a millimetre
_ONE_SIZE: Final = "1"
_INTERNAL: Final = (LineKind.CLIP, LineKind.CENTRE)


def spread_dxf(sheet: Spread, unit: Unit) -> bytes:
    """The whole file; allowances are written in `unit`, the pattern's own."""
    from ezdxf.document import Drawing  # costs 0.7 s, and only here is it needed

    document = Drawing.new("R12")
    for name in layers.LAYERS:
        document.layers.add(name)
    space = document.modelspace()
    taken: set[str] = set()
    for marked in sheet.pieces:
        block = document.blocks.new(_block_name(marked.piece.name, taken))
        _fill(block, marked, unit)
        at = np.array([marked.placement.x_in, marked.placement.y_in]) * MM_IN_AN_INCH
        space.add_blockref(block.name, tuple(at), dxfattribs={"layer": layers.BOUNDARY})
    below_mm = -(sheet.size_in[1] + TEXT_IN) * MM_IN_AN_INCH
    for row, line in enumerate(
        (layers.said(layers.STYLE_NAME, sheet.name), layers.said(layers.UNITS, layers.METRIC))
    ):
        at = np.array([0.0, below_mm - row * ROW_IN * MM_IN_AN_INCH])
        space.add_text(line, dxfattribs=_text(layers.BOUNDARY, at, TEXT_IN))
    width_mm, height_mm = (side * MM_IN_AN_INCH for side in sheet.size_in)
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (0.0, -height_mm, 0.0), (width_mm, 0.0, 0.0)
    written = io.StringIO()
    document.write(written)
    return document.encode(written.getvalue())


def _block_name(name: str, taken: set[str]) -> str:
    """A name that release 12 takes for a block, of its own among those `taken`, which it joins.

    >>> taken = set()
    >>> _block_name("front facing", taken), _block_name("Front-facing", taken)
    ('FRONT-FACING', 'FRONT-FACING-2')
    """
    letters = (one if one.isascii() and one.isalnum() else "-" for one in name.upper())
    plain = "".join(letters).strip("-")[:LONGEST_BLOCK] or "PIECE"
    tries = (plain if number == 1 else f"{plain[: LONGEST_BLOCK - 4]}-{number}" for number in count(1))
    found = next(one for one in tries if one not in taken)
    taken.add(found)
    return found


def _fill(block: "BlockLayout", marked: MarkedPiece, unit: Unit) -> None:
    """Draw the piece in its own millimetres: x from the centre line, y up."""
    for kind, layer in ((LineKind.CUT, layers.BOUNDARY), (LineKind.SEAM, layers.SEW_LINES)):
        for line in marked.lines:
            if line.kind is kind:
                closed = line.closed or kind is LineKind.CUT  # a half is bounded by its fold
                _outline(block, marked.placement.lifted(line.points), layer, closed=closed)
    fold = marked.piece.fold
    if fold is not None and not marked.opened:
        _straight(block, marked.piece.cut_line[[-1, 0]], layers.MIRROR)
    if marked.piece.grain is not None:
        _straight(block, marked.piece.grain, layers.GRAIN)
    for line in marked.lines:
        if line.kind in _INTERNAL:
            _straight(block, marked.placement.lifted(line.points), layers.INTERNAL)
    _notches(block, marked)
    _texts(block, marked, unit)


def _outline(block: "BlockLayout", points: Array, layer: str, *, closed: bool) -> None:
    """A line with its points said one by one: those where it turns, and those of its curves."""
    places = np.round(points * _UP, _DECIMALS)
    block.add_polyline2d(places, close=closed, dxfattribs={"layer": layer})
    _, sharp = kinks(points)
    if not closed:
        sharp[[0, -1]] = True
    for place, turns in zip(places, sharp, strict=True):
        block.add_point(
            tuple(place), dxfattribs={"layer": layers.TURN_POINTS if turns else layers.CURVE_POINTS}
        )


def _straight(block: "BlockLayout", points: Array, layer: str) -> None:
    start, end = points * _UP
    block.add_line(tuple(start), tuple(end), dxfattribs={"layer": layer})


def _notches(block: "BlockLayout", marked: MarkedPiece) -> None:
    """A point for each clip, where it meets the cut edge."""
    for notch in marked.piece.notches:
        width = marked.piece.edges[notch.edge].allowance_in
        for clip in notch.clips:
            place = (clip[0] if width else clip[1]) * _UP
            for side in (1.0, -1.0) if marked.opened else (1.0,):
                block.add_point((place[0] * side, place[1]), dxfattribs={"layer": layers.NOTCHES})


def _texts(block: "BlockLayout", marked: MarkedPiece, unit: Unit) -> None:
    """What the piece is, for a program; then the same, and its edges, to be read where they stand."""
    piece, opened = marked.piece, marked.opened
    quantity = piece.cut.count
    says = (
        layers.said(layers.PIECE_NAME, piece.name),
        layers.said(layers.SIZE, _ONE_SIZE),
        layers.said(layers.QUANTITY, str(quantity)),
        layers.said(layers.REMARK, f"cut {quantity}" if opened else piece.cut.words),
    )
    low = float(piece.cut_line[:, 1].max()) + ROW_IN
    left = float(piece.cut_line[:, 0].min())
    for row, line in enumerate(says):
        at = np.array([left, low + row * ROW_IN]) * _UP
        block.add_text(line, dxfattribs=_text(layers.BOUNDARY, at, TEXT_IN))
    origin = np.array([marked.placement.x_in, marked.placement.y_in])
    for label in marked.words:
        _label(block, label, origin)
    for line, at, along in _edges(marked, unit):
        turn = math.degrees(math.atan2(-along[1], along[0]))
        block.add_text(line, dxfattribs={**_text(layers.ANNOTATION, at * _UP, TEXT_IN), "rotation": turn})


def _edges(marked: MarkedPiece, unit: Unit) -> Iterator[tuple[str, Array, Array]]:
    """What each edge is, from where it begins on, on the seam line: so it is told where one ends, corner or not."""
    for edge in marked.piece.edges.values():
        folds = " + ".join(Length.of(part, unit).words for part in edge.folds_in)
        allowance = () if edge.kind is Kind.FOLD else (folds,)
        line = layers.said(layers.EDGE, ", ".join((edge.name, edge.kind.value, *allowance)))
        yield line, edge.curve.start, edge.curve.start_tangent


def _label(block: "BlockLayout", label: Label, origin: Array) -> None:
    from ezdxf.enums import TextEntityAlignment

    at = (label.at - origin) * MM_IN_AN_INCH
    turn = math.degrees(math.atan2(label.along[1], label.along[0]))
    text = block.add_text(
        label.text, dxfattribs={**_text(layers.ANNOTATION, at, label.height_in), "rotation": turn}
    )
    text.set_placement(tuple(at), align=TextEntityAlignment.MIDDLE_CENTER)


def _text(layer: str, at_mm: Array, height_in: float) -> dict[str, Any]:
    return {"layer": layer, "insert": tuple(at_mm), "height": height_in * MM_IN_AN_INCH}
