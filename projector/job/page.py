"""The page of the job: its steps in rows, the chosen one framed; in projector pixels, since no map may be there yet."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from calibration.frames import Array, ScreenPixels
from projector.lighting.letters import words_width
from projector.lighting.look import STRIP_ASIDE_LIGHT, STRIP_LIGHT
from projector.lighting.strokes import Drawing, Stroke
from projector.words.messages import LETTER_SHARE, line_light, side_by_side, wrapped
from projector.words.unbroken import unbroken

WIDEST: Final = 0.9  # of the screen's width
ROW: Final = 2.0  # letter heights from row to row
FIRST_ROW: Final = 1.5  # lines below the title
GAP: Final = 1.4  # between columns
ABOVE, BELOW, BESIDE = (
    0.85,
    1.1,
    0.7,
)  # letter heights from a row's middle to its frame: clear of tails and tops
LINES: Final = 7  # kept free below the rows, so that nothing jumps when more or less is said
FRAME_PX: Final = 1.5  # at least, of the frame's line
FRAME_SHARE: Final = 1 / 20  # of a letter's height
NARROWEST: Final = 44.0  # letter heights across, so that sentences below the rows have room
BIGGEST: Final = 1.25  # times the usual letters: read from two steps away


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One step: its number, what it is, what is done of it; dim where it cannot be begun yet."""

    number: str
    does: str
    state: str
    light: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """What is to be read: a title and what stands beside it, the rows with one framed, what is said or asked below
    them, what is said there besides, and the ways on.
    """

    title: str
    aside: str
    rows: tuple[Row, ...]
    framed: int
    said: tuple[str, ...]
    besides: tuple[str, ...]
    ways: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    """A page as it lies on a screen: lengths in letter heights from its middle, right and down as it is read."""

    page: Page
    screen_px: tuple[int, int]
    upside_down: bool
    columns: tuple[float, float, float]
    across: float
    said: tuple[tuple[str, float], ...]
    ways: tuple[str, ...]

    @property
    def lines(self) -> int:
        """From the title to the last of the ways."""
        return self.first_said + max(len(self.said) + len(self.ways), LINES)

    @property
    def first_said(self) -> int:
        """The line below the rows."""
        return len(self.page.rows) + 2

    @property
    def letter_px(self) -> float:
        """So large that all has room."""
        width, height = self.screen_px
        return min(
            BIGGEST * LETTER_SHARE * height,
            WIDEST * width / (self.across + 2 * BESIDE),
            WIDEST * height / (self.lines * ROW),
        )

    def down(self, line: float) -> float:
        """How far down a line is."""
        return (line - (self.lines - 1) / 2) * ROW

    def on_screen(self, at: Array) -> Array:
        """(n, 2) pixels of places of the page."""
        way = -1.0 if self.upside_down else 1.0
        on_screen: Array = at * self.letter_px * way + np.array(self.screen_px) / 2
        return on_screen

    def from_screen(self, at_px: tuple[float, float]) -> tuple[float, float]:
        """Inverse of `on_screen` for one place."""
        way = -1.0 if self.upside_down else 1.0
        right, down = ((np.array(at_px) - np.array(self.screen_px) / 2) * way / self.letter_px).tolist()
        return right, down


def page_light(page: Page, screen_px: tuple[int, int], *, upside_down: bool) -> Drawing:
    """The title, the rows in three columns set to the left, and what is said below them."""
    sheet = _laid(page, screen_px, upside_down)
    letter, columns, left = sheet.letter_px, sheet.columns, -sheet.across / 2

    def line(text: str, start: float, number: float, light: float) -> Drawing:
        if not text:
            return ()
        x, y = sheet.on_screen(np.array([start + words_width(text) / 2, sheet.down(number)])).tolist()
        return (line_light(text, (x, y), letter, light, upside_down),)

    starts = [left, left + columns[0] + GAP, left + columns[0] + columns[1] + 2 * GAP]
    drawn = line(page.title, left, 0, STRIP_LIGHT) + line(
        page.aside, max(starts[2], left + words_width(page.title) + GAP), 0, STRIP_ASIDE_LIGHT
    )
    for number, row in enumerate(page.rows):
        for text, start in zip((row.number, row.does, row.state), starts, strict=True):
            drawn += line(text, start, FIRST_ROW + number, row.light)
    for number, (text, light) in enumerate(sheet.said):
        drawn += line(text, left, sheet.first_said + number, light)
    for number, text in enumerate(sheet.ways):
        drawn += line(text, left, sheet.lines - len(sheet.ways) + number, STRIP_ASIDE_LIGHT)
    corners = sheet.on_screen(_frame(sheet.across, sheet.down(FIRST_ROW + page.framed)))
    ends = np.array([len(corners)])
    frame = Stroke(
        points=ScreenPixels(corners),
        ends=ends,
        width_px=max(FRAME_PX, FRAME_SHARE * letter),
        light=STRIP_LIGHT,
    )
    return (*drawn, frame)


def row_at(
    page: Page, screen_px: tuple[int, int], at_px: tuple[float, float], *, upside_down: bool
) -> int | None:
    """The number of the row at a place of the screen, from 0; None where there is none."""
    sheet = _laid(page, screen_px, upside_down)
    right, down = sheet.from_screen(at_px)
    row = round(down / ROW + (sheet.lines - 1) / 2 - FIRST_ROW)
    return row if abs(right) <= sheet.across / 2 + BESIDE and 0 <= row < len(page.rows) else None


@lru_cache(maxsize=4)
def _laid(page: Page, screen_px: tuple[int, int], upside_down: bool) -> _Sheet:
    columns = [max(words_width(text) for text in column) for column in _columns(page)]
    title = words_width(page.title) + GAP
    across = max(sum(columns) + 2 * GAP, title + words_width(page.aside), NARROWEST)
    said = [(line, STRIP_LIGHT) for text in page.said for line in wrapped(unbroken(text), across)]
    said += [(line, STRIP_ASIDE_LIGHT) for line in side_by_side(page.besides, across)]
    first, second, third = columns
    return _Sheet(
        page=page,
        screen_px=screen_px,
        upside_down=upside_down,
        columns=(first, second, third),
        across=across,
        said=tuple(said),
        ways=tuple(side_by_side(page.ways, across)),
    )


def _columns(page: Page) -> tuple[list[str], list[str], list[str]]:
    rows = page.rows
    states = [page.aside, *(row.state for row in rows)]
    return [row.number for row in rows], [row.does for row in rows], states


def _frame(across: float, down: float) -> Array:
    """(5, 2) letter heights: a closed frame about a row."""
    right, top, bottom = across / 2 + BESIDE, down - ABOVE, down + BELOW
    return np.array([(-right, top), (right, top), (right, bottom), (-right, bottom), (-right, top)])
