"""Strokes to light on the projector's pixels, without a display.

A tile holds linear light, 0 to 255. OpenCV's anti-aliased line of thickness 1 has its centre right to a few
hundredths of a pixel, thicker ones do not: wider strokes are several thin ones side by side.
"""

from collections.abc import Iterable
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from calibration.frames import Array, Gray
from projector.look import GIVES_WAY, RAMP
from projector.strokes import Drawing, Ends, Patch, Picture, Stroke, split

SHIFT = 6  # coordinates to 1/64 px
THIN_PX = 1.3  # light of one anti-aliased line, mean over angles
UNSEEN_PX = 0.25  # of a line's width
SPACING_PX = 1.0  # thin lines this close together merge without a gap
SOFT_EDGE_PX = 3  # anti-aliasing reaches less than this beyond a stroke's points
SMALL_PX, LARGE_PX = 20.0, 72.0  # heights of letters: below, drawn larger and shrunk; above, as they are
FINEST, FINER = 4, 2
RIM_PX = 2.0
NEAR_LETTERS = np.ones((5, 5), np.uint8)  # as wide as the rim
NEAR_PX = 64.0  # more than there is between two points of a stroke that crosses a word
SHARPEST = 0.35  # cosine of half a corner's turn below which its mitre is cut short

Rgb = npt.NDArray[np.uint8]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rect:
    """Pixels from (left, top) up to but without (right, bottom)."""

    left: int
    top: int
    right: int
    bottom: int

    @property
    def is_empty(self) -> bool:
        """Whether it holds no pixel."""
        return self.right <= self.left or self.bottom <= self.top

    def meet(self, other: "Rect") -> "Rect":
        """What both hold."""
        return Rect(
            left=max(self.left, other.left),
            top=max(self.top, other.top),
            right=min(self.right, other.right),
            bottom=min(self.bottom, other.bottom),
        )

    def join(self, other: "Rect") -> "Rect":
        """The smallest that holds both."""
        if self.is_empty:
            return other
        if other.is_empty:
            return self
        return Rect(
            left=min(self.left, other.left),
            top=min(self.top, other.top),
            right=max(self.right, other.right),
            bottom=max(self.bottom, other.bottom),
        )


NOWHERE = Rect(left=0, top=0, right=0, bottom=0)


def whole(screen_px: tuple[int, int]) -> Rect:
    """All of the screen."""
    return Rect(left=0, top=0, right=screen_px[0], bottom=screen_px[1])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tile:
    """A piece of the screen that is lit: `light` has the shape of `rect`, linear, 0 to 255."""

    rect: Rect
    light: Gray


EMPTY = Tile(rect=NOWHERE, light=np.zeros((0, 0), np.uint8))


def tile(drawing: Drawing, screen_px: tuple[int, int]) -> Tile:
    """The drawing's light, cropped to the screen; the brighter goes on top where two cross."""
    around = _around(drawing)
    seen = around.meet(whole(screen_px))
    if seen.is_empty:
        return EMPTY
    # Drawn whole and cropped after: a line clipped by OpenCV itself is not the same to the last bit.
    light = np.zeros((around.bottom - around.top, around.right - around.left), np.uint8)
    origin = np.array([around.left, around.top])
    _draw_in_order(light, drawing, origin)
    rows = slice(seen.top - around.top, seen.bottom - around.top)
    columns = slice(seen.left - around.left, seen.right - around.left)
    return Tile(rect=seen, light=light[rows, columns])


def _draw_in_order(light: Gray, drawing: Drawing, origin: Array) -> None:
    """Pictures and large letters lie under every line; small ones interrupt lines not cut along."""
    strokes = sorted((part for part in drawing if isinstance(part, Stroke)), key=lambda part: part.light)
    words = sorted((part for part in drawing if isinstance(part, Patch)), key=lambda part: -part.letter_px)
    large = [part for part in words if part.letter_px >= LARGE_PX]
    small = [part for part in words if part.letter_px < LARGE_PX]
    dim = [stroke for stroke in strokes if stroke.light <= GIVES_WAY]
    bright = strokes[len(dim) :]
    around_large, around_small = NOWHERE, NOWHERE
    for part in drawing:
        if isinstance(part, Picture):
            _draw_picture(light, part, origin)
    for patch in large:
        around_large = around_large.join(_draw_large(light, patch, origin))
    _draw_lines(light, dim, around_large, origin)
    for patch in small:
        around_small = around_small.join(_draw_small(light, patch, origin))
    _draw_lines(light, bright, around_large.join(around_small), origin)


def _draw_lines(light: Gray, strokes: list[Stroke], box: Rect, origin: Array) -> None:
    """The strokes, the brighter on top, each with a dark rim where it may run through the words in a box."""
    for stroke in strokes:
        inside = (stroke.points > origin + (box.left - NEAR_PX, box.top - NEAR_PX)) & (
            stroke.points < origin + (box.right + NEAR_PX, box.bottom + NEAR_PX)
        )
        if not box.is_empty and inside.all(axis=1).any():
            _clear_around(light, box, stroke, origin)
    for stroke in strokes:
        _draw_stroke(light, stroke, origin)


def compose(tiles: Iterable[Tile], rect: Rect) -> Gray:
    """Linear light within `rect`: the brightest of the tiles at each pixel."""
    light = np.zeros((rect.bottom - rect.top, rect.right - rect.left), np.uint8)
    for one in tiles:
        shared = one.rect.meet(rect)
        if shared.is_empty:
            continue
        target = _part(light, rect, shared)
        np.maximum(target, _part(one.light, one.rect, shared), out=target)
    return light


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


