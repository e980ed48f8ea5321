"""A large sheet over many small ones: which part each shows, what it is called, and which are empty."""

import string
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType
from typing import Final

import shapely

from patterns.exchange.marked import Spread, as_string, label_corners

PAPERS_IN: Final[Mapping[str, tuple[float, float]]] = MappingProxyType(
    {"letter": (8.5, 11.0), "a4": (210 / 25.4, 297 / 25.4)}  # ISO 216
)
MARGIN_IN: Final = 0.4  # round a sheet: printers leave about a quarter inch blank (common practice)
OVERLAP_IN: Final = 0.5  # of two sheets, to stick them by


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """One small sheet: row and column from 0, and the place of its frame's top left corner on the large one.

    What it shows begins there and runs on over the frame's right and lower side by OVERLAP_IN.
    """

    row: int
    column: int
    left_in: float
    top_in: float

    @property
    def name(self) -> str:
        """Row letter and column number: "B3".

        >>> Tile(row=27, column=0, left_in=0.0, top_in=0.0).name
        'AB1'
        """
        hundreds, ones = divmod(self.row, len(string.ascii_uppercase))
        first = string.ascii_uppercase[hundreds - 1] if hundreds else ""
        return f"{first}{string.ascii_uppercase[ones]}{self.column + 1}"


@dataclass(frozen=True, kw_only=True, eq=False)
class Tiling:
    """A spread over sheets of `paper_in` (width, height)."""

    sheet: Spread
    paper_in: tuple[float, float]

    @property
    def frame_in(self) -> tuple[float, float]:
        """How far it is from sheet to sheet, across and down."""
        wide, high = (side - 2 * MARGIN_IN - OVERLAP_IN for side in self.paper_in)
        return wide, high

    @property
    def rows_and_columns(self) -> tuple[int, int]:
        """How many of each cover the whole sheet, empty ones counted."""
        (wide, high), (frame_wide, frame_high) = self.sheet.size_in, self.frame_in
        return _needed(high, frame_high), _needed(wide, frame_wide)

    def shown(self, tile: Tile) -> shapely.Polygon:
        """What a tile shows, in the large sheet's inches (y up)."""
        wide, high = self.frame_in
        right, bottom = tile.left_in + wide + OVERLAP_IN, tile.top_in - high - OVERLAP_IN
        return shapely.box(tile.left_in, bottom, right, tile.top_in)

    @cached_property
    def tiles(self) -> tuple[Tile, ...]:
        """Those with a line or words within their frame, row by row."""
        (rows, columns), (wide, high) = self.rows_and_columns, self.frame_in
        drawn: list[shapely.LineString | shapely.Polygon] = []
        for marked in self.sheet.pieces:
            drawn += [as_string(line) for line in marked.lines]
            drawn += [shapely.Polygon(label_corners(label)) for label in marked.all_words]
        tree = shapely.STRtree(drawn)
        every = (
            Tile(row=row, column=column, left_in=column * wide, top_in=-row * high)
            for row in range(rows)
            for column in range(columns)
        )
        return tuple(tile for tile in every if len(tree.query(self._framed(tile), predicate="intersects")))

    def _framed(self, tile: Tile) -> shapely.Polygon:
        wide, high = self.frame_in
        return shapely.box(tile.left_in, tile.top_in - high, tile.left_in + wide, tile.top_in)


def turned(paper_in: tuple[float, float]) -> tuple[float, float]:
    """The paper on its side."""
    return paper_in[1], paper_in[0]


def tilings(sheet: Spread, paper: str) -> Iterator[Tiling]:
    """The sheet over so-named paper, upright and on its side."""
    upright = Tiling(sheet=sheet, paper_in=PAPERS_IN[paper])
    yield upright
    yield replace(upright, paper_in=turned(upright.paper_in))


def _needed(length_in: float, step_in: float) -> int:
    return max(1, -int(-(length_in - OVERLAP_IN) // step_in))
