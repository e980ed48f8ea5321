"""A small stand-in for a table under a projector, to make photos whose truth is known.

The world is flat. Each pixel of the photo is the mean of a few rays, each of which is looked up on the page
or the table that it meets and on the projected frame that lights it.
"""

from dataclasses import dataclass, replace

import cv2
import numpy as np

from calibration.frames import Array, CameraPixels, Gray, ScreenPixels, SheetInches, TableInches
from calibration.lens import Lens
from calibration.projector_map import project
from calibration.sheet import PAPERS, Paper, Sheet
from calibration.targets import Targets

_PAGE_PIXELS_PER_INCH = 150.0
_PAGE_REACH_IN = 7.5  # from the centre of a page to beyond its corners


def camera_over_table(
    photo_px: tuple[int, int], *, lean_deg: float = 25.0, turn_deg: float = 10.0, away_in: float = 75.0
) -> Array:
    """Homography from table inches (y up) to pixels, of a camera that leans back and looks at the middle."""
    lean, turn = np.radians([lean_deg, turn_deg])
    spin = np.array([[np.cos(turn), -np.sin(turn), 0], [np.sin(turn), np.cos(turn), 0], [0, 0, 1]])
    tip = np.array([[1, 0, 0], [0, np.cos(lean), -np.sin(lean)], [0, np.sin(lean), np.cos(lean)]])
    pose = np.diag([1.0, -1.0, -1.0]) @ tip @ spin  # a camera looks along its own z, v runs down
    flat = np.column_stack([pose[:, :2], [0, 0, away_in]])
    focal = photo_px[0] * away_in / 78.0  # 78 in of table across the photo
    lens = np.array([[focal, 0, (photo_px[0] - 1) / 2], [0, focal, (photo_px[1] - 1) / 2], [0, 0, 1]])
    homography: Array = lens @ flat
    return homography


@dataclass(frozen=True, kw_only=True)
class LaidSheet:
    """A sheet on the table: where its page's centre lies and how far it is turned counter-clockwise."""

    sheet: Sheet
    x_in: float
    y_in: float
    turn_deg: float = 0.0

    def table_from_sheet(self, points_in: Array) -> TableInches:
        return TableInches(points_in @ self._spin.T + [self.x_in, self.y_in])

    def sheet_from_table(self, points_in: Array) -> SheetInches:
        return SheetInches((points_in - [self.x_in, self.y_in]) @ self._spin)

    @property
    def _spin(self) -> Array:
        turn = np.radians(self.turn_deg)
        return np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])


@dataclass(frozen=True, kw_only=True)
class Scene:
    """Table, light and camera; `frame` is what the projector shows."""

    photo_px: tuple[int, int]
    camera_from_table: Array
    camera_lens: Lens
    screen_from_table: Array
    screen_lens: Lens
    frame: Gray
    laid: tuple[LaidSheet, ...]
    room_light: float = 0.25
    table_white: float = 0.6
    light: float = 150.0
    hidden: tuple[Array, ...] = ()  # polygons in camera pixels, covered by something grey

    def camera_from_sheet(self, laid: LaidSheet, points_in: Array) -> CameraPixels:
        table = laid.table_from_sheet(points_in)
        return CameraPixels(self.camera_lens.bend(project(self.camera_from_table, table)))

    def camera_from_screen(self, points_px: ScreenPixels) -> CameraPixels:
        table = project(_inverse(self.screen_from_table), self.screen_lens.unbend(points_px))
        return CameraPixels(self.camera_lens.bend(project(self.camera_from_table, table)))

    def photo(
        self, *, blur_px: float = 0.7, noise: float = 2.0, rays: int = 2, seed: int = 0, gain: float = 1.0
    ) -> Gray:
        """The photo as grey values; `rays` by `rays` of them a pixel, `noise` in grey levels."""
        width, height = self.photo_px
        image = np.empty((height, width), dtype=np.float32)
        pages = [laid.sheet.page(_PAGE_PIXELS_PER_INCH) for laid in self.laid]
        for top in range(0, height, 64):
            rows = min(64, height - top)
            image[top : top + rows] = self._strip(top, rows, rays, pages)
        for polygon in self.hidden:
            cv2.fillPoly(image, [np.rint(polygon).astype(np.int32)], 70.0)
        blurred = np.asarray(cv2.GaussianBlur(image, (0, 0), blur_px), dtype=np.float64)
        noisy = blurred * gain + np.random.default_rng(seed).normal(0, noise, blurred.shape)
        photo: Gray = np.rint(noisy).clip(0, 255).astype(np.uint8)
        return photo

    def _strip(self, top: int, rows: int, rays: int, pages: list[Gray]) -> Array:
        width = self.photo_px[0]
        step = (np.arange(rays) + 0.5) / rays - 0.5
        u = (np.arange(width)[:, None] + step).ravel()
        v = (np.arange(top, top + rows)[:, None] + step).ravel()
        pixels = np.stack(np.meshgrid(u, v), axis=-1).reshape(-1, 2)
        table = project(_inverse(self.camera_from_table), self.camera_lens.unbend(pixels))
        white = np.full(len(table), self.table_white)
        for laid, page in zip(self.laid, pages, strict=True):
            near = np.flatnonzero(np.abs(table - [laid.x_in, laid.y_in]).max(axis=1) < _PAGE_REACH_IN)
            paper = laid.sheet.paper
            sheet = laid.sheet_from_table(table[near]) + np.array([paper.width_in / 2, -paper.height_in / 2])
            printed = _looked_up(page, *(sheet * [_PAGE_PIXELS_PER_INCH, -_PAGE_PIXELS_PER_INCH]).T)
            white[near] = np.where(printed >= 0, 0.06 + 0.84 * printed / 255, white[near])
        screen = self.screen_lens.bend(project(self.screen_from_table, table)) + 0.5
        lit = _looked_up(self.frame, screen[:, 0], screen[:, 1])
        lit = np.where(lit >= 0, lit, 0.0) / 255
        uneven = 1 - 0.2 * (table[:, 0] / 40) ** 2
        seen = self.light * white * (self.room_light + lit * uneven)
        strip: Array = seen.reshape(rows, rays, width, rays).mean(axis=(1, 3))
        return strip