def _part(light: Gray, rect: Rect, shared: Rect) -> Gray:
    return light[
        shared.top - rect.top : shared.bottom - rect.top, shared.left - rect.left : shared.right - rect.left
    ]


def _around(drawing: Drawing) -> Rect:
    if not drawing:
        return NOWHERE
    points = np.concatenate([part.points for part in drawing])
    widest = max((part.width_px for part in drawing if isinstance(part, Stroke)), default=0.0)
    extra = SOFT_EDGE_PX + widest / 2 / SHARPEST
    left, top = np.floor(points.min(axis=0) - extra).astype(int).tolist()
    right, bottom = np.ceil(points.max(axis=0) + extra).astype(int).tolist()
    return Rect(left=left, top=top, right=right + 1, bottom=bottom + 1)


def _fixed(points: Array) -> npt.NDArray[np.int32]:
    fixed: npt.NDArray[np.int32] = np.rint(points * 2**SHIFT).astype(np.int32)
    return fixed


def _level(light: float) -> int:
    return round(255 * min(max(light, 0.0), 1.0))


def _draw_stroke(light: Gray, stroke: Stroke, origin: Array) -> None:
    points = stroke.points - origin
    spread = max(0.0, stroke.width_px - THIN_PX)
    lines = int(np.ceil(spread / SPACING_PX)) + 1 if spread > UNSEEN_PX else 1
    steps = _mitres(points, stroke.ends) if lines > 1 else np.zeros_like(points)
    for offset in np.linspace(-spread / 2, spread / 2, lines) if lines > 1 else [0.0]:
        paths = split(_fixed(points + offset * steps), stroke.ends)
        cv2.polylines(light, paths, False, _level(stroke.light), 1, cv2.LINE_AA, SHIFT)


def _draw_picture(light: Gray, picture: Picture, origin: Array) -> None:
    left, top = (-origin).tolist()
    height, width = picture.pixels.shape
    part = light[top : top + height, left : left + width]
    np.maximum(part, picture.pixels, out=part)


def _mitres(points: Array, ends: Ends) -> Array:
    """(n, 2) steps that move each point one pixel to the left of its path, longer at corners."""
    along = np.diff(points, axis=0)
    length = np.hypot(along[:, 0], along[:, 1])[:, None]
    along = np.divide(along, length, out=np.zeros_like(along), where=length > 0)
    left = np.column_stack([along[:, 1], -along[:, 0]])
    last = ends - 1
    first = np.concatenate([[0], ends[:-1]])
    before, after = np.vstack([left[:1], left]), np.vstack([left, left[-1:]])
    closed = (points[first] == points[last]).all(axis=1)[:, None]
    before[first] = np.where(closed, before[last], after[first])
    after[last] = np.where(closed, after[first], before[last])
    middle = before + after
    # A mitre has the direction of the sum of both normals and the length 1 / cos(half the turn).
    squared = (middle**2).sum(axis=1, keepdims=True)
    steps: Array = 2 * middle / np.maximum(squared, 4 * SHARPEST**2)
    return steps


def _box(patch: Patch, origin: Array) -> Rect:
    """Pixels of the drawing round the letters, which may lie off its edge."""
    points = patch.points - origin
    left, top = np.maximum(np.floor(points.min(axis=0)).astype(int) - 1, 0).tolist()
    right, bottom = (np.ceil(points.max(axis=0)).astype(int) + 2).tolist()
    return Rect(left=left, top=top, right=right, bottom=bottom)


def _draw_large(light: Gray, patch: Patch, origin: Array) -> Rect:
    """Letters as they are, and the box that they are in."""
    box = _box(patch, origin)
    part = light[box.top : box.bottom, box.left : box.right]
    contours = split(_fixed(patch.points - origin - (box.left, box.top)), patch.ends)
    cv2.fillPoly(part, contours, _level(patch.light), cv2.LINE_AA, SHIFT)
    return box


def _draw_small(light: Gray, patch: Patch, origin: Array) -> Rect:
    """Letters drawn larger and shrunk, with darkness close round them, and the box that they are in.

    OpenCV's smoothed shapes have a rim of half a pixel that would clog them.
    """
    box = _box(patch, origin)
    part = light[box.top : box.bottom, box.left : box.right]
    rows, columns = part.shape
    finer = FINEST if patch.letter_px < SMALL_PX else FINER
    fine = np.zeros((rows * finer, columns * finer), np.uint8)
    # pixel centres are whole numbers at both sizes
    inside = (patch.points - origin - (box.left, box.top) + 0.5) * finer - 0.5
    cv2.fillPoly(fine, split(_fixed(inside), patch.ends), _level(patch.light), cv2.LINE_8, SHIFT)
    letters = cv2.resize(fine, (columns, rows), interpolation=cv2.INTER_AREA)
    if part.any():
        part[cv2.dilate(letters, NEAR_LETTERS) > 0] = 0
    np.maximum(part, letters, out=part)
    return box


def _clear_around(light: Gray, box: Rect, stroke: Stroke, origin: Array) -> None:
    """A dark rim within the box, so that a line stands out where it crosses letters."""
    part = light[box.top : box.bottom, box.left : box.right]
    paths = split(_fixed(stroke.points - origin - (box.left, box.top)), stroke.ends)
    thickness = round(stroke.width_px + 2 * RIM_PX)
    cv2.polylines(part, paths, False, 0, thickness, cv2.LINE_8, SHIFT)
