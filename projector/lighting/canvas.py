"""Strokes to light on the projector's pixels, without a display.

A tile holds linear light, 0 to 255. OpenCV's anti-aliased line of thickness 1 has its centre right to a few
hundredths of a pixel, thicker ones do not: wider strokes are several thin ones side by side.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import compress
from math import ceil, floor
from typing import NamedTuple

import cv2
import numpy as np
import numpy.typing as npt

from calibration.frames import Array, Gray
from projector.lighting.look import GIVES_WAY, RAMP
from projector.lighting.strokes import Drawing, Patch, Picture, Plane, Stroke, in_plane, in_rows, split
from projector.lighting.thin_lines import SHARPEST, thin_lines

SHIFT = 6  # coordinates to 1/64 px
SOFT_EDGE_PX = 3  # anti-aliasing reaches less than this beyond a stroke's points
SMALL_PX, LARGE_PX = 20.0, 72.0  # heights of letters: below, drawn larger and shrunk; above, as they are
FINEST, FINER = 4, 2
LETTER_EDGE_PX = 1.0  # what rounding may add round a letter
RIM_PX = 2.0
NEAR_LETTERS = np.ones((5, 5), np.uint8)  # as wide as the rim
NEAR_PX = 64.0  # more than there is between two points of a stroke that crosses a word

Rgb = npt.NDArray[np.uint8]
Paths = list[npt.NDArray[np.int32]]


class Rect(NamedTuple):
    """Pixels from (left, top) up to but without (right, bottom)."""

    left: int
    top: int
    right: int
    bottom: int

    @property
    def is_empty(self) -> bool:
        """Whether it holds no pixel."""
        return self.right <= self.left or self.bottom <= self.top

    @property
    def area(self) -> int:
        """How many pixels it holds."""
        left, top, right, bottom = self
        return (right - left) * (bottom - top) if right > left and bottom > top else 0

    def meets(self, other: "Rect") -> bool:
        """Whether a pixel is in both, neither of them empty."""
        left, top, right, bottom = self
        return left < other[2] and other[0] < right and top < other[3] and other[1] < bottom

    def meet(self, other: "Rect") -> "Rect":
        """What both hold."""
        left, top, right, bottom = self
        return Rect(max(left, other[0]), max(top, other[1]), min(right, other[2]), min(bottom, other[3]))

    def join(self, other: "Rect") -> "Rect":
        """The smallest that holds both."""
        if self.is_empty:
            return other
        if other.is_empty:
            return self
        left, top, right, bottom = self
        return Rect(min(left, other[0]), min(top, other[1]), max(right, other[2]), max(bottom, other[3]))


NOWHERE = Rect(left=0, top=0, right=0, bottom=0)


def whole(screen_px: tuple[int, int]) -> Rect:
    """All of the screen."""
    return Rect(left=0, top=0, right=screen_px[0], bottom=screen_px[1])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tile:
    """A piece of the screen that is lit: `light` has the shape of `rect`, linear, 0 to 255."""

    rect: Rect
    light: Gray

    @classmethod
    def dark(cls, rect: Rect) -> "Tile":
        """No light yet."""
        return cls(rect=rect, light=np.zeros((rect.bottom - rect.top, rect.right - rect.left), np.uint8))

    def within(self, rect: Rect) -> Gray:
        """A view of the light in a part of the tile."""
        left, top = self.rect.left, self.rect.top
        return self.light[rect.top - top : rect.bottom - top, rect.left - left : rect.right - left]


EMPTY = Tile.dark(NOWHERE)


def tile(drawing: Drawing, screen_px: tuple[int, int]) -> Tile:
    """The drawing's light, cropped to the screen; the brighter goes on top where two cross."""
    around = _around(drawing)
    seen = around.meet(whole(screen_px))
    if seen.is_empty:
        return EMPTY
    # Drawn whole and cropped after: a line clipped by OpenCV itself is not the same to the last bit.
    drawn = Tile.dark(around)
    _draw_in_order(drawn, drawing)
    return Tile(rect=seen, light=drawn.within(seen))


