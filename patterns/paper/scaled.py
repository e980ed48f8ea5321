"""Something large drawn small on a page: places of the thing itself, line widths and letters of the page."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from patterns.curves import Array
from patterns.cutting.labels import Label
from patterns.paper import svg
from patterns.paper.page import BLACK, WHITE, PageArea, PageItem, PageLines, PageWords

FINE_IN, LINE_IN, STRONG_IN, HEAVY_IN = 0.007, 0.014, 0.021, 0.03
SMALL_IN: Final = 0.085  # letters beside what is drawn
LEAST_IN: Final = 0.055  # letters that can still be read at arm's length
UPRIGHT: Final[Array] = np.array([0.0, 1.0])
LEVEL: Final[Array] = np.array([1.0, 0.0])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Scaled:
    """A drawing at 1/`scale`: the place `origin_in` of the thing comes to `corner_in` of the page, (2,) each."""

    origin_in: Array
    corner_in: Array
    scale: int

    def on_page(self, points_in: Array) -> Array:
        """(n, 2) page inches of (n, 2) inches of the thing."""
        placed: Array = (np.asarray(points_in) - self.origin_in) / self.scale + self.corner_in
        return placed

    def large(self, page_in: float) -> float:
        """What so many inches of the page are of the thing."""
        return page_in * self.scale

    def lines(
        self,
        paths_in: Sequence[Array],
        width_in: float,
        shade: float = BLACK,
        dash_in: tuple[float, ...] = (),
    ) -> PageLines:
        """Paths of the thing, (n, 2) each."""
        paths = [self.on_page(path) for path in paths_in]
        return PageLines(paths=paths, width_in=width_in, shade=shade, dash_in=dash_in)

    def area(self, outline_in: Array, shade: float = WHITE) -> PageArea:
        """The inside of an outline."""
        return PageArea(outline=self.on_page(outline_in), shade=shade)

    def words(self, text: str, at_in: Array, height_in: float = SMALL_IN, along: Array = LEVEL) -> PageWords:
        """Words about a place of the thing, in letters of the page."""
        at = self.on_page(at_in[None])[0]
        return PageWords(label=Label(text=text, at=at, height_in=height_in, along=along))

    def room(self, text: str) -> tuple[float, float]:
        """Length and height of the thing that small words cover."""
        return self.large((len(text) + 1) * svg.LETTER_PART * SMALL_IN), self.large(1.4 * SMALL_IN)

    def on_white(self, text: str, place: shapely.Polygon, along: Array = LEVEL) -> Iterator[PageItem]:
        """Small words in the middle of a place, on white."""
        yield self.area(outline_of(place))
        yield self.words(text, shapely.get_coordinates(place.centroid)[0], along=along)

    def fitted(self, texts: Sequence[str], box: shapely.Polygon) -> Iterator[PageItem]:
        """Lines of words in the middle of a box on white, upright where it is narrow."""
        left, bottom, right, top = box.bounds
        wide, high = (right - left) / self.scale, (top - bottom) / self.scale
        longest = max(len(text) for text in texts) * svg.LETTER_PART
        along = UPRIGHT if wide < longest * SMALL_IN and high > wide else LEVEL
        long, short = (high, wide) if along is UPRIGHT else (wide, high)
        height_in = max(LEAST_IN, min(1.2 * SMALL_IN, long / longest, short / (1.6 * len(texts))))
        down = np.array([along[1], -along[0]]) * self.large(1.6 * height_in)
        middle = np.array([(left + right) / 2, (bottom + top) / 2])
        reach = along * self.large(longest * height_in / 2) + down * len(texts) / 2
        corner, other = middle - reach, middle + reach
        yield self.area(np.array([corner, (corner[0], other[1]), other, (other[0], corner[1])]))
        for row, text in enumerate(texts):
            yield self.words(text, middle + down * (row - (len(texts) - 1) / 2), height_in, along)


def first_free(places: Iterable[shapely.Polygon], free: BaseGeometry) -> shapely.Polygon | None:
    """The first of the places that is all free; None if none is."""
    return next((place for place in places if free.contains(place)), None)


def outline_of(area: shapely.Polygon) -> Array:
    """(n, 2) of a polygon, the last point again the first."""
    return shapely.get_coordinates(area.exterior)


def hatched(area: BaseGeometry, apart_in: float) -> list[Array]:
    """Slanting lines so far apart within the area."""
    if area.is_empty:
        return []
    left, bottom, right, top = area.bounds
    step = apart_in * np.sqrt(2.0)
    starts = np.arange(np.floor((left - top) / step) * step, right - bottom, step)
    slants = shapely.linestrings([[(start + bottom, bottom), (start + top, top)] for start in starts])
    parts = shapely.get_parts(shapely.intersection(slants, area))
    return [shapely.get_coordinates(part) for part in parts if shapely.get_num_coordinates(part) > 1]
