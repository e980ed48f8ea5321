"""The strip of words at the edge of the light nearest the person, true to size on the table.

It keeps off the piece: to the far edge, then to wherever there is room, in smaller letters, then saying less. Where the
piece covers all of the light, it still lies clear of the cut line.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import chain, product
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from calibration.frames import Array
from projector.lighting.letters import words_width
from projector.lighting.lit_area import LitArea
from projector.lighting.look import STRIP_HEIGHT_IN, STRIP_LIGHT
from projector.lighting.strokes import Drawing
from projector.person import Person, room_across
from projector.scene import Layer, Scene
from projector.words.free_room import Box, FreeRoom, room_within
from projector.words.line import WordsLine, written
from projector.words.running import DIGIT, filled
from projector.words.strip_rows import ASIDE, BETWEEN, ROW_GAP, Row, StripWords, in_rows, size_in

EDGE_IN: Final = 0.5  # from the end of the light to the words
RIM_IN: Final = 0.25  # from the light's own edge, be it askew or bowed
TAIL: Final = 0.3  # letters such as "p" reach so far below the line
CLEAR_IN: Final = 0.5  # between the words and the piece
SCALES: Final = (1.0, 0.85, 0.7, 0.6, 0.5)
EDGE_SCALES: Final = SCALES[:3]  # rather than that the words jump to the piece's side when they become fewer
SMALLER_SCALES: Final = (0.4, 0.3, 0.2, 0.15)  # of large letters, rather than that they lie on cloth
LEAST_IN: Final = 0.3  # of letters that have to make room
# Where the light narrows towards the person there is more room further in; a corner may be nearest.
SLIDES_IN: Final = ((0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0), (4.0, 6.0, 8.0, 10.0, 12.0, 15.0, 18.0))
EDGE_ROWS: Final = 3
MOST_ROWS: Final = 8
SHARES: Final = (1.0, 0.7, 0.5, 0.35, 0.25, 0.15)  # of the light's width, that words beside a piece may take


@dataclass(frozen=True, kw_only=True)
class Strip:
    """Rows in a box as the person sees it: (left, near, right, far) in inches, right and away."""

    rows: tuple[Row, ...]
    box_in: Box

    @cached_property
    def standing(self) -> tuple[tuple[WordsLine, ...], ...]:
        """Of each row, the words that stand still."""
        return tuple(tuple(part for part in row if DIGIT not in part.text) for row in self._parts)

    @cached_property
    def running(self) -> tuple[WordsLine, ...]:
        """Room for numbers that run, each with what its phrase says after it."""
        return tuple(part for part in chain(*self._parts) if DIGIT in part.text)

    def run(self, numbers: Sequence[str]) -> Iterator[WordsLine]:
        """The same with those numbers in it, and the words after each as near to it as they belong."""
        following = iter(numbers)
        for line in self.running:
            left = line.left
            for part in filled(line.text, following):
                yield line._replace(text=part, left=left)
                left += words_width(part) * line.height_in

    @property
    def taken_in(self) -> Box:
        """The box with the tails of its lowest letters."""
        left, near, right, far = self.box_in
        return (left, near - TAIL * self.rows[-1].height_in, right, far)

    def clear_of(self, points: Array, shape: Callable[[Array], BaseGeometry] = shapely.Polygon) -> bool:
        """Whether it keeps its distance from a shape of points, (n, 2) as the person sees them."""
        left, near, right, far = self.taken_in
        low, high = points.min(axis=0) - CLEAR_IN, points.max(axis=0) + CLEAR_IN
        if right <= low[0] or left >= high[0] or far <= low[1] or near >= high[1]:
            return True
        return bool(shapely.distance(shape(points), shapely.box(*self.taken_in)) >= CLEAR_IN)

    @cached_property
    def _parts(self) -> tuple[tuple[WordsLine, ...], ...]:
        left, _, right, top = self.box_in
        parts = []
        for row in self.rows:
            parts.append(tuple(row.parted((left + right - row.width_in) / 2, top)))
            top -= row.height_in * (1 + ROW_GAP)
        return tuple(parts)


def lay_strip(
    words: StripWords,
    lit: LitArea,
    person: Person,
    piece_in: Array | None,
    text_in: float = STRIP_HEIGHT_IN,
    lines_in: Sequence[Array] = (),
) -> Strip:
    """The strip at the near edge, or at the next place that leaves the piece, (n, 2) table inches, free.

    `text_in` is how high its letters are where they have room. It keeps off `lines_in` too, (n, 2) each, if it can.
    What the numbers that run are now is not said yet.
    """
    words = words.roomy
    strip: Strip | None = None
    lines = [person.seen(line) for line in lines_in]
    if lines:
        areas = [] if piece_in is None else [person.seen(piece_in)]
        strip = _off(areas, lines, words, lit, person, text_in)
    if strip is None and piece_in is None:
        strip = next(_at_edges(words, lit, person, text_in), None)
    if strip is None and piece_in is not None:
        strip = _off_piece(words, lit, person, person.seen(piece_in), text_in)
    return strip or _tiny(words, person.seen(lit.border_in))


def strip_layers(strip: Strip, numbers: Sequence[str], lit: LitArea, person: Person) -> Scene:
    """A layer a row, and one for each number that runs and the words after it, of which often few have changed."""

    def layer(name: str, lines: tuple[WordsLine, ...]) -> Layer:
        return Layer(name=name, key=(lines, person), draw=lambda: written(lines, lit, person))

    rows = (layer(f"strip {number}", lines) for number, lines in enumerate(strip.standing) if lines)
    lines = (layer(f"running {number}", (line,)) for number, line in enumerate(strip.run(numbers)))
    return (*rows, *lines)


def strip_light(strip: Strip, lit: LitArea, person: Person, numbers: Sequence[str] = ()) -> Drawing:
    """The strip's words in projector pixels."""
    return written([*chain(*strip.standing), *strip.run(numbers)], lit, person)


