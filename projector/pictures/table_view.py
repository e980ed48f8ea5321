"""The table from above on a page: the light upright as the person sees it, and what lies there."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from shapely import Polygon

from calibration.frames import Array
from calibration.sheets.sheet import PAPERS, Sheet
from calibration.table.saved import Alignment
from projector.lighting.lit_area import LitArea
from projector.person import Person

WIDTH_PX: Final = 1600
MARGIN_PX: Final = 64
MOST_TABLE_PX: Final = (WIDTH_PX - 2 * MARGIN_PX, 1000)


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """Table inches to page pixels: the table turned so that the person's side is below."""

    person: Person
    px_per_in: float
    left_top_in: tuple[float, float]  # as the person sees it
    left_top_px: tuple[float, float]
    bottom_px: float

    def on_page(self, table_in: Array) -> Array:
        """(n, 2) page pixels of (n, 2) table inches."""
        seen = self.person.seen(table_in) - self.left_top_in
        pixels: Array = seen * (self.px_per_in, -self.px_per_in) + self.left_top_px
        return pixels


def view_of(alignment: Alignment, lit: LitArea, top_px: float) -> View:
    """The light as large as the page allows, below a height of the page."""
    person = Person(facing_deg=alignment.turn_deg)
    seen = person.seen(lit.border_in)
    low, high = seen.min(axis=0), seen.max(axis=0)
    scale = float((np.array(MOST_TABLE_PX) / (high - low)).min())
    width, height = ((high - low) * scale).tolist()
    return View(
        person=person,
        px_per_in=scale,
        left_top_in=(float(low[0]), float(high[1])),
        left_top_px=((WIDTH_PX - width) / 2, top_px),
        bottom_px=top_px + height,
    )


def sheet_outlines_in(alignment: Alignment) -> tuple[Polygon, ...]:
    """The pages of the sheets as they lie on the table, sheet 1 first; none where their paper is not known."""
    paper = PAPERS.get(alignment.paper)
    if paper is None:
        return ()
    corners = Sheet(paper=paper, number=1).outline_in
    return tuple(
        Polygon(Person(facing_deg=turn_deg).on_table(corners) + (x, y))
        for x, y, turn_deg in alignment.sheet_places
    )


def mat_outline_in(mat: tuple[float, float, float]) -> Polygon:
    """The ruled part of a mat, whose near left corner is the table's origin."""
    _, width, height = mat
    return shapely.box(0, 0, width, height)
