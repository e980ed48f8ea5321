"""What the practice camera sees of a garment on a table in daylight, in colour.

Cloth's edges and sheets are blurred beforehand, as `shading` has it, so that they stay where they are.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Final

import cv2
import numpy as np
import numpy.typing as npt

from calibration.frames import Array, Gray
from calibration.practice.garment import Board, LaidGarment, Weight
from calibration.practice.shading import (
    GAMMA,
    Box,
    Plane,
    box_around,
    hard_edge,
    sampled,
    seen_by,
    softly_sampled,
    weave,
    weave_pixels,
    whole,
)
from calibration.practice.surface import TABLE_IN, LaidSheet, on_surface
from calibration.practice.table import PracticeTable

Picture = npt.NDArray[np.uint8]

_MASK_PER_IN: Final = 100.0
_MASK_ROOM_IN: Final = 0.5
_SHADOW_PER_IN: Final = 20.0
_SHADOW_ROOM_IN: Final = 3.0
_FINER: Final = 4  # an outline is filled so many times finer, then averaged
_GRAIN_PX: Final = 1024
_GRAIN_PER_IN: Final = np.array([8.0, 60.0])
_SEAM_IN: Final = 0.03
_SEAM_DEPTH: Final = 0.35
_LINE_IN: Final = 0.02
_LINE_LIGHT: Final = 0.35
_SPOT_PER_IN: Final = 30.0
_CREASE_PER_IN: Final = 12.0
_WEIGHT_SHADOW: Final = (0.3, 0.12)  # of the light, inches
_SHEET_EDGE_PX: Final = np.float32(1.4)


def garment_photo(
    table: PracticeTable,
    garments: Sequence[LaidGarment],
    pages: Sequence[Gray],
    page_ppi: float,
    board: Board | None = None,
) -> Picture:
    """(h, w, 3) red, green, blue: table, then sheets, then garments with their weights.

    `pages[number - 1]` is the picture of each sheet, `page_ppi` its pixels per inch.
    """
    width, height = table.camera.size_px
    board = board or Board()
    all_of_it = whole(table.camera.size_px)
    seen = np.empty((all_of_it.bottom, all_of_it.right, 3), dtype=np.float32)
    for box in all_of_it.tiles():
        seen[box.cut] = _board_in(box, table, board)
    for sheet in table.sheets:
        page = pages[sheet.number - 1]
        for box in _boxes(table, sheet.pose.outward(_page_corners(page, page_ppi))):
            _lay_sheet(table, sheet, page, page_ppi, box, seen[box.cut])
    for garment in garments:
        lying = _Lying.of(table, garment)
        for box in _boxes(table, lying.corners_in):
            lying.lay(box, seen[box.cut])
    return _developed(seen[:height, :width], table)


def _boxes(table: PracticeTable, room_xy: Array) -> list[Box]:
    """Boxes of the photo that cover (n, 2) room inches on the table."""
    room = on_surface(room_xy, table.top.height)
    around = box_around(table.camera.pixels_from_room(room), table.camera.size_px)
    return [] if around is None else list(around.tiles())


def _light(table: PracticeTable, pixels: Array, room: Array) -> Array:
    """(n,) daylight at the nodes as the vignetted sensor takes it."""
    look = table.exposure
    across = np.clip(room[:, :2] / (np.array(TABLE_IN) / 2), -3, 3)
    ambient = look.ambient * np.clip(1 + across @ np.array(look.ambient_slope), 0.2, 3.0)
    size = np.array(table.camera.size_px)
    out = ((pixels - size / 2) ** 2).sum(axis=1) / (size @ size / 4)
    gained: Array = ambient * look.exposure / look.paper * (1 - look.vignette * out)
    return gained


def _board_in(box: Box, table: PracticeTable, board: Board) -> Plane:
    nodes = box.nodes()
    room = seen_by(table.camera, nodes, table.top.height)
    x, y, light, inside = box.spread(
        *room[:, :2].T, _light(table, nodes, room), table.top.inside_in(room[:, :2])
    )
    u, v = (np.asarray(plane * np.float32(per)) for plane, per in zip((x, y), _GRAIN_PER_IN, strict=True))
    grain = 1 + np.float32(board.grain) * sampled(_wood(), u, v, cv2.BORDER_WRAP)
    from_seam = (y + np.float32(1.7)) % np.float32(board.seams_in) - np.float32(board.seams_in / 2)
    grain *= 1 - np.float32(_SEAM_DEPTH) * np.exp(-((from_seam / np.float32(_SEAM_IN)) ** 2))
    top = np.asarray(grain * light)[..., None] * np.array(board.tone, dtype=np.float32)
    if board.grid_in:
        on_line = np.maximum(_lines(x, board.grid_in), _lines(y, board.grid_in))
        top += np.asarray(on_line * light)[..., None] * np.float32(_LINE_LIGHT)
    floor = np.asarray(light * np.float32(table.exposure.floor))[..., None]
    return np.asarray(floor + (top - floor) * hard_edge(inside)[..., None], dtype=np.float32)


def _lines(along: Plane, apart_in: float) -> Plane:
    """1 in the middle of lines so far apart, 0 between them."""
    off = (along + np.float32(apart_in / 2)) % np.float32(apart_in) - np.float32(apart_in / 2)
    return np.asarray(np.exp(-((off / np.float32(_LINE_IN)) ** 2)), dtype=np.float32)


def _page_corners(page: Gray, page_ppi: float) -> Array:
    half = np.array(page.shape[::-1]) / page_ppi / 2
    corners: Array = half * [[-1, -1], [1, -1], [1, 1], [-1, 1]]
    return corners


def _lay_sheet(
    table: PracticeTable, sheet: LaidSheet, page: Gray, page_ppi: float, box: Box, seen: Plane
) -> None:
    """Paint the sheet's part in a box, `seen`, over what is there."""
    nodes = box.nodes()
    room = seen_by(table.camera, nodes, sheet.height(table.top))
    paper_in = sheet.pose.inward(room[:, :2])
    px_per_in = 1 / np.sqrt(abs(np.linalg.det(box.slope(paper_in))))
    half = _page_corners(page, page_ppi)[2]
    inside_px = (half - np.abs(paper_in)).min(axis=1) * px_per_in
    light, inside = box.spread(_light(table, nodes, room), inside_px)
    height, width = page.shape
    drawn_px = sheet.print.drawn_from_inked(paper_in) * (page_ppi, -page_ppi)
    drawn_px += ((width - 1) / 2, (height - 1) / 2)
    look = table.exposure
    bare = softly_sampled(page.astype(np.float32), box, drawn_px, look.camera_blur_px, 0.0) / 255
    paper = (look.ink + (look.paper - look.ink) * bare) * light
    cover = np.clip(inside / _SHEET_EDGE_PX + 0.5, 0, 1)
    seen += np.asarray(cover)[..., None] * (np.asarray(paper)[..., None] - seen)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Raster:
    """A plane over room inches: its pixel (0, 0) lies at `low_in`, `per_in` pixels to the inch."""

    plane: Plane
    low_in: Array
    per_in: float

    def pixels(self, room_xy: Array) -> Array:
        """(n, 2) room inches to (n, 2) pixels of the plane."""
        at: Array = (room_xy - self.low_in) * self.per_in
        return at


