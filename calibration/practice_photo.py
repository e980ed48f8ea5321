"""What the practice camera sees: cloth, paper and ink under the room's light and the projector's."""

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np

from calibration.frames import Array, Gray
from calibration.practice_optics import Eye
from calibration.practice_shading import (
    GAMMA,
    Box,
    Plane,
    bands,
    blurred,
    box_around,
    hard_edge,
    light_of,
    lit_by,
    sampled,
    seen_by,
    shadow_in,
    slope_at,
    weave,
    weave_pixels,
)
from calibration.practice_surface import (
    TABLE_IN,
    Height,
    LaidSheet,
    TableTop,
    floor,
    inside_table_in,
    on_surface,
)

_PAPER_EDGE_PX = 1.4


@dataclass(frozen=True, slots=True, kw_only=True)
class Exposure:
    """How surfaces, lights and sensor are in a photo.

    Light is in units of the projector's white at the table's middle; `exposure` is what white paper there
    comes to of the sensor's full scale, before gamma. Blurs are sigmas in pixels of the camera and of the
    projector; `shot_noise` and `read_noise` are sigmas at full scale and in the dark. `ambient_slope` is the
    change of the room's light towards the right and far edges. Without `jpeg_quality` nothing is compressed.
    """

    cloth: float = 0.8
    weave: float = 0.015
    paper: float = 0.9
    ink: float = 0.05
    floor: float = 0.1
    ambient: float = 0.1
    ambient_slope: tuple[float, float] = (0.0, 0.0)
    black_level: float = 0.001
    falloff: float = 0.25
    projector_blur_px: float = 0.45
    camera_blur_px: float = 0.75
    vignette: float = 0.3
    exposure: float = 0.75
    shot_noise: float = 0.012
    read_noise: float = 0.0015
    jpeg_quality: int | None = 93
    seed: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Shot:
    """One photo about to be taken of a table."""

    projector: Eye
    camera: Eye
    top: TableTop
    sheets: tuple[LaidSheet, ...]
    exposure: Exposure

    def taken(self, frame: Gray, pages: Sequence[Gray], page_ppi: float) -> Gray:
        """The photo, (h, w), of the projected frame and of `pages[number - 1]` for each sheet.

        A page's middle is the middle of its image. ValueError if the frame is not the projector's size.
        """
        if frame.shape != self.projector.size_px[::-1]:
            raise ValueError(f"the frame is {frame.shape}, the projector {self.projector.size_px[::-1]}")
        width, height = self.camera.size_px
        frame_light, margin = self._filtered_frame(frame)
        boxes = list(bands(self.camera.size_px))
        seen = np.empty((boxes[-1].bottom, boxes[-1].right), dtype=np.float32)
        for box in boxes:
            seen[box.cut] = self._table_in(box, frame_light, margin)
        for sheet in self.sheets:
            self._lay(sheet, pages[sheet.number - 1], page_ppi, frame_light, margin, seen)
        return _developed(seen[:height, :width], self.exposure)

    def _filtered_frame(self, frame: Gray) -> tuple[Plane, int]:
        """The frame's light blurred by projector and camera, and the dark margin put round it."""
        slope = slope_at(lambda pixels: self._screen(self._room(pixels, self.top.height)), self._middle())
        look = self.exposure
        spread = look.camera_blur_px**2 * slope @ slope.T + look.projector_blur_px**2 * np.eye(2)
        margin = int(np.ceil(4 * np.sqrt(spread.max()))) + 2
        light = light_of(frame, look.black_level)
        light = np.pad(light, margin)
        return blurred(light, spread), margin

    def _middle(self) -> Array:
        middle: Array = self.camera.pixels_from_room(np.zeros((1, 3)))[0]
        return middle

    def _room(self, pixels: Array, height: Height) -> Array:
        return seen_by(self.camera, pixels, height)

    def _screen(self, room: Array) -> Array:
        return lit_by(self.projector, room)

    def _lights(self, pixels: Array, room: Array) -> tuple[Array, Array]:
        """The room's light and the projector's white at each node, as the vignetted sensor takes them."""
        look = self.exposure
        across = np.clip(room[:, :2] / (np.array(TABLE_IN) / 2), -3, 3)
        ambient = look.ambient * np.clip(1 + across @ np.array(look.ambient_slope), 0.2, 3.0)
        white = 1 - look.falloff * np.clip((across**2).sum(axis=1) / 2, 0, 1.5)
        half = np.hypot(*self.camera.size_px) / 2
        out = ((pixels - np.array(self.camera.size_px) / 2) ** 2).sum(axis=1) / half**2
        gain = look.exposure / look.paper * (1 - look.vignette * out)
        return ambient * gain, white * gain

    def _table_in(self, box: Box, frame_light: Plane, margin: int) -> Plane:
        nodes = box.nodes()
        room = self._room(nodes, self.top.height)
        u, v, x, y, ambient, white, inside = box.spread(
            *(self._screen(room) + margin).T,
            *room[:, :2].T,
            *self._lights(nodes, room),
            inside_table_in(room[:, :2]),
        )
        look = self.exposure
        grain = sampled(weave(), weave_pixels(x), weave_pixels(y), cv2.BORDER_WRAP)
        on_table = look.cloth * (1 + look.weave * grain) * (ambient + white * sampled(frame_light, u, v))
        beside = look.floor * (ambient + white * self._light_on_floor(nodes, box, frame_light, margin))
        return np.asarray(beside + (on_table - beside) * hard_edge(inside), dtype=np.float32)

    def _light_on_floor(self, nodes: Array, box: Box, frame_light: Plane, margin: int) -> Plane:
        room = self._room(nodes, floor)
        u, v, hidden = box.spread(*(self._screen(room) + margin).T, shadow_in(self.projector, room))
        return np.asarray(sampled(frame_light, u, v) * (1 - hard_edge(hidden)))

    def _lay(
        self, sheet: LaidSheet, page: Gray, page_ppi: float, frame_light: Plane, margin: int, seen: Plane
    ) -> None:
        """Paint the sheet over what is seen of the table."""
        half_in = np.array(page.shape[::-1]) / page_ppi / 2
        height = sheet.height(self.top)
        page_corners = half_in * [[-1, -1], [1, -1], [1, 1], [-1, 1]]
        corners = on_surface(sheet.pose.outward(page_corners), height)
        box = box_around(self.camera.pixels_from_room(corners), self.camera.size_px)
        if box is None:
            return
        nodes = box.nodes()
        room = self._room(nodes, height)
        paper_in = sheet.pose.inward(room[:, :2])
        drawn_px = _page_pixels(sheet.print.drawn_from_inked(paper_in), page, page_ppi)
        per_in = 1 / np.sqrt(
            abs(np.linalg.det(slope_at(lambda p: self._room(p, height)[:, :2], nodes.mean(axis=0))))
        )
        inside_px = (half_in - np.abs(paper_in)).min(axis=1) * per_in
        u, v, page_u, page_v, ambient, white, inside = box.spread(
            *(self._screen(room) + margin).T, *drawn_px.T, *self._lights(nodes, room), inside_px
        )
        look = self.exposure
        ink = sampled(self._filtered_page(sheet, page, page_ppi), page_u, page_v, cv2.BORDER_REPLICATE)
        tone = look.ink + (look.paper - look.ink) * ink
        paper = tone * (ambient + white * sampled(frame_light, u, v))
        covered = np.clip(inside / np.float32(_PAPER_EDGE_PX) + 0.5, 0, 1)
        seen[box.cut] += covered * (paper - seen[box.cut])

    def _filtered_page(self, sheet: LaidSheet, page: Gray, page_ppi: float) -> Plane:
        """The page from 0 (ink) to 1, blurred as the camera will see it at the page's centre."""
        height = sheet.height(self.top)
        centre = on_surface(sheet.pose.outward(np.zeros((1, 2))), height)

        def page_pixels(pixels: Array) -> Array:
            return _page_pixels(sheet.pose.inward(self._room(pixels, height)[:, :2]), page, page_ppi)

        slope = slope_at(page_pixels, self.camera.pixels_from_room(centre)[0])
        spread = self.exposure.camera_blur_px**2 * slope @ slope.T
        return blurred(page.astype(np.float32) / np.float32(255), spread)