def _inverse(matrix: Array) -> Array:
    return np.linalg.inv(matrix).astype(np.float64)


def _looked_up(picture: Gray, across: Array, down: Array) -> Array:
    """The pixel that each place (0, 0 is the picture's corner) falls in; -1 outside."""
    height, width = picture.shape
    inside = (across >= 0) & (across < width) & (down >= 0) & (down < height)
    columns, rows = across.clip(0, width - 1).astype(np.intp), down.clip(0, height - 1).astype(np.intp)
    values: Array = np.where(inside, picture[rows, columns], -1.0)
    return values


def scene(
    *,
    photo_px: tuple[int, int] = (1920, 1080),
    sheets: int = 3,
    paper: Paper = PAPERS["letter"],
    screen_px: tuple[int, int] = (1920, 1080),
    camera_from_table: Array | None = None,
    camera_k1: float = 0.0,
    screen_k1: float = 0.0,
    seed: int = 0,
) -> tuple[Scene, Targets]:
    """Sheets laid about where their windows are, up to half an inch and three degrees off."""
    targets = Targets(screen_px=screen_px, sheets=sheets, paper=paper)
    scale = screen_px[0] / 72.0
    keystone = np.array([[1, 0.02, 0], [0, 1, 0], [3e-5, 4e-5, 1]])
    screen_from_table = (
        np.array([[scale, 0, (screen_px[0] - 1) / 2], [0, -scale, (screen_px[1] - 1) / 2], [0, 0, 1.0]])
        @ keystone
    )
    made = Scene(
        photo_px=photo_px,
        camera_from_table=camera_over_table(photo_px) if camera_from_table is None else camera_from_table,
        camera_lens=_lens(photo_px, camera_k1, 0.5),
        screen_from_table=screen_from_table,
        screen_lens=_lens(screen_px, screen_k1, 0.9),
        frame=targets.frame(),
        laid=(),
    )
    rng = np.random.default_rng(seed)
    laid = []
    for number, window in enumerate(targets.windows, start=1):
        on_table = project(np.linalg.inv(screen_from_table), made.screen_lens.unbend(window))
        along = on_table[1] - on_table[0]
        x, y = on_table.mean(axis=0) + rng.uniform(-0.5, 0.5, 2)
        turn = np.degrees(np.arctan2(along[1], along[0])) + rng.uniform(-3, 3)
        laid.append(LaidSheet(sheet=Sheet(paper=paper, number=number), x_in=x, y_in=y, turn_deg=turn))
    return replace(made, laid=tuple(laid)), targets


def _lens(picture_px: tuple[int, int], k1: float, centre_down: float) -> Lens:
    return Lens(k1=k1, centre_px=(picture_px[0] / 2, picture_px[1] * centre_down), unit_px=picture_px[0] / 2)