def _filled(outline_in: Array, per_in: float, room_in: float) -> _Raster:
    """1 inside the closed outline (n, 2), 0 outside, and shares of a pixel on its edge."""
    low = outline_in.min(axis=0) - room_in
    width, height = np.ceil((np.ptp(outline_in, axis=0) + 2 * room_in) * per_in).astype(int).tolist()
    shift = 6
    fine_px = (outline_in - low) * per_in * _FINER + (_FINER - 1) / 2
    ring = np.rint(fine_px * 2**shift).astype(np.int32)
    size = (height * _FINER, width * _FINER)
    inside, outside = np.zeros(size, np.uint8), np.zeros(size, np.uint8)
    corners = np.array([(-8, -8), (size[1] + 8, -8), (size[1] + 8, size[0] + 8), (-8, size[0] + 8)])
    # fillPoly counts what the line touches to the area: half of the sum of both sides leaves that out
    cv2.fillPoly(inside, [ring], 100, cv2.LINE_8, shift)
    cv2.fillPoly(outside, [ring, (corners * 2**shift).astype(np.int32)], 100, cv2.LINE_8, shift)
    both = inside + np.uint8(100) - outside
    plane = cv2.resize(both.astype(np.float32), (width, height), interpolation=cv2.INTER_AREA) / 200
    return _Raster(plane=np.asarray(plane, dtype=np.float32), low_in=low, per_in=per_in)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Lying:
    """A garment's planes, made ready to be sampled."""

    table: PracticeTable
    garment: LaidGarment
    mask: _Raster
    shade: _Raster
    creases: Plane
    weights_in: Array

    @staticmethod
    def of(table: PracticeTable, garment: LaidGarment) -> "_Lying":
        """The planes of a garment, in room inches."""
        outline = table.frame_in_room.outward(garment.outline_in)
        rough = _filled(outline, _SHADOW_PER_IN, _SHADOW_ROOM_IN)
        look = garment.shadow
        blurred = cv2.GaussianBlur(rough.plane, (0, 0), max(look.width_in * _SHADOW_PER_IN, 0.1))
        angle = np.radians(look.towards_deg)
        thrown = look.width_in * np.array([np.cos(angle), np.sin(angle)])
        shade = _Raster(
            plane=np.asarray(1 - look.depth * blurred, dtype=np.float32),
            low_in=rough.low_in + thrown,
            per_in=rough.per_in,
        )
        middles = np.array([weight.at_in for weight in garment.weights]).reshape(-1, 2)
        return _Lying(
            table=table,
            garment=garment,
            mask=_filled(outline, _MASK_PER_IN, _MASK_ROOM_IN),
            shade=shade,
            creases=_waves(0.02, 5),
            weights_in=table.frame_in_room.outward(middles),
        )

    @property
    def corners_in(self) -> Array:
        """(4, 2) room inches of a rectangle round all that belongs to the garment."""
        low = self.shade.low_in
        high = low + np.array(self.shade.plane.shape[::-1]) / self.shade.per_in
        corners: Array = np.array([(low[0], low[1]), (high[0], low[1]), high, (low[0], high[1])])
        return corners

    def lay(self, box: Box, seen: Plane) -> None:
        """Paint shadow, cloth and weights in a box, `seen`, over what is there."""
        nodes = box.nodes()
        room = seen_by(self.table.camera, nodes, self.table.top.height)
        u, v = box.spread(*self.shade.pixels(room[:, :2]).T)
        seen *= sampled(self.shade.plane, u, v, cv2.BORDER_REPLICATE)[..., None]
        blur = self.table.exposure.camera_blur_px
        inside = softly_sampled(self.mask.plane, box, self.mask.pixels(room[:, :2]), blur, 0.0)
        x, y, light = box.spread(*room[:, :2].T, _light(self.table, nodes, room))
        if inside.max() > 0:
            cover = np.asarray(inside * np.float32(self.garment.fabric.cover))[..., None]
            seen += cover * (self._cloth(x, y, light) - seen)
        px_per_in = float(1 / np.sqrt(abs(np.linalg.det(box.slope(room[:, :2])))))
        for weight, middle in zip(self.garment.weights, self.weights_in, strict=True):
            _put(weight, middle, x, y, light, px_per_in, seen)

    def _cloth(self, x: Plane, y: Plane, light: Plane) -> Plane:
        fabric, look = self.garment.fabric, self.table.exposure
        threads = 1 + np.float32(look.weave) * sampled(
            weave(), weave_pixels(x), weave_pixels(y), cv2.BORDER_WRAP
        )
        per_in = np.float32(_CREASE_PER_IN)
        folds = 1 + np.float32(fabric.creases) * sampled(
            self.creases, x * per_in, y * per_in, cv2.BORDER_WRAP
        )
        tone: Plane = np.array(fabric.tone, dtype=np.float32) * np.ones((*x.shape, 1), np.float32)
        if fabric.print_tone is not None:
            per_in = np.float32(_SPOT_PER_IN)
            spots = sampled(_spots(), x * per_in, y * per_in, cv2.BORDER_WRAP)[..., None]
            tone = tone + spots * (np.array(fabric.print_tone, dtype=np.float32) - tone)
        return np.asarray(tone * (threads * folds * light)[..., None], dtype=np.float32)


