"""The strip of words at the edge of the light nearest the person, true to size on the table."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.cutting.labels import Label
from projector.lighting.letters import words_width
from projector.lighting.light import words_light
from projector.lighting.lit_area import LitArea
from projector.lighting.look import STRIP_ASIDE_HEIGHT_IN, STRIP_ASIDE_LIGHT, STRIP_HEIGHT_IN, STRIP_LIGHT
from projector.lighting.strokes import Drawing
from projector.person import Person, room_across

BETWEEN: Final = "  ·  "
EDGE_IN: Final = 0.5  # from the end of the light to the words
TAIL: Final = 0.3  # letters such as "p" reach so far below the line
ROW_GAP: Final = 0.6  # of the letters' height
CLEAR_IN: Final = 0.5  # between the words and the piece
SCALES: Final = (1.0, 0.85, 0.7, 0.6, 0.5)
# Where the light narrows towards the person there is more room further in; a corner may be nearest.
SLIDES_IN: Final = ((0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0), (4.0, 6.0, 8.0, 10.0, 12.0, 15.0, 18.0))
SIDE_ROWS: Final = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class StripWords:
    """What must be read first, and the rest below it, dimmer."""

    first: tuple[str, ...]
    aside: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One line of the strip, with its letters' height in inches."""

    text: str
    height_in: float
    light: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """Rows in a box as the person sees it: (left, near, right, far) in inches, right and away."""

    rows: tuple[Row, ...]
    box_in: tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """Where a strip may lie: from which edge, and between which limits across."""

    near: bool
    left: float = -np.inf
    right: float = np.inf
    most_rows: int = 3

    @property
    def is_whole_edge(self) -> bool:
        """Whether nothing but the light bounds it."""
        return bool(np.isinf(self.left) and np.isinf(self.right))


def lay_strip(words: StripWords, lit: LitArea, person: Person, piece_in: Array | None) -> Strip:
    """The strip at the near edge, or at the next place that leaves the piece, (n, 2) table inches, free."""
    piece = None if piece_in is None else _bounds(person.seen(piece_in))
    for place in _places(piece, lit, person):
        strip = _fit(words, lit, person, place)
        if strip is not None and (piece is None or not _overlaps(strip.box_in, piece)):
            return strip
    return _fit(words, lit, person, _Place(near=True, most_rows=SIDE_ROWS)) or _tiny(
        words, person.seen(lit.border_in)
    )


def strip_light(strip: Strip, lit: LitArea, person: Person) -> Drawing:
    """The strip's words in projector pixels."""
    left, _, right, top = strip.box_in
    along = person.axes[0]
    labels: list[Label] = []
    for row in strip.rows:
        middle = np.array([[(left + right) / 2, top - row.height_in / 2]])
        at = person.on_table(middle)[0]
        labels.append(Label(text=row.text, at=at, height_in=row.height_in, along=along))
        top -= row.height_in * (1 + ROW_GAP)
    return words_light(labels, [row.light for row in strip.rows], lit)


def _places(
    piece: tuple[float, float, float, float] | None, lit: LitArea, person: Person
) -> Iterator[_Place]:
    yield _Place(near=True)
    yield _Place(near=False)
    if piece is None:
        return
    left, _, right, _ = piece
    border = person.seen(lit.border_in)
    wider_right = border[:, 0].max() - right > left - border[:, 0].min()
    sides = [(-np.inf, left), (right, np.inf)]
    for start, end in reversed(sides) if wider_right else sides:
        for near in (True, False):
            yield _Place(near=near, left=start, right=end, most_rows=SIDE_ROWS)


@lru_cache(maxsize=64)
def _fit(words: StripWords, lit: LitArea, person: Person, place: _Place) -> Strip | None:
    """The largest letters that fit there, in as few rows as may be."""
    for slides_in in SLIDES_IN:
        for scale in SCALES:
            for slide_in in slides_in:
                strip = _rows_at(words, lit, person, place, scale, EDGE_IN + slide_in)
                if strip is not None:
                    return strip
    return None