def _draw_in_order(onto: Tile, drawing: Drawing) -> None:
    """Pictures and large letters lie under every line; small ones interrupt lines not cut along."""
    strokes = sorted((part for part in drawing if isinstance(part, Stroke)), key=lambda part: part.light)
    words = sorted((part for part in drawing if isinstance(part, Patch)), key=lambda part: -part.letter_px)
    paths = _thin_paths(strokes, onto.rect)
    for part in drawing:
        if isinstance(part, Picture):
            _draw_picture(onto, part)
    if not words:
        _draw_lines(onto, strokes, paths, NOWHERE)
        return
    dim = sum(stroke.light <= GIVES_WAY for stroke in strokes)
    large = sum(patch.letter_px >= LARGE_PX for patch in words)
    around_large, around_small = NOWHERE, NOWHERE
    for patch in words[:large]:
        around_large = around_large.join(_draw_large(onto, patch))
    _draw_lines(onto, strokes[:dim], paths[:dim], around_large)
    for patch in words[large:]:
        around_small = around_small.join(_draw_small(onto, patch))
    _draw_lines(onto, strokes[dim:], paths[dim:], around_large.join(around_small))


def _thin_paths(strokes: Sequence[Stroke], rect: Rect) -> list[Paths]:
    """Of each stroke the paths of its thin lines, as OpenCV takes them in a rect; all reckoned in one go."""
    if not strokes:
        return []
    thin = thin_lines(strokes)
    fixed = _fixed(np.concatenate([lines.ravel() for lines in thin]), rect)
    paths: list[Paths] = []
    begin = 0
    for stroke, lines in zip(strokes, thin, strict=True):
        ends = stroke.ends.tolist()
        spans = list(zip([0, *ends[:-1]], ends, strict=True))
        count, points = lines.shape
        firsts = range(begin, begin + count * points, points)
        paths.append([fixed[first + a : first + b] for first in firsts for a, b in spans])
        begin += count * points
    return paths


def _draw_lines(onto: Tile, strokes: Sequence[Stroke], paths: Sequence[Paths], box: Rect) -> None:
    """Strokes, the brighter on top, each with a dark rim where it runs through the words in a box."""
    for stroke in _near(strokes, box):
        _clear_around(onto, box, stroke)
    for stroke, thin in zip(strokes, paths, strict=True):
        cv2.polylines(onto.light, thin, False, _level(stroke), 1, cv2.LINE_AA, SHIFT)


def _near(strokes: Sequence[Stroke], box: Rect) -> list[Stroke]:
    """The strokes that may run through the box."""
    if box.is_empty or not strokes:
        return []
    x, y = np.concatenate([stroke.points for stroke in strokes]).T
    close = (x > box.left - NEAR_PX) & (x < box.right + NEAR_PX)
    close &= (y > box.top - NEAR_PX) & (y < box.bottom + NEAR_PX)
    starts = np.cumsum([0, *(len(stroke.points) for stroke in strokes[:-1])])
    return list(compress(strokes, np.logical_or.reduceat(close, starts)))


def compose(tiles: Iterable[Tile], rect: Rect) -> Gray:
    """Linear light within `rect`: the brightest of the tiles at each pixel."""
    shared = [(one, one.rect.meet(rect)) for one in tiles if one.rect.meets(rect)]
    under = next((one for one, part in shared if part == rect), None)  # copied sooner than made dark and lit
    composed = Tile.dark(rect) if under is None else Tile(rect=rect, light=under.within(rect).copy())
    for one, part in shared:
        if one is not under:
            target = composed.within(part)
            cv2.max(target, one.within(part), target)  # a third of numpy's time along the rows of a part
    return composed.light


def picture(light: Gray) -> Rgb:
    """(h, w, 3) red, green, blue as sent to the projector."""
    seen: Rgb = RAMP[light]
    return seen


