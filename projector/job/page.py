"""The page of the job: its steps in rows, the chosen one framed; in projector pixels, since no map may be there yet."""

from dataclasses import dataclass
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


def page_light(page: Page, screen_px: tuple[int, int], *, upside_down: bool) -> Drawing:
    """The title, the rows in three columns set to the left, and what is said below them."""
    width, height = screen_px
    columns = [max(words_width(text) for text in column) for column in _columns(page)]
    title = words_width(page.title) + GAP
    across = max(sum(columns) + 2 * GAP, title + words_width(page.aside), NARROWEST)
    said = [(line, STRIP_LIGHT) for text in page.said for line in wrapped(unbroken(text), across)]
    said += [(line, STRIP_ASIDE_LIGHT) for line in side_by_side(page.besides, across)]
    ways = side_by_side(page.ways, across)
    first_said = len(page.rows) + 2
    lines = first_said + max(len(said) + len(ways), LINES)
    letter = min(
        BIGGEST * LETTER_SHARE * height,
        WIDEST * width / (across + 2 * BESIDE),
        WIDEST * height / (lines * ROW),
    )
    way = -1.0 if upside_down else 1.0
    middle = np.array([width / 2, height / 2])
    left, first = -across / 2, -(lines - 1) / 2 * ROW

    def line(text: str, start: float, number: float, light: float) -> Drawing:
        if not text:
            return ()
        centre = np.array([start + words_width(text) / 2, first + number * ROW]) * letter * way + middle
        return (line_light(text, (float(centre[0]), float(centre[1])), letter, light, upside_down),)

    starts = [left, left + columns[0] + GAP, left + columns[0] + columns[1] + 2 * GAP]
    drawn = line(page.title, left, 0, STRIP_LIGHT) + line(
        page.aside, max(starts[2], left + title), 0, STRIP_ASIDE_LIGHT
    )
    for number, row in enumerate(page.rows):
        for text, start in zip((row.number, row.does, row.state), starts, strict=True):
            drawn += line(text, start, 1.5 + number, row.light)
    for number, (text, light) in enumerate(said):
        drawn += line(text, left, first_said + number, light)
    for number, text in enumerate(ways):
        drawn += line(text, left, lines - len(ways) + number, STRIP_ASIDE_LIGHT)
    corners = _frame(across, first + (1.5 + page.framed) * ROW) * letter * way + middle
    ends = np.array([len(corners)])
    frame = Stroke(
        points=ScreenPixels(corners),
        ends=ends,
        width_px=max(FRAME_PX, FRAME_SHARE * letter),
        light=STRIP_LIGHT,
    )
    return (*drawn, frame)


def _columns(page: Page) -> tuple[list[str], list[str], list[str]]:
    rows = page.rows
    states = [page.aside, *(row.state for row in rows)]
    return [row.number for row in rows], [row.does for row in rows], states


def _frame(across: float, down: float) -> Array:
    """(5, 2) letter heights: a closed frame about a row."""
    right, top, bottom = across / 2 + BESIDE, down - ABOVE, down + BELOW
    return np.array([(-right, top), (right, top), (right, bottom), (-right, bottom), (-right, top)])