def _page_pixels(page_in: Array, page: Gray, page_ppi: float) -> Array:
    """(n, 2) inches from the page's centre, y up, to pixels of its image."""
    height, width = page.shape
    pixels: Array = page_in * (page_ppi, -page_ppi) + ((width - 1) / 2, (height - 1) / 2)
    return pixels


def _developed(seen: Plane, exposure: Exposure) -> Gray:
    """Light on the sensor to an 8-bit picture: noise, gamma, rounding, and JPEG if asked for."""
    rng = np.random.default_rng(exposure.seed)
    picture = np.empty(seen.shape, dtype=np.uint8)
    for box in bands(seen.shape[::-1]):
        light = seen[box.cut]
        noise = rng.standard_normal(light.shape, dtype=np.float32)
        variance = np.float32(exposure.read_noise**2) + np.float32(exposure.shot_noise**2) * light
        exposed = np.clip(light + noise * np.sqrt(variance), 0, 1)
        picture[box.cut] = np.rint(np.asarray(cv2.pow(exposed, 1 / GAMMA)) * 255).astype(np.uint8)
    if exposure.jpeg_quality is None:
        return picture
    _, packed = cv2.imencode(".jpg", picture, [cv2.IMWRITE_JPEG_QUALITY, exposure.jpeg_quality])
    return np.asarray(cv2.imdecode(packed, cv2.IMREAD_GRAYSCALE), dtype=np.uint8)