def put(pixels: npt.NDArray[np.uint32], rect: Rect, light: Gray, colours: npt.NDArray[np.uint32]) -> None:
    """Write the light into a display's packed pixels, whose value for each level is in `colours`, (256,)."""
    part = pixels.view(np.int32)[rect.top : rect.bottom, rect.left : rect.right]
    written = cv2.LUT(light, colours.view(np.int32), part)  # a quarter of the time of indexing
    if written is not part:
        part[...] = written


def frame(drawings: Iterable[Drawing], screen_px: tuple[int, int]) -> Rgb:
    """The whole picture that the projector shows."""
    return picture(compose((tile(drawing, screen_px) for drawing in drawings), whole(screen_px)))


def _around(drawing: Drawing) -> Rect:
    if not drawing:
        return NOWHERE
    widest = max((part.width_px for part in drawing if isinstance(part, Stroke)), default=0.0)
    points = drawing[0].points if len(drawing) == 1 else np.concatenate([part.points for part in drawing])
    return _box(points, SOFT_EDGE_PX + widest / 2 / SHARPEST)


def _box(points: Array, extra: float) -> Rect:
    """The pixels from the least to the greatest of the points, and so many more at each side."""
    x, y = points.T  # a column at a time: numpy is slow along rows of two
    return Rect(
        floor(np.minimum.reduce(x) - extra),
        floor(np.minimum.reduce(y) - extra),
        ceil(np.maximum.reduce(x) + extra) + 1,
        ceil(np.maximum.reduce(y) + extra) + 1,
    )


def _fixed(points: Plane, rect: Rect, finer: int = 1) -> npt.NDArray[np.int32]:
    """Points of the screen as OpenCV takes them, in a rect that is drawn so many times larger."""
    scale = finer * 2**SHIFT
    half = (scale - 2**SHIFT) / 2  # pixel centres are whole numbers at both sizes
    origin = complex(rect.left * scale - half, rect.top * scale - half)
    fixed: npt.NDArray[np.int32] = np.rint(in_rows(points * scale - origin)).astype(np.int32)
    return fixed


def _level(part: Stroke | Patch) -> int:
    return min(255, round(255 * part.light * part.gain))


def _draw_picture(onto: Tile, picture: Picture) -> None:
    height, width = picture.pixels.shape
    part = onto.within(whole((width, height)))
    np.maximum(part, picture.pixels, out=part)


def _draw_large(onto: Tile, patch: Patch) -> Rect:
    """Letters as they are, and the box that they are in."""
    box = _box(patch.points, LETTER_EDGE_PX)
    contours = split(_fixed(in_plane(patch.points), box), patch.ends)
    cv2.fillPoly(onto.within(box), contours, _level(patch), cv2.LINE_AA, SHIFT)
    return box


def _draw_small(onto: Tile, patch: Patch) -> Rect:
    """Letters drawn larger and shrunk, with darkness close round them, and the box that they are in.

    OpenCV's smoothed shapes have a rim of half a pixel that would clog them.
    """
    box = _box(patch.points, LETTER_EDGE_PX)
    part = onto.within(box)
    rows, columns = part.shape
    finer = FINEST if patch.letter_px < SMALL_PX else FINER
    fine = np.zeros((rows * finer, columns * finer), np.uint8)
    contours = split(_fixed(in_plane(patch.points), box, finer), patch.ends)
    cv2.fillPoly(fine, contours, _level(patch), cv2.LINE_8, SHIFT)
    letters = cv2.resize(fine, (columns, rows), interpolation=cv2.INTER_AREA)
    cv2.copyTo(letters, cv2.dilate(letters, NEAR_LETTERS), part)
    return box


def _clear_around(onto: Tile, box: Rect, stroke: Stroke) -> None:
    """A dark rim within the box, so that a line stands out where it crosses letters."""
    paths = split(_fixed(in_plane(stroke.points), box), stroke.ends)
    thickness = round(stroke.width_px + 2 * RIM_PX)
    cv2.polylines(onto.within(box), paths, False, 0, thickness, cv2.LINE_8, SHIFT)