def _at_edges(words: StripWords, lit: LitArea, person: Person, text_in: float) -> Iterator[Strip]:
    """Strips at the near edge where they fit, in smaller and smaller letters, then at the far edge."""
    for near in (True, False):
        for scale in EDGE_SCALES:
            strip = _fit(words, lit, person, text_in * scale, near=near)
            if strip is not None:
                yield strip


def _off_piece(words: StripWords, lit: LitArea, person: Person, piece: Array, text_in: float) -> Strip | None:
    """One of the strips at the edges, or another with room beside the piece; else one that its cut line leaves free.

    `piece` is (n, 2) as the person sees it; a garment begun, with less than three points, is no area yet.
    """
    ring = np.vstack([piece, piece[:1]])
    strip = _off([piece], [], words, lit, person, text_in) if len(piece) > 2 else None
    return strip or _off([], [ring], words, lit, person, text_in)


def _off(
    areas: list[Array], lines: list[Array], words: StripWords, lit: LitArea, person: Person, text_in: float
) -> Strip | None:
    """A strip at an edge, or else wherever there is room, clear of areas and lines as the person sees them."""
    taken = [*((area, shapely.Polygon) for area in areas), *((line, shapely.LineString) for line in lines)]
    for strip in _at_edges(words, lit, person, text_in):
        if all(strip.clear_of(points, shape) for points, shape in taken):
            return strip
    border = _border(lit, person)
    room = room_within(border, EDGE_IN, areas, lines, CLEAR_IN)
    *_, fewest = _fewer(words)
    if _nearest(fewest, room, border, LEAST_IN) is None:
        return None
    for scales in (SCALES, SMALLER_SCALES):
        for fewer, scale in product(_fewer(words), scales):
            beside = _nearest(fewer, room, border, text_in * scale)
            if beside is not None:
                return beside
    return None


