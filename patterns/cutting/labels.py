"""The words on a piece: where they fit, and which way they are read."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement, both_halves
from patterns.cutting.signs import fold_bracket
from patterns.cutting.word_room import Blocks, Found, Ints, WordRoom

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
TURN_GAIN: Final = 1.6  # slanted words must be so much larger before they are preferred
SIGN_GAIN: Final = 2.0  # and so must words across the seam line or the grainline
TINY_LOSS: Final = 0.2  # of their worth, lines too small to be read: slanted ones that can be are better
PLAIN_IN: Final = 0.6  # words smaller than this are better large across a line than small beside it
FINE_IN: Final = 0.01  # outlines are looked at as closely
_TURNS_DEG: Final = (0, 90, 45, -45, 60, -60, 75, -75, 30, -30)


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

    `small_part` is the height of the smaller lines in parts of the name's.
    """

    middle: Array
    along: Array
    name_in: float
    small_part: float


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
    """The largest words off the piece's strong lines; level ones and ones clear of its faint lines preferred.

    As small as can be read, at a place within the piece, if none fit.
    """
    ways = _ways(letters, level_deg)
    outline, seam = (_outline(line, opened) for line in (piece.cut_line, piece.seam_line))
    faint = [np.concatenate([seam, seam[:1]]), *([] if piece.grain is None else [piece.grain])]
    room = WordRoom(outline, strong=_strong(piece, opened), faint=faint, blocks=ways.blocks)
    found = room.largest(ways.worth)
    size = min(HAND_IN, float(found.sizes[int(ways.are_beside(found))]))
    return _Block(
        middle=found.middle,
        along=ways.blocks.axes[found.way, 0],
        name_in=max(size, SMALLEST_IN),
        small_part=float(ways.small_part[found.way]),
    )


def _outline(line: Array, opened: bool) -> Array:
    """The line as closely as words need it."""
    points = shapely.get_coordinates(shapely.LineString(line).simplify(FINE_IN, preserve_topology=False))
    return both_halves(points) if opened else points


def _strong(piece: DraftedPiece, opened: bool) -> list[Array]:
    """What would blot out words written over it, beside the cut line."""
    strong = list(piece.clips)
    if opened:
        strong += [clip * (-1.0, 1.0) for clip in piece.clips]
    elif piece.fold is not None:
        strong.append(fold_bracket(piece))
    return strong


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Ways:
    """The ways in which words may be laid, with the height (w,) of the smaller lines in parts of the name's."""

    blocks: Blocks
    small_part: Array

    def worth(self, way: Ints, sizes_in: Array) -> Array:
        """(..., m) of names (2, ..., m) so high off the strong lines and off the faint ones too, in ways (m,)."""
        plain, beside = self._plain_worth(way, sizes_in)
        worth: Array = np.maximum(plain, np.where(beside >= PLAIN_IN, SIGN_GAIN * beside, beside))
        return worth

    def are_beside(self, found: Found) -> bool:
        """Whether words that were found are better beside the faint lines than larger across them."""
        way = np.array([found.way])
        ((anywhere,), (beside,)) = self._plain_worth(way, found.sizes[:, None])
        return bool(beside >= PLAIN_IN and SIGN_GAIN * beside >= anywhere)

    def _plain_worth(self, way: Ints, sizes_in: Array) -> Array:
        readable = sizes_in * self.small_part[way] >= SMALLEST_IN
        worth: Array = (
            np.minimum(sizes_in, HAND_IN) * self.blocks.share[way] * np.where(readable, 1.0, TINY_LOSS)
        )
        return worth


@lru_cache(maxsize=256)
def _ways(letters: tuple[int, ...], level_deg: int) -> _Ways:
    """All turns with all heights of the smaller lines, for lines of so many letters."""
    turns_deg, part = (grid.ravel() for grid in np.meshgrid(_TURNS_DEG, SMALL_PARTS, indexing="ij"))
    angle = np.radians(level_deg + turns_deg)
    along = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    width = np.maximum(letters[0], part * max(letters[1:])) * LETTER_PART
    height = (1 + part * (len(letters) - 1)) * LINE_PART
    blocks = Blocks(
        axes=np.stack([along, along[:, ::-1] * (-1.0, 1.0)], axis=1),
        halves_in=np.stack([width, height], axis=1) / 2,
        share=np.minimum(1.0, 2 * part) / np.where(turns_deg == 0, 1.0, TURN_GAIN),
    )
    return _Ways(blocks=blocks, small_part=part)
