"""What the practice camera sees: cloth, paper and ink under the room's light and the projector's."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import cv2
import numpy as np

from calibration.frames import Array, Gray
from calibration.practice.optics import Eye
from calibration.practice.shading import (
    GAMMA,
    Box,
    Plane,
    box_around,
    hard_edge,
    light_of,
    lit_by,
    sampled,
    seen_by,
    shadow_in,
    softly_sampled,
    weave,
    weave_pixels,
    whole,
)
from calibration.practice.surface import (
    TABLE_IN,
    LaidSheet,
    TableTop,
    floor,
    on_surface,
)

_PAPER_EDGE_PX = np.float32(1.4)
_WELL_INSIDE_IN = 0.2
_DARK_PX = 64  # dark put round the frame, wider than any blur of it


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
        light = np.pad(light_of(frame, self.exposure.black_level), _DARK_PX)
        all_of_it = whole(self.camera.size_px)
        seen = np.empty((all_of_it.bottom, all_of_it.right), dtype=np.float32)
        for box in all_of_it.tiles():
            seen[box.cut] = self._table_in(box, light)
        for sheet in self.sheets:
            page = pages[sheet.number - 1]
            for box in self._boxes_of(sheet, page, page_ppi):
                self._lay(sheet, page, page_ppi, light, box, seen)
        return _developed(seen[:height, :width], self.exposure)

    def _projected(self, box: Box, room: Array, light: Plane) -> Plane:
        """The frame's light in a box at whose nodes (n, 3) points of the room are seen."""
        screen = lit_by(self.projector, room) + _DARK_PX
        look = self.exposure
        return softly_sampled(light, box, screen, look.camera_blur_px, look.projector_blur_px)

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

    def _table_in(self, box: Box, light: Plane) -> Plane:
        nodes = box.nodes()
        room = seen_by(self.camera, nodes, self.top.height)
        x, y, ambient, white, inside = box.spread(
            *room[:, :2].T, *self._lights(nodes, room), self.top.inside_in(room[:, :2])
        )
        look = self.exposure
        grain = sampled(weave(), weave_pixels(x), weave_pixels(y), cv2.BORDER_WRAP)
        cloth = look.cloth * (1 + look.weave * grain)
        on_table = cloth * (ambient + white * self._projected(box, room, light))
        if inside.min() > _WELL_INSIDE_IN:
            return np.asarray(on_table, dtype=np.float32)
        beside = look.floor * (ambient + white * self._projected_on_floor(box, light))
        return np.asarray(beside + (on_table - beside) * hard_edge(inside), dtype=np.float32)

    def _projected_on_floor(self, box: Box, light: Plane) -> Plane:
        room = seen_by(self.camera, box.nodes(), floor)
        (hidden,) = box.spread(shadow_in(self.projector, self.top, room))
        return np.asarray(self._projected(box, room, light) * (1 - hard_edge(hidden)))

    def _boxes_of(self, sheet: LaidSheet, page: Gray, page_ppi: float) -> Iterator[Box]:
        """Boxes of the photo that cover a sheet."""
        corners = _half_in(page, page_ppi) * [[-1, -1], [1, -1], [1, 1], [-1, 1]]
        room = on_surface(sheet.pose.outward(corners), sheet.height(self.top))
        around = box_around(self.camera.pixels_from_room(room), self.camera.size_px)
        return iter(()) if around is None else around.tiles()

    def _lay(
        self, sheet: LaidSheet, page: Gray, page_ppi: float, light: Plane, box: Box, seen: Plane
    ) -> None:
        """Paint the sheet's part in a box over what is seen of the table."""
        nodes = box.nodes()
        room = seen_by(self.camera, nodes, sheet.height(self.top))
        paper_in = sheet.pose.inward(room[:, :2])
        px_per_in = 1 / np.sqrt(abs(np.linalg.det(box.slope(paper_in))))
        inside_px = (_half_in(page, page_ppi) - np.abs(paper_in)).min(axis=1) * px_per_in
        ambient, white, inside = box.spread(*self._lights(nodes, room), inside_px)
        look = self.exposure
        height, width = page.shape
        drawn_px = sheet.print.drawn_from_inked(paper_in) * (page_ppi, -page_ppi)
        drawn_px += ((width - 1) / 2, (height - 1) / 2)
        bare = softly_sampled(page.astype(np.float32), box, drawn_px, look.camera_blur_px, 0.0) / 255
        paper = (look.ink + (look.paper - look.ink) * bare) * (
            ambient + white * self._projected(box, room, light)
        )
        seen[box.cut] += np.clip(inside / _PAPER_EDGE_PX + 0.5, 0, 1) * (paper - seen[box.cut])


def _half_in(page: Gray, page_ppi: float) -> Array:
    """Half the page's width and height in inches."""
    return np.array(page.shape[::-1]) / page_ppi / 2


def _developed(seen: Plane, exposure: Exposure) -> Gray:
    """Light on the sensor to an 8-bit picture: noise, gamma, rounding, and JPEG if asked for."""
    rng = np.random.default_rng(exposure.seed)
    picture = np.empty(seen.shape, dtype=np.uint8)
    for box in whole(seen.shape[::-1]).tiles():
        light = seen[box.cut]
        noise = rng.standard_normal(light.shape, dtype=np.float32)
        variance = np.float32(exposure.read_noise**2) + np.float32(exposure.shot_noise**2) * light
        exposed = np.clip(light + noise * np.sqrt(variance), 0, 1)
        picture[box.cut] = np.rint(np.asarray(cv2.pow(exposed, 1 / GAMMA)) * 255).astype(np.uint8)
    if exposure.jpeg_quality is None:
        return picture
    _, packed = cv2.imencode(".jpg", picture, [cv2.IMWRITE_JPEG_QUALITY, exposure.jpeg_quality])
    return np.asarray(cv2.imdecode(packed, cv2.IMREAD_GRAYSCALE), dtype=np.uint8)
