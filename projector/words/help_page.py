"""The keys, shown on the table: beside the piece where there is room for them, else in its place."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.cutting.labels import Label
from projector.bindings import Binding
from projector.lighting.letters import words_width
from projector.lighting.light import words_light
from projector.lighting.lit_area import LitArea
from projector.lighting.look import STRIP_ASIDE_LIGHT, STRIP_HEIGHT_IN, STRIP_LIGHT
from projector.lighting.strokes import Drawing
from projector.person import Person, room_across
from projector.words.free_room import FreeRoom, boxed, room_within
from projector.words.strip import Strip

LETTER_IN: Final = 0.8
SPACING: Final = 1.75
GAP: Final = 2.0  # letter heights between a key and what it does
BETWEEN: Final = 3.0  # and between what it does and the next column's keys
SHARE: Final = 0.86  # of the light, across and away
BESIDE: Final = (0.8, 0.65, 0.5, 0.4)  # heights of letters beside a piece, of the strip's
LEAST_IN: Final = 0.35  # smaller letters are not read standing
MOST_COLUMNS: Final = 4
CLEAR_IN: Final = 0.75  # from the piece and from the strip
EDGE_IN: Final = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """Keys set to the right, `keys` letter heights wide, and what they do beside them."""

    rows: tuple[Binding, ...]
    keys: float
    width: float

    @classmethod
    def of(cls, rows: tuple[Binding, ...]) -> "Column":
        """As wide as its widest words."""
        keys = max(words_width(binding.shown) for binding in rows)
        return cls(
            rows=rows, keys=keys, width=keys + GAP + max(words_width(binding.says) for binding in rows)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class HelpPage:
    """Columns side by side from (left, far end) as the person sees it; `beside` a piece that stays lit."""

    columns: tuple[Column, ...]
    letter_in: float
    left_in: float
    far_in: float
    beside: bool


def lay_help(
    bindings: tuple[Binding, ...],
    lit: LitArea,
    person: Person,
    piece_in: Array,
    strip: Strip,
    text_in: float = STRIP_HEIGHT_IN,
    least: float = BESIDE[-1],
) -> HelpPage:
    """The page clear of the piece, (n, 2) table inches, and of the strip; else in the middle, in the piece's place.

    `text_in` is how high the strip's letters are where they have room; letters less than `least` of that high are
    no use beside the piece.
    """
    piece, border = person.seen(piece_in), person.seen(lit.border_in)
    room = room_within(border, EDGE_IN, [piece, boxed(strip.taken_in)], [], CLEAR_IN)
    middle = float(border[:, 0].min() + border[:, 0].max()) / 2
    for letter_in in dict.fromkeys(max(LEAST_IN, share * text_in) for share in BESIDE if share >= least):
        for count in range(1, MOST_COLUMNS + 1):
            page = _in_room(_in_columns(bindings, count), letter_in, room, middle)
            if page is not None:
                return page
    return _in_the_middle(bindings, lit, person)


def help_light(bindings: tuple[Binding, ...], lit: LitArea, person: Person) -> Drawing:
    """The page in the middle of the light."""
    return page_light(_in_the_middle(bindings, lit, person), lit, person)


def page_light(page: HelpPage, lit: LitArea, person: Person) -> Drawing:
    """The page's words in projector pixels."""
    height, left = page.letter_in, page.left_in
    labels: list[Label] = []
    lights: list[float] = []
    for column in page.columns:
        for number, binding in enumerate(column.rows):
            away = page.far_in - (number * SPACING + 0.5) * height
            keys_middle = left + height * (column.keys - words_width(binding.shown) / 2)
            says_middle = left + height * (column.keys + GAP + words_width(binding.says) / 2)
            for text, across in ((binding.shown, keys_middle), (binding.says, says_middle)):
                at = person.on_table(np.array([[across, away]]))[0]
                labels.append(Label(text=text, at=at, height_in=height, along=person.axes[0]))
            lights += [STRIP_LIGHT, STRIP_ASIDE_LIGHT]
        left += height * (column.width + BETWEEN)
    return words_light(labels, lights, lit)


@lru_cache(maxsize=32)
def _in_columns(bindings: tuple[Binding, ...], count: int) -> tuple[Column, ...]:
    rows = -(-len(bindings) // count)
    return tuple(Column.of(bindings[start : start + rows]) for start in range(0, len(bindings), rows))


def _size(columns: Sequence[Column]) -> tuple[float, float]:
    """Width and height in letter heights."""
    width = sum(column.width for column in columns) + BETWEEN * (len(columns) - 1)
    return width, SPACING * (max(len(column.rows) for column in columns) - 1) + 1


def _in_room(
    columns: tuple[Column, ...], letter_in: float, room: FreeRoom, across_in: float
) -> HelpPage | None:
    width, height = (letters * letter_in for letters in _size(columns))
    place = room.nearest(width, height + SPACING * letter_in, across_in)  # tails need room too
    if place is None:
        return None
    left, near = place
    far = near + height + SPACING * letter_in / 2
    return HelpPage(columns=columns, letter_in=letter_in, left_in=left, far_in=far, beside=True)


@lru_cache(maxsize=32)
def _in_the_middle(bindings: tuple[Binding, ...], lit: LitArea, person: Person) -> HelpPage:
    """One column or more in the middle of the light, in letters as large as it has room for."""
    border = person.seen(lit.border_in)
    low, high = border.min(axis=0), border.max(axis=0)
    inset = (high[1] - low[1]) * (1 - SHARE) / 2
    left, right = room_across(border, low[1] + inset, high[1] - inset) or (float(low[0]), float(high[0]))
    pages: list[HelpPage] = []
    for count in range(1, MOST_COLUMNS + 1):
        columns = _in_columns(bindings, count)
        width, height = _size(columns)
        letter = float(
            min(LETTER_IN, (right - left) * SHARE / width, (high[1] - low[1] - 2 * inset) / height)
        )
        far = float(low[1] + high[1]) / 2 + letter * height / 2
        start = (left + right) / 2 - letter * width / 2
        pages.append(HelpPage(columns=columns, letter_in=letter, left_in=start, far_in=far, beside=False))
    return max(pages, key=lambda page: page.letter_in)
