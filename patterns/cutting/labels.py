"""The words on a piece: where they fit, and which way they are read."""

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final, TypeAlias

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from patterns.curves import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement
from patterns.cutting.signs import fold_bracket

HAND_IN: Final = 4.0  # a hand: the name is read from across the table
SMALLEST_IN: Final = (
    0.25  # seven pixels of a projector that lights 60 in with 1920: the least that can be read
)
SMALL_PARTS: Final = (
    0.4,
    0.65,
)  # height of the smaller lines, in parts of the name's: large and small pieces
LETTER_PART: Final = 0.65  # width of a letter with its space, in parts of its height, on the wide side
LINE_PART: Final = 1.4  # from line to line, in parts of the line's height
CLEAR_IN: Final = 0.15  # between the words and what they must not touch
TURN_GAIN: Final = 1.8  # slanted words must be so much larger before they are preferred
SIGN_GAIN: Final = 2.0  # and so must words across the seam line or the grainline
TINY_LOSS: Final = 0.2  # of their worth, lines too small to be read: slanted ones that can be are better
PLAIN_IN: Final = 0.6  # words smaller than this are better large across a line than small beside it
_TURNS_DEG: Final = (0, 90, 45, -45, 60, -60, 75, -75, 30, -30)
_GRID: Final = 20
_HALVINGS: Final = 7

Room: TypeAlias = BaseGeometry  # one polygon or several


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
    """Room for the words on a piece: middle and reading direction in piece inches, height of the name.

    `small_part` is the height of the smaller lines in parts of the name's; `worth` tells blocks apart.
    """

    middle: Array
    along: Array
    name_in: float
    small_part: float
    worth: float


def labels_of(piece: DraftedPiece, placement: Placement) -> tuple[Label, ...]:
    """The name, then how many to cut, then how the piece lies: half or opened, mirrored if it is.

    Read from left to right by the person on the side of small y, whichever way the piece is turned.
    """
    texts = (piece.name, piece.cut.words, *state_words(piece, placement))
    opened = placement.opened and piece.fold is not None
    block = _block(piece, opened, tuple(len(text) for text in texts), _level_deg(placement))
    along = placement.direction(block.along)
    if along[0] < -1e-9 or (abs(along[0]) <= 1e-9 and along[1] < 0):
        along = -along
    down = np.array([along[1], -along[0]])
    middle = placement.placed(block.middle[None])[0]
    heights = (block.name_in, *(block.name_in * block.small_part,) * (len(texts) - 1))
    labels, used = [], -sum(heights) * LINE_PART / 2
    for text, height in zip(texts, heights, strict=True):
        at = middle + down * (used + height * LINE_PART / 2)
        labels.append(Label(text=text, at=at, height_in=height, along=along))
        used += height * LINE_PART
    return tuple(labels)


def state_words(piece: DraftedPiece, placement: Placement) -> tuple[str, ...]:
    """How the piece lies: "half, on the fold", "opened full" or "whole", and then "mirrored" if it is."""
    half_or_full = "opened full" if placement.opened else "half, on the fold"
    state = "whole" if piece.fold is None else half_or_full
    return (state, "mirrored") if placement.mirrored else (state,)


def _level_deg(placement: Placement) -> int:
    """Which way on the piece is level as it lies: along its x, or for a piece that lies on its side along its y."""
    return 90 if 45 < placement.turn_deg % 180 < 135 else 0


@lru_cache(maxsize=256)
def _block(piece: DraftedPiece, opened: bool, letters: tuple[int, ...], level_deg: int) -> _Block:
    """The largest words off the piece's strong lines; level ones and ones clear of its faint lines preferred."""
    area = _laid(shapely.Polygon(piece.cut_line), opened)
    room = _off(area.boundary, *_strong(piece, opened), room=area)
    beside = _fitted(_off(*_faint(piece, opened), room=room), letters, level_deg)
    if beside.worth >= HAND_IN / SIGN_GAIN:
        return beside
    anywhere = _fitted(room, letters, level_deg)
    plain = beside.worth >= PLAIN_IN and beside.worth * SIGN_GAIN >= anywhere.worth
    return beside if plain else anywhere


