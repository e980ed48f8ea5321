"""The words on a piece: where they fit, and which way they are read."""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array
from patterns.drafted import DraftedPiece
from patterns.placement import Placement

HAND_IN: Final = 4.0  # a hand: the name is read from across the table
SMALLEST_IN: Final = 0.25
SMALL_PART: Final = 0.4  # height of the smaller lines, in parts of the name's
LETTER_PART: Final = 0.65  # width of a letter with its space, in parts of its height, on the wide side
LINE_PART: Final = 1.4  # from line to line, in parts of the line's height
CLEAR_IN: Final = 0.15  # between the words and the cut line
_TURNS_DEG: Final = (0, 90, 45, -45, 60, -60, 75, -75, 30, -30)
_TURN_GAIN: Final = 1.5  # slanted words must be so much larger before they are preferred
_GRID: Final = 24


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Label:
    """`text` in letters `height_in` high, its middle `at` (2,), read in the unit direction `along` (2,).

    Letters stand upright to the left of `along`: they are never mirror-written.
    """

    text: str
    at: Array
    height_in: float
    along: Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Block:
    """Room for the words on a piece: middle and reading direction in piece inches, height of the name."""

    middle: Array
    along: Array
    name_in: float


def labels_of(piece: DraftedPiece, placement: Placement) -> tuple[Label, ...]:
    """The name, then how many to cut, then how the piece lies: half or opened, mirrored if it is.

    Read from left to right by the person on the side of small y, whichever way the piece is turned.
    """
    texts = (piece.name, piece.cut.words, state_words(piece, placement))
    opened = placement.opened and piece.fold is not None
    block = _block(piece, opened, tuple(len(text) for text in texts))
    along = placement.direction(block.along)
    if along[0] < -1e-9 or (abs(along[0]) <= 1e-9 and along[1] < 0):
        along = -along
    down = np.array([along[1], -along[0]])
    middle = placement.placed(block.middle[None])[0]
    heights = (block.name_in, *(block.name_in * SMALL_PART,) * (len(texts) - 1))
    labels, used = [], -sum(heights) * LINE_PART / 2
    for text, height in zip(texts, heights, strict=True):
        at = middle + down * (used + height * LINE_PART / 2)
        labels.append(Label(text=text, at=at, height_in=height, along=along))
        used += height * LINE_PART
    return tuple(labels)


def state_words(piece: DraftedPiece, placement: Placement) -> str:
    """How the piece lies: "half, on the fold", "opened full" or "whole", and "mirrored" if it is."""
    half_or_full = "opened full" if placement.opened else "half, on the fold"
    state = "whole" if piece.fold is None else half_or_full
    return f"{state}, mirrored" if placement.mirrored else state


@lru_cache(maxsize=256)
def _block(piece: DraftedPiece, opened: bool, letters: tuple[int, ...]) -> _Block:
    """The largest words that fit within the cut line, level ones preferred."""
    outline = piece.cut_line
    if opened:
        outline = np.concatenate([outline, outline[-2:0:-1] * (-1.0, 1.0)])
    width = max(letters[0], SMALL_PART * max(letters[1:])) * LETTER_PART
    height = (1 + SMALL_PART * (len(letters) - 1)) * LINE_PART
    best, best_worth = None, 0.0
    for turn in _TURNS_DEG:
        along = np.array([math.cos(math.radians(turn)), math.sin(math.radians(turn))])
        turned = outline @ np.stack([along, [-along[1], along[0]]], axis=1)
        middle, size = _largest(turned, width, height)
        worth = size if turn == 0 else size / _TURN_GAIN
        if worth > best_worth:
            place = middle @ np.stack([along, [-along[1], along[0]]])
            best, best_worth = _Block(middle=place, along=along, name_in=size), worth
    if best is None:
        inside = shapely.Polygon(outline).representative_point()
        best = _Block(middle=np.array([inside.x, inside.y]), along=np.array([1.0, 0.0]), name_in=SMALLEST_IN)
    return best


def _largest(outline: Array, width: float, height: float) -> tuple[Array, float]:
    """Middle and size of the largest level rectangle, `width` by `height` for size 1, within the outline."""
    room = shapely.Polygon(outline).buffer(-CLEAR_IN)
    if room.is_empty:
        return outline.mean(axis=0), 0.0
    shapely.prepare(room)
    low, high = outline.min(axis=0), outline.max(axis=0)
    cells = (np.arange(_GRID) + 0.5) / _GRID
    x, y = (axis.ravel() for axis in np.meshgrid(*(low[:, None] + (high - low)[:, None] * cells)))
    inside = shapely.contains_xy(room, x, y)
    x, y = x[inside], y[inside]
    fits, too_large = 0.0, min(HAND_IN, *((high - low) / (width, height)))
    middle = outline.mean(axis=0)
    if not len(x):
        return middle, 0.0
    size = too_large
    for _ in range(8):
        half_w, half_h = width * size / 2, height * size / 2
        hits = shapely.contains_properly(room, shapely.box(x - half_w, y - half_h, x + half_w, y + half_h))
        if hits.any():
            centred = np.hypot(x[hits] - (low[0] + high[0]) / 2, y[hits] - (low[1] + high[1]) / 2)
            chosen = np.flatnonzero(hits)[int(np.argmin(centred))]
            fits, middle = size, np.array([x[chosen], y[chosen]])
        else:
            too_large = size
        if fits == min(HAND_IN, too_large):
            break
        size = (fits + too_large) / 2
    return middle, fits