def _fewer(words: StripWords) -> Iterator[StripWords]:
    """All the words, fewer of those aside, what must be read first, then that alone which comes first."""
    yield words
    for aside in (3, 1, 0):
        if len(words.aside) > aside:
            yield StripWords(first=words.first, aside=words.aside[:aside])
    if len(words.first) > 1:
        yield StripWords(first=words.first[:1])


def _nearest(words: StripWords, room: FreeRoom, border: Array, text_in: float) -> Strip | None:
    """The strip in letters of that height that lies nearest to the person; None where there is no room."""
    if text_in < LEAST_IN:
        return None
    left, right = float(border[:, 0].min()), float(border[:, 0].max())
    laid: list[Strip] = []
    for share in SHARES:
        rows = in_rows(words, share * (right - left), text_in, MOST_ROWS)
        if rows is None:
            continue
        width, height, tail = *size_in(rows), TAIL * rows[-1].height_in
        place = room.nearest(width, height + tail, (left + right) / 2)
        if place is not None:
            x, y = place
            laid.append(Strip(rows=rows, box_in=(x, y + tail, x + width, y + tail + height)))
    return min(laid, key=lambda strip: strip.box_in[1], default=None)


@lru_cache(maxsize=64)
def _fit(words: StripWords, lit: LitArea, person: Person, text_in: float, *, near: bool) -> Strip | None:
    """The largest letters that fit at the near or the far edge, in as few rows as may be."""
    widest = float(np.ptp(_border(lit, person)[:, 0])) - 2 * EDGE_IN
    for slides_in in SLIDES_IN:
        for scale in SCALES:
            if not in_rows(words, widest, text_in * scale, EDGE_ROWS):
                continue
            for slide_in in slides_in:
                strip = _rows_at(words, lit, person, text_in * scale, EDGE_IN + slide_in, near=near)
                if strip is not None:
                    return strip
    return None


def _rows_at(
    words: StripWords, lit: LitArea, person: Person, text_in: float, edge_in: float, *, near: bool
) -> Strip | None:
    border = _border(lit, person)
    nearest, furthest = float(border[:, 1].min()), float(border[:, 1].max())
    middle = float(border[:, 0].min() + border[:, 0].max()) / 2
    for count in range(1 + bool(words.aside), EDGE_ROWS + 1):
        tallest = count * text_in * (1 + ROW_GAP)
        tail = TAIL * ASIDE * text_in
        low = nearest + edge_in + tail if near else furthest - edge_in - tallest
        room = _room(lit, person, low - tail - RIM_IN, low + tallest + RIM_IN)
        if room is None:
            continue
        # Where the light's edge is askew, further in but in the middle looks better than to one side.
        half = min(middle - room[0], room[1] - middle) - EDGE_IN
        rows = in_rows(words, 2 * half, text_in, count)
        if rows is None:
            continue
        width, height = size_in(rows)
        foot = low if near else furthest - edge_in - height
        return Strip(rows=rows, box_in=(middle - width / 2, foot, middle + width / 2, foot + height))
    return None


@lru_cache(maxsize=8)
def _border(lit: LitArea, person: Person) -> Array:
    return person.seen(lit.border_in)


@lru_cache(maxsize=512)
def _room(lit: LitArea, person: Person, low: float, high: float) -> tuple[float, float] | None:
    """Kept, since the words change far more often than the light."""
    return room_across(_border(lit, person), low, high)


def _tiny(words: StripWords, border: Array) -> Strip:
    """For a very small light: everything in one row that is as wide as the light, however small."""
    text = BETWEEN.join((*words.first, *words.aside))
    low, high = border.min(axis=0), border.max(axis=0)
    width = float(high[0] - low[0]) * 0.9
    height = width / words_width(text)
    middle, near = float(low[0] + high[0]) / 2, float(low[1] + 0.1 * (high[1] - low[1]))
    row = Row(text=text, height_in=height, light=STRIP_LIGHT)
    return Strip(rows=(row,), box_in=(middle - width / 2, near, middle + width / 2, near + height))