def _strong(piece: DraftedPiece, opened: bool) -> list[BaseGeometry]:
    """What would blot out words written over it, beside the cut line."""
    strong = [_laid(shapely.LineString(clip), opened) for clip in piece.clips]
    if piece.fold is not None and not opened:
        strong.append(shapely.LineString(fold_bracket(piece)))
    return strong


def _faint(piece: DraftedPiece, opened: bool) -> list[BaseGeometry]:
    """What gives way to words written over it."""
    faint = [_laid(shapely.Polygon(piece.seam_line), opened).boundary]
    if piece.grain is not None:
        faint.append(shapely.LineString(piece.grain))
    return faint


def _off(*lines: BaseGeometry, room: Room) -> Room:
    return room.difference(shapely.union_all(lines).buffer(CLEAR_IN))


def _laid(half: BaseGeometry, opened: bool) -> BaseGeometry:
    return half.union(affinity.scale(half, xfact=-1.0, origin=(0, 0))) if opened else half


def _fitted(room: Room, letters: tuple[int, ...], level_deg: int) -> _Block:
    """The largest words in the room; as small as can be read, at a place within it, if none fit."""
    level = np.array([math.cos(math.radians(level_deg)), math.sin(math.radians(level_deg))])
    best = _Block(middle=np.zeros(2), along=level, name_in=0.0, small_part=SMALL_PARTS[-1], worth=0.0)
    if room.is_empty:
        return best
    for turn in _TURNS_DEG:
        angle = math.radians(level_deg + turn)
        along = np.array([math.cos(angle), math.sin(angle)])
        axes = np.stack([along, [-along[1], along[0]]])
        turned = affinity.affine_transform(room, [*axes[0], *axes[1], 0.0, 0.0])
        for part in SMALL_PARTS:
            width = max(letters[0], part * max(letters[1:])) * LETTER_PART
            height = (1 + part * (len(letters) - 1)) * LINE_PART
            per_name = min(1.0, 2 * part) / (1.0 if turn == 0 else TURN_GAIN)
            found = _largest(turned, width, height, best.worth / per_name)
            if found is None:
                continue
            middle, size = found
            worth = size * per_name * (1.0 if size * part >= SMALLEST_IN else TINY_LOSS)
            if worth > best.worth:
                best = _Block(middle=middle @ axes, along=along, name_in=size, small_part=part, worth=worth)
        if best.worth >= HAND_IN / TURN_GAIN:
            break
    if best.name_in < SMALLEST_IN:
        inside = room.representative_point()
        return replace(best, middle=np.array([inside.x, inside.y]), name_in=SMALLEST_IN)
    return best


def _largest(room: Room, width: float, height: float, over: float) -> tuple[Array, float] | None:
    """Middle and size of the largest level rectangle, `width` by `height` for size 1, within the room.

    None if there is none larger than `over`.
    """
    low, high = np.array(room.bounds[:2]), np.array(room.bounds[2:])
    too_large = float(min(HAND_IN, *((high - low) / (width, height)))) * (1 + 1e-9)
    if too_large <= over:
        return None
    shapely.prepare(room)
    cells = (np.arange(_GRID) + 0.5) / _GRID
    x, y = (axis.ravel() for axis in np.meshgrid(*(low[:, None] + (high - low)[:, None] * cells)))
    found, fits, size = None, over, max(over * 1.02, too_large / 2**_HALVINGS)
    for _ in range(_HALVINGS):
        half_w, half_h = width * size / 2, height * size / 2
        hits = shapely.contains_properly(room, shapely.box(x - half_w, y - half_h, x + half_w, y + half_h))
        if hits.any():
            x, y = x[hits], y[hits]
            centred = int(np.argmin(np.hypot(x - (low[0] + high[0]) / 2, y - (low[1] + high[1]) / 2)))
            fits, found = size, (np.array([x[centred], y[centred]]), size)
        elif found is None:
            return None
        else:
            too_large = size
        size = (fits + too_large) / 2
    return found
