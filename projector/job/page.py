"""The page of the job: its steps in rows, the chosen one framed; in projector pixels, since no map may be there yet."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from calibration.frames import Array, ScreenPixels
from projector.lighting.letters import words_width
from projector.lighting.look import STRIP_ASIDE_LIGHT, STRIP_LIGHT
from projector.lighting.strokes import Drawing, Stroke
from projector.words.messages import LETTER_SHARE, line_light, wrapped

WIDEST: Final = 0.9  # of the screen's width
ROW: Final = 2.0  # letter heights from row to row
GAP: Final = 1.4  # between columns
FRAME: Final = (0.7, 0.85)  # letter heights about the chosen row, across and up
FRAME_PX: Final = 1.5
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
    """What is to be read: a title, the rows with one framed, what is said or asked below them, and the ways on."""

    title: str
    rows: tuple[Row, ...]
    framed: int
    said: tuple[str, ...]
    ways: str


def page_light(page: Page, screen_px: tuple[int, int], *, upside_down: bool) -> Drawing:
    """The title, the rows in three columns set to the left, and what is said below them."""
    width, height = screen_px
    columns = [max(words_width(text) for text in column) for column in _columns(page.rows)]
    across = max(sum(columns) + 2 * GAP, NARROWEST)
    lit = [(text, STRIP_LIGHT) for text in page.said] + [(page.ways, STRIP_ASIDE_LIGHT)]
    below = [(line, light) for text, light in lit for line in wrapped(text, across)]
    lines = len(page.rows) + 2 + len(below)
    letter = min(
        BIGGEST * LETTER_SHARE * height,
        WIDEST * width / (across + 2 * FRAME[0]),
        WIDEST * height / (lines * ROW),
    )
    way = -1.0 if upside_down else 1.0
    middle = np.array([width / 2, height / 2])
    left, first = -across / 2, -(lines - 1) / 2 * ROW

    def line(text: str, start: float, down: float, light: float) -> Drawing:
        if not text:
            return ()
        centre = np.array([start + words_width(text) / 2, down]) * letter * way + middle
        return (line_light(text, (float(centre[0]), float(centre[1])), letter, light, upside_down),)

    drawn = line(page.title, left, first, STRIP_LIGHT)
    for number, row in enumerate(page.rows):
        start, down = left, first + (1.5 + number) * ROW
        for text, column in zip((row.number, row.does, row.state), columns, strict=True):
            drawn += line(text, start, down, row.light)
            start += column + GAP
    for number, (text, light) in enumerate(below):
        drawn += line(text, left, first + (len(page.rows) + 2 + number) * ROW, light)
    corners = _frame(across, first + (1.5 + page.framed) * ROW) * letter * way + middle
    ends = np.array([len(corners)])
    frame = Stroke(points=ScreenPixels(corners), ends=ends, width_px=FRAME_PX, light=STRIP_LIGHT)
    return (*drawn, frame)


def _columns(rows: Sequence[Row]) -> tuple[list[str], list[str], list[str]]:
    return [row.number for row in rows], [row.does for row in rows], [row.state for row in rows]


def _frame(across: float, down: float) -> Array:
    """(5, 2) letter heights: a closed frame about a row."""
    right, up = across / 2 + FRAME[0], FRAME[1]
    return np.array(
        [
            (-right, down - up),
            (right, down - up),
            (right, down + up),
            (-right, down + up),
            (-right, down - up),
        ]
    )
