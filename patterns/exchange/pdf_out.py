"""Drafted pieces as a PDF at true size: on one large page, or over small sheets that are stuck together."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from patterns.curves import Array
from patterns.cutting.labels import Label
from patterns.cutting.marks import LineKind
from patterns.errors import PatternError
from patterns.exchange.marked import GAP_IN, MarkedPiece, Spread, as_string, label_corners, spread
from patterns.exchange.paper_pen import BLACK, GREY, PALE, Pen
from patterns.exchange.svg_out import spread_svg
from patterns.exchange.tiles import MARGIN_IN, OVERLAP_IN, Tile, Tiling, tilings
from patterns.measures import Unit
from patterns.paper.drawing import CHECKS_IN
from patterns.paper.page import level
from patterns.saying import Say

if TYPE_CHECKING:
    from fpdf import FPDF

ATTACHED: Final = "pieces.svg"
LONGEST_PAGE_IN: Final = 200.0  # of a PDF's page (ISO 32000, annex C)
WORDS_IN: Final = 0.12
TITLE_IN: Final = 0.2
NAME_IN: Final = 0.6  # of a sheet's own name
CROSS_IN: Final = 0.2  # from the middle of a cross to its ends
LINE_PART: Final = 2.2  # from line to line of words
_PLANNED: Final = (LineKind.CUT, LineKind.FOLD)
_PLACES: Final = 7  # each way, tried for the square
_NUDGED: Final = 0.1  # inches that the square keeps off the frame


def one_page_pdf(sheet: Spread, unit: Unit) -> bytes:
    """All on one page of its own size, with a square below to check the printer by; PatternError if it is too long."""
    check_in = CHECKS_IN[unit]
    below_in = check_in + 2 * GAP_IN
    size = max(sheet.size_in[0], check_in + 2 * GAP_IN), sheet.size_in[1] + below_in
    if max(size) > LONGEST_PAGE_IN:
        say = Say(unit)
        raise PatternError(
            f"side by side the pieces take {say(size[0])} by {say(size[1])}, and a page of a PDF is at most "
            f"{say(LONGEST_PAGE_IN)} long; name fewer with --piece, or print on sheets with --paper"
        )
    pdf = _new(sheet, unit)
    pen = _page(pdf, size, np.zeros(2))
    _draw(pen, sheet.pieces)
    _square(pen, np.array([GAP_IN, -size[1] + GAP_IN]), check_in, Say(unit))
    return bytes(pdf.output())


def tiled_pdf(name: str, pieces: Sequence[MarkedPiece], paper: str, unit: Unit) -> tuple[bytes, Tiling]:
    """Over as few sheets of so-named paper as can be, a plan of them first; and how they lie."""

    def fewest(sheet: Spread) -> Tiling:
        return min(tilings(sheet, paper), key=lambda one: len(one.tiles))

    tiling = fewest(spread(name, pieces, lambda sheet: len(fewest(sheet).tiles)))
    pdf, say, check_in = _new(tiling.sheet, unit), Say(unit), CHECKS_IN[unit]
    _plan(pdf, tiling, check_in, say)
    for tile in tiling.tiles:
        _tile(pdf, tiling, tile, check_in, say)
    return bytes(pdf.output()), tiling


def _new(sheet: Spread, unit: Unit) -> "FPDF":
    """A PDF without pages that carries the same pieces as a drawing, to be read back with all their names."""
    from fpdf import FPDF  # costs 0.4 s, and only here is it needed

    pdf = FPDF(unit="in")
    pdf.set_title(sheet.name)
    pdf.embed_file(
        bytes=spread_svg(sheet, unit).encode("utf-8"), basename=ATTACHED, mime_type="image/svg+xml"
    )
    pdf.set_auto_page_break(False)
    return pdf


def _page(pdf: "FPDF", size_in: tuple[float, float], corner_in: Array) -> Pen:
    pdf.add_page(format=size_in)
    return Pen(pdf, corner_in)


def _draw(pen: Pen, pieces: Sequence[MarkedPiece], shown: BaseGeometry | None = None) -> None:
    """The pieces, or what of them may be seen in a place."""
    for marked in pieces:
        for line in marked.lines:
            if shown is None or shown.intersects(as_string(line)):
                pen.line(line)
        for label in marked.all_words:
            if shown is None or shown.intersects(shapely.Polygon(label_corners(label))):
                pen.words(label)


def _square(pen: Pen, low: Array, check_in: float, say: Say) -> None:
    """A square to hold a rule against, its lower left corner at `low` (2,)."""
    ring = low + check_in * np.array([[0, 0], [1, 0], [1, 1], [0, 1]])
    pen.path(ring, closed=True)
    for row, text in enumerate((f"{say(check_in)} square:", "measure it")):
        x, y = (low + check_in / 2 + (0.0, (0.5 - row) * LINE_PART * WORDS_IN)).tolist()
        pen.words(level(text, (x, y), WORDS_IN))


def _tile(pdf: "FPDF", tiling: Tiling, tile: Tile, check_in: float, say: Say) -> None:
    wide, high = tiling.frame_in
    corner = np.array([tile.left_in, tile.top_in])
    pen = _page(pdf, tiling.paper_in, corner + (-MARGIN_IN, MARGIN_IN))
    shown = tiling.shown(tile)
    low, far = np.reshape(shown.bounds, (2, 2))
    frame = corner + np.array([[0, 0], [wide, 0], [wide, -high], [0, -high]])
    middle = corner + (wide / 2, -high / 2)
    pen.words(level(tile.name, (float(middle[0]), float(middle[1])), NAME_IN), colour=PALE)
    with pen.within(low, far):
        _draw(pen, tiling.sheet.pieces, shown)
    pen.path(frame, closed=True, colour=GREY)
    for place in frame:
        for arm in (np.array([CROSS_IN, 0.0]), np.array([0.0, CROSS_IN])):
            pen.path(np.stack([place - arm, place + arm]), colour=BLACK)
    rows, columns = tiling.rows_and_columns
    pen.line_of_words(
        f"{tile.name}   {tiling.sheet.name}   row {tile.name.rstrip('0123456789')} of {rows}, "
        f"column {tile.column + 1} of {columns}",
        tile.left_in + 2 * CROSS_IN,
        tile.top_in + MARGIN_IN / 2,
        WORDS_IN,
    )
    _neighbours(pen, tiling, tile, middle)
    _square(pen, _free_place(tiling, tile, check_in), check_in, say)


def _neighbours(pen: Pen, tiling: Tiling, tile: Tile, middle: Array) -> None:
    """On each side where a sheet is stuck on or under, which, in the strip beside the frame."""
    there = {(one.row, one.column): one.name for one in tiling.tiles}
    half, strip = np.array(tiling.frame_in) / 2, OVERLAP_IN / 2
    for row, column, says in (
        (0, 1, "{} goes on here, its left side trimmed"),
        (1, 0, "{} goes on here, its upper side trimmed"),
    ):
        other = there.get((tile.row + row, tile.column + column))
        if other is not None:
            at = middle + (half + strip) * (column, -row)
            along = np.array([0.0, 1.0]) if column else np.array([1.0, 0.0])
            label = level(says.format(other), (float(at[0]), float(at[1])), WORDS_IN)
            pen.words(Label(text=label.text, at=label.at, height_in=WORDS_IN, along=along))


def _free_place(tiling: Tiling, tile: Tile, side_in: float) -> Array:
    """(2,) where within the frame a square of that side covers least of what is drawn: its lower left corner."""
    wide, high = tiling.frame_in
    shown = tiling.shown(tile)
    drawn = shapely.union_all([one for one in _drawn(tiling.sheet.pieces) if one.intersects(shown)])
    across = np.linspace(tile.left_in + _NUDGED, tile.left_in + wide - side_in - _NUDGED, _PLACES)
    down = np.linspace(tile.top_in - high + _NUDGED, tile.top_in - side_in - _NUDGED, _PLACES)
    x, y = (axis.ravel() for axis in np.meshgrid(across, down))
    boxes = shapely.box(x, y, x + side_in, y + side_in)
    best = int(np.argmin(shapely.length(shapely.intersection(boxes, drawn))))
    return np.array([x[best], y[best]])


def _drawn(pieces: Sequence[MarkedPiece]) -> Iterator[BaseGeometry]:
    for marked in pieces:
        yield from map(as_string, marked.lines)
        yield from (shapely.Polygon(label_corners(label)).boundary for label in marked.all_words)


def _plan(pdf: "FPDF", tiling: Tiling, check_in: float, say: Say) -> None:
    """What to do, and a small drawing of all the sheets as they lie."""
    paper_wide, paper_high = tiling.paper_in
    pen = _page(pdf, tiling.paper_in, np.zeros(2))
    down = MARGIN_IN + TITLE_IN
    pen.line_of_words(tiling.sheet.name, MARGIN_IN, -down, TITLE_IN)
    down += TITLE_IN
    for advice in _advice(tiling, check_in, say):
        down += LINE_PART * WORDS_IN
        pen.line_of_words(advice, MARGIN_IN, -down, WORDS_IN)
    down += LINE_PART * WORDS_IN
    low = np.array([paper_wide - MARGIN_IN - check_in, -paper_high + MARGIN_IN])
    _square(pen, low, check_in, say)
    (wide, high), (rows, columns) = tiling.frame_in, tiling.rows_and_columns
    room = np.array([paper_wide - 2 * MARGIN_IN, paper_high - down - check_in - 2 * MARGIN_IN])
    scale = float((room / (columns * wide, rows * high)).min())
    corner = np.array([MARGIN_IN, -down])
    for marked in tiling.sheet.pieces:
        for line in marked.lines:
            if line.kind in _PLANNED:
                pen.path(line.points * scale + corner, closed=line.closed, colour=GREY)
    for tile in tiling.tiles:
        at = np.array([tile.left_in, tile.top_in])
        ring = (at + np.array([[0, 0], [wide, 0], [wide, -high], [0, -high]])) * scale + corner
        pen.path(ring, closed=True)
        x, y = ring.mean(axis=0).tolist()
        pen.words(level(tile.name, (x, y), min(TITLE_IN, high * scale / 3)))


def _advice(tiling: Tiling, check_in: float, say: Say) -> Iterator[str]:
    first = next(iter(tiling.tiles))
    row = [tile.name for tile in tiling.tiles if tile.row == first.row]
    yield f"{len(tiling.tiles)} sheets follow; sheets with nothing on them are left out."
    yield "Print them at full size: 100 %, never fitted to the page."
    yield f"Measure the square on each sheet: {say(check_in)} both ways."
    yield "Trim the left and the upper side of a sheet to its frame where another lies there."
    yield f"Stick each row together from left to right: {', '.join(row)}; the crosses must meet."
    yield "Then stick each row on to the one above it. Cut when all of it lies flat."
