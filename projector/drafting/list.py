"""The list of changes in words on the table, beside the piece."""

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final, NamedTuple

import numpy as np

from calibration.frames import Array
from projector.drafting.list_rows import ListRow
from projector.drafting.list_window import window
from projector.lighting.lit_area import LitArea
from projector.person import Person, room_across
from projector.words.line import WordsLine
from projector.words.messages import wrapped
from projector.words.strip import CLEAR_IN, EDGE_IN, Strip
from projector.words.unbroken import spaced

HEIGHTS_IN: Final = (0.7, 0.6, 0.5, 0.42, 0.36)  # of the letters: the largest that leave room for all rows
LEGIBLE_IN: Final = 0.5  # from two steps away; a list that is too long for such letters is shown in part
SMALL_PART: Final = 0.8  # height of what is said below a change, in parts of the others'
SPACING: Final = 1.7
GAP: Final = 0.6  # letter heights between one entry and the next
INDENT: Final = 1.2  # letter heights
SLIDES_IN: Final = (0.0, 1.0, 2.0, 4.0)  # where the far edge of the light is askew there is more room nearer
NARROWEST: Final = 12.0  # letter heights in which words can still be read


Box = tuple[float, float, float, float]  # left, near, right, far, in inches as the person sees it


class _Room(NamedTuple):
    """A box as the person sees it, in inches right and away."""

    left: float
    near: float
    right: float
    far: float

    @property
    def width(self) -> float:
        return self.right - self.left


def lay_list(
    rows: tuple[ListRow, ...], lit: LitArea, person: Person, piece_in: Array, strip: Strip
) -> tuple[WordsLine, ...]:
    """The rows beside the piece, (n, 2) table inches, where there is most room; nothing where there is none."""
    seen = person.seen(piece_in)
    piece = (*(seen.min(axis=0) - CLEAR_IN).tolist(), *(seen.max(axis=0) + CLEAR_IN).tolist())
    room = _room(lit, person, _around(piece), _around(strip.box_in))
    return () if room is None else _fitted(rows, room)


@lru_cache(maxsize=64)
def _fitted(rows: tuple[ListRow, ...], room: _Room) -> tuple[WordsLine, ...]:
    """In the largest letters in which all rows fit; where these would be small, a part of the rows in larger ones."""
    heights = [height for height in HEIGHTS_IN if room.width / height >= NARROWEST]
    for height in heights:
        lines = tuple(_lines(rows, height, room))
        if height >= min(LEGIBLE_IN, heights[0]) and _fit(lines, room):
            return lines
    height = min(LEGIBLE_IN, heights[0])
    part = window(rows, lambda some: _fit(tuple(_lines(some, height, room)), room))
    return tuple(_lines(part, height, room))


def _fit(lines: tuple[WordsLine, ...], room: _Room) -> bool:
    return lines[-1].top - lines[-1].height_in >= room.near


def _lines(rows: Sequence[ListRow], height: float, room: _Room) -> Iterator[WordsLine]:
    top = room.far
    for row in rows:
        size = height * SMALL_PART if row.small else height
        top -= 0.0 if row.small else height * GAP
        for number, text in enumerate(wrapped(row.text, room.width / size - INDENT)):
            inset = height * INDENT if row.indented or number else 0.0
            yield WordsLine(spaced(text), size, row.light, left=room.left + inset, top=top)
            top -= size * SPACING


@lru_cache(maxsize=64)
def _room(lit: LitArea, person: Person, piece: Box, strip: Box) -> _Room | None:
    """The largest room beside, before or behind the piece, off the strip; None where words fit in none."""
    border, (left, near, right, far) = person.seen(lit.border_in), piece
    rooms = []
    for slide in SLIDES_IN:
        nearest, farthest = border[:, 1].min() + EDGE_IN, border[:, 1].max() - EDGE_IN - slide
        for start, low, end, high in (
            (-np.inf, nearest, left, farthest),
            (right, nearest, np.inf, farthest),
            (-np.inf, nearest, np.inf, near),
            (-np.inf, far, np.inf, farthest),
        ):
            low, high = _off_strip(low, high, start, end, strip)
            across = room_across(border, low, high) if high > low else None
            if across is not None:
                left_in, right_in = max(start, across[0] + EDGE_IN), min(end, across[1] - EDGE_IN)
                rooms.append(_Room(left=left_in, near=low, right=right_in, far=high))
    wide = [room for room in rooms if room.width >= HEIGHTS_IN[-1] * NARROWEST and room.far > room.near]
    return max(wide, key=lambda room: room.width * (room.far - room.near), default=None)


def _off_strip(near: float, far: float, left: float, right: float, strip: Box) -> tuple[float, float]:
    low, bottom, high, top = strip
    if high < left or low > right:
        return near, far
    strip_is_near = bottom + top < near + far
    return (max(near, top + CLEAR_IN), far) if strip_is_near else (near, min(far, bottom - CLEAR_IN))


def _around(box: Box) -> Box:
    """The box out to whole inches, so that the list does not follow every small change of piece and strip."""
    left, near, right, far = box
    return (math.floor(left), math.floor(near), math.ceil(right), math.ceil(far))