def _put(
    weight: Weight, middle: Array, x: Plane, y: Plane, light: Plane, px_per_in: float, seen: Plane
) -> None:
    """Paint a weight with its own soft shadow."""
    u, v = x - np.float32(middle[0]), y - np.float32(middle[1])
    inside_in = np.float32(weight.radius_in) - np.hypot(u, v)
    depth, width = _WEIGHT_SHADOW
    seen *= (1 - np.float32(depth / 2) * (1 + np.tanh(inside_in / np.float32(width))))[..., None]
    cover = np.clip(inside_in * np.float32(px_per_in) / _SHEET_EDGE_PX + np.float32(0.5), 0, 1)
    shine = 1 + np.float32(0.25) * (u + v) / np.float32(weight.radius_in)
    tin = np.asarray(shine * light)[..., None] * np.array(weight.tone, dtype=np.float32)
    seen += np.asarray(cover)[..., None] * (tin - seen)


@cache
def _wood() -> Plane:
    """Grain that repeats, of mean 0 and root mean square 1, drawn out along x by `_GRAIN_PER_IN`."""
    return _waves(0.06, 11)


@cache
def _waves(highest: float, seed: int) -> Plane:
    """A square that repeats, of mean 0 and root mean square 1, without waves shorter than 1 / `highest` px."""
    noise = np.random.default_rng(seed).standard_normal((_GRAIN_PX, _GRAIN_PX)).astype(np.float32)
    down, across = np.fft.fftfreq(_GRAIN_PX)[:, None], np.fft.rfftfreq(_GRAIN_PX)[None, :]
    soft = np.fft.irfft2(np.fft.rfft2(noise) * np.exp(-((down**2 + across**2) / highest**2)), s=noise.shape)
    return np.asarray((soft - soft.mean()) / soft.std(), dtype=np.float32)


