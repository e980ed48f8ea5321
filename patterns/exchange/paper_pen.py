"""A pen for PDF pages: lines, words and boxes in inches from a page's top left corner, y **up**, so below 0."""

import math
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

import numpy as np

from patterns.curves import Array
from patterns.cutting.labels import Label
from patterns.cutting.marks import Line, LineKind
from patterns.paper.standard_letters import in_standard_letters
from patterns.paper.svg import CAP_PART

if TYPE_CHECKING:
    from fpdf import FPDF

FINE_IN, STRONG_IN = 0.01, 0.02
BLACK, GREY, PALE = "#000000", "#707070", "#d8d8d8"
_POINTS: Final = 72
_DASHES_IN: Final[Mapping[LineKind, tuple[float, ...]]] = MappingProxyType(
    {
        LineKind.SEAM: (0.25, 0.125),
        LineKind.FOLD: (0.75, 0.125, 0.125, 0.125),
        LineKind.CENTRE: (0.75, 0.125, 0.125, 0.125),
    }
)
_STRONG: Final = (LineKind.CUT, LineKind.FOLD, LineKind.NOTCH)


@dataclass(frozen=True, slots=True, eq=False)
class Pen:
    """Draws on the page of `pdf` that is open, which counts in inches; `corner_in` (2,) comes to its top left."""

    pdf: "FPDF"
    corner_in: Array

    def line(self, line: Line) -> None:
        """A line of a piece in the manner of its kind."""
        width = (
            2 * STRONG_IN if line.kind is LineKind.CLIP else STRONG_IN if line.kind in _STRONG else FINE_IN
        )
        self.path(line.points, width, dash_in=_DASHES_IN.get(line.kind, ()), closed=line.closed)

    def path(
        self,
        points: Array,
        width_in: float = FINE_IN,
        *,
        dash_in: tuple[float, ...] = (),
        closed: bool = False,
        colour: str = BLACK,
    ) -> None:
        """A line through (n, 2) points; of dashes, one length and one gap, or two of each."""
        places = self._places(points)
        if len(dash_in) > 2:
            self._dotted(places, width_in, dash_in)
            return
        dash, gap = dash_in or (0.0, 0.0)
        with self.pdf.local_context(line_width=width_in, draw_color=colour):
            self.pdf.set_dash_pattern(dash, gap)
            self.pdf.polyline(places, polygon=closed)
            self.pdf.set_dash_pattern()

    def _dotted(self, places: list[tuple[float, float]], width_in: float, dash_in: tuple[float, ...]) -> None:
        with self.pdf.new_path() as path:
            path.style.fill_color, path.style.stroke_color = None, BLACK
            path.style.stroke_width, path.style.stroke_dash_pattern = width_in, dash_in
            path.style.auto_close = False
            path.move_to(*places[0])
            for place in places[1:]:
                path.line_to(*place)

    def words(self, label: Label, *, colour: str = BLACK) -> None:
        """A label about its place."""
        text = in_standard_letters(label.text)
        self.pdf.set_font("Helvetica", size=label.height_in / CAP_PART * _POINTS)
        self.pdf.set_text_color(colour)
        x, y = self._places(label.at[None])[0]
        with self.pdf.rotation(math.degrees(math.atan2(label.along[1], label.along[0])), x, y):
            self.pdf.text(x - self.pdf.get_string_width(text) / 2, y + label.height_in / 2, text)

    def line_of_words(self, text: str, left_in: float, middle_in: float, height_in: float) -> None:
        """Level words from a place on."""
        text = in_standard_letters(text)
        self.pdf.set_font("Helvetica", size=height_in / CAP_PART * _POINTS)
        self.pdf.set_text_color(BLACK)
        x, y = self._places(np.array([[left_in, middle_in]]))[0]
        self.pdf.text(x, y + height_in / 2, text)

    @contextmanager
    def within(self, low: Array, high: Array) -> Iterator[None]:
        """Only what lies between two corners (2,) is drawn."""
        left, top = self._places(np.array([[low[0], high[1]]]))[0]
        wide, tall = (high - low).tolist()
        with self.pdf.rect_clip(left, top, wide, tall):
            yield

    def _places(self, points: Array) -> list[tuple[float, float]]:
        """Inches from the page's top left corner, y down."""
        on_page = (points - self.corner_in) * (1.0, -1.0)
        return [(float(x), float(y)) for x, y in on_page]