def _rows_at(
    words: StripWords, lit: LitArea, person: Person, place: _Place, scale: float, edge_in: float
) -> Strip | None:
    border = _border(lit, person)
    nearest, furthest = float(border[:, 1].min()), float(border[:, 1].max())
    middle = float(border[:, 0].min() + border[:, 0].max()) / 2
    for count in range(1 + bool(words.aside), place.most_rows + 1):
        tallest = count * STRIP_HEIGHT_IN * scale * (1 + ROW_GAP)
        tail = TAIL * STRIP_ASIDE_HEIGHT_IN * scale
        low = nearest + edge_in + tail if place.near else furthest - edge_in - tallest
        room = _room(lit, person, low - tail, low + tallest)
        if room is None:
            continue
        left, right = max(room[0] + EDGE_IN, place.left), min(room[1] - EDGE_IN, place.right)
        if place.is_whole_edge:
            # Where the light's edge is askew, further in but in the middle looks better than to one side.
            half = min(middle - left, right - middle)
            left, right = middle - half, middle + half
        rows = _wrapped(words, right - left, scale)
        if rows is None or len(rows) > count:
            continue
        height = sum(row.height_in for row in rows) + ROW_GAP * sum(row.height_in for row in rows[:-1])
        width = max(words_width(row.text) * row.height_in for row in rows)
        at = min(max(middle, left + width / 2), right - width / 2)
        near = low if place.near else furthest - edge_in - height
        return Strip(rows=rows, box_in=(at - width / 2, near, at + width / 2, near + height))
    return None


@lru_cache(maxsize=8)
def _border(lit: LitArea, person: Person) -> Array:
    return person.seen(lit.border_in)


@lru_cache(maxsize=512)
def _room(lit: LitArea, person: Person, low: float, high: float) -> tuple[float, float] | None:
    """Kept, since the words change far more often than the light."""
    return room_across(_border(lit, person), low, high)


def _wrapped(words: StripWords, width_in: float, scale: float) -> tuple[Row, ...] | None:
    first = _lines(words.first, width_in / (STRIP_HEIGHT_IN * scale))
    aside = _lines(words.aside, width_in / (STRIP_ASIDE_HEIGHT_IN * scale))
    if first is None or aside is None:
        return None
    return (
        *(Row(text=text, height_in=STRIP_HEIGHT_IN * scale, light=STRIP_LIGHT) for text in first),
        *(Row(text=text, height_in=STRIP_ASIDE_HEIGHT_IN * scale, light=STRIP_ASIDE_LIGHT) for text in aside),
    )


def _lines(phrases: Sequence[str], width: float) -> list[str] | None:
    """Phrases in lines not wider than so many letter heights; None if one alone is too wide."""
    lines: list[str] = []
    for phrase in phrases:
        if words_width(phrase) > width:
            return None
        longer = f"{lines[-1]}{BETWEEN}{phrase}" if lines else phrase
        if lines and words_width(longer) <= width:
            lines[-1] = longer
        else:
            lines.append(phrase)
    return lines


def _tiny(words: StripWords, border: Array) -> Strip:
    """For a very small light: everything in one row that is as wide as the light, however small."""
    text = BETWEEN.join((*words.first, *words.aside))
    low, high = border.min(axis=0), border.max(axis=0)
    width = float(high[0] - low[0]) * 0.9
    height = width / words_width(text)
    middle, near = float(low[0] + high[0]) / 2, float(low[1] + 0.1 * (high[1] - low[1]))
    row = Row(text=text, height_in=height, light=STRIP_LIGHT)
    return Strip(rows=(row,), box_in=(middle - width / 2, near, middle + width / 2, near + height))


def _bounds(points: Array) -> tuple[float, float, float, float]:
    across, away = points.T
    return (
        float(across.min()) - CLEAR_IN,
        float(away.min()) - CLEAR_IN,
        float(across.max()) + CLEAR_IN,
        float(away.max()) + CLEAR_IN,
    )


def _overlaps(a: tuple[float, float, float, float], b: tuple[float, float, float, float]) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