@cache
def _spots() -> Plane:
    """Where the print's second colour lies: blots of half an inch and more, 1 inside and 0 outside."""
    blots = np.clip(_waves(0.06, 23) * 6 - 2, 0, 1)
    return np.asarray(cv2.GaussianBlur(blots, (0, 0), 0.7), dtype=np.float32)


def _developed(seen: Plane, table: PracticeTable) -> Picture:
    """Light on the sensor to an 8-bit picture: noise, gamma, rounding, and JPEG."""
    look = table.exposure
    rng = np.random.default_rng(look.seed)
    picture = np.empty(seen.shape, dtype=np.uint8)
    for box in whole(seen.shape[1::-1]).tiles():
        light = seen[box.cut]
        noise = rng.standard_normal(light.shape, dtype=np.float32)
        variance = np.float32(look.read_noise**2) + np.float32(look.shot_noise**2) * light
        exposed = np.clip(light + noise * np.sqrt(variance), 0, 1)
        picture[box.cut] = np.rint(np.asarray(cv2.pow(exposed, 1 / GAMMA)) * 255).astype(np.uint8)
    if look.jpeg_quality is None:
        return picture
    _, packed = cv2.imencode(".jpg", picture[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, look.jpeg_quality])
    decoded = cv2.imdecode(packed, cv2.IMREAD_COLOR)
    return np.ascontiguousarray(np.asarray(decoded, dtype=np.uint8)[..., ::-1])
