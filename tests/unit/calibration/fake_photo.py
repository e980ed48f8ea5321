"""A small stand-in for a table under a projector, to make photos whose truth is known.

The world is flat and the lenses straight, so every picture reaches the photo by one homography.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np
import numpy.typing as npt

from calibration.frames import Array, CameraPixels, Gray, ScreenPixels, TableInches
from calibration.projector_map import project
from calibration.sheets.sheet import PAPERS, Paper, Sheet
from calibration.sheets.targets import Targets

Plane = npt.NDArray[np.float32]

_PAGE_PIXELS_PER_INCH = 120.0
_FRAME_TIMES = 3  # the frame is enlarged, so that its pixels stay square in the photo
_RAYS = 3  # by as many to a pixel of the photo
_MARGIN_RAYS = 4  # round a page


@dataclass(frozen=True, kw_only=True)
class LaidSheet:
    """A sheet on the table: where its page's centre lies and how far it is turned counter-clockwise."""

    sheet: Sheet
    x_in: float
    y_in: float
    turn_deg: float = 0.0

    def table_from_sheet(self) -> Array:
        turn = np.radians(self.turn_deg)
        return np.array(
            [
                [np.cos(turn), -np.sin(turn), self.x_in],
                [np.sin(turn), np.cos(turn), self.y_in],
                [0.0, 0.0, 1.0],
            ]
        )


@dataclass(frozen=True, kw_only=True)
class Scene:
    """Table, light and camera; `frame` is what the projector shows."""

    photo_px: tuple[int, int]
    camera_from_table: Array
    screen_from_table: Array
    frame: Gray
    laid: tuple[LaidSheet, ...]
    room_light: float = 0.25
    table_white: float = 0.6

    def camera_from_sheet(self, laid: LaidSheet, points_in: Array) -> CameraPixels:
        return CameraPixels(project(self.camera_from_table @ laid.table_from_sheet(), points_in))

    def camera_from_screen(self, points_px: ScreenPixels) -> CameraPixels:
        return CameraPixels(project(self.camera_from_table @ _inverse(self.screen_from_table), points_px))

    def photo(self, *, blur_px: float = 0.8, noise: float = 2.0, seed: int = 0) -> Gray:
        """The photo as grey values, with a Gaussian blur in pixels and noise in grey levels."""
        everywhere = (slice(0, self.photo_px[1] * _RAYS), slice(0, self.photo_px[0] * _RAYS))
        frame = self.frame.repeat(_FRAME_TIMES, 0).repeat(_FRAME_TIMES, 1)
        light = self._seen(self._camera_from_frame(), frame, everywhere, 0.0)
        white = np.full(light.shape, self.table_white, dtype=np.float32)
        for laid in self.laid:
            page, around = laid.sheet.page(_PAGE_PIXELS_PER_INCH), self._rays_around(laid)
            printed = self._seen(self._camera_from_page(laid, page), page, around, -1.0)
            white[around] = np.where(printed >= 0, 0.06 + 0.84 * printed / 255, white[around])
        fine = 150 * white * (self.room_light + light / 255)
        seen = cv2.resize(fine.astype(np.float32), self.photo_px, interpolation=cv2.INTER_AREA)
        blurred = np.asarray(cv2.GaussianBlur(seen, (0, 0), blur_px), dtype=np.float64)
        noisy = blurred + np.random.default_rng(seed).normal(0, noise, blurred.shape)
        photo: Gray = np.rint(noisy).clip(0, 255).astype(np.uint8)
        return photo

    def _camera_from_frame(self) -> Array:
        enlarged = _scaled(_FRAME_TIMES)
        homography: Array = self.camera_from_table @ _inverse(self.screen_from_table) @ _inverse(enlarged)
        return homography

    def _rays_around(self, laid: LaidSheet) -> tuple[slice, slice]:
        """Rows and columns of rays that a page lies within."""
        corners = project(_scaled(_RAYS), self.camera_from_sheet(laid, laid.sheet.outline_in))
        most = np.array(self.photo_px) * _RAYS
        left, top = np.clip(np.floor(corners.min(axis=0)) - _MARGIN_RAYS, 0, most).astype(int).tolist()
        right, bottom = np.clip(np.ceil(corners.max(axis=0)) + _MARGIN_RAYS, 0, most).astype(int).tolist()
        return slice(top, bottom), slice(left, right)

    def _camera_from_page(self, laid: LaidSheet, page: Gray) -> Array:
        ppi = _PAGE_PIXELS_PER_INCH
        height, width = page.shape
        page_from_sheet = np.array([[ppi, 0, (width - 1) / 2], [0, -ppi, (height - 1) / 2], [0, 0, 1.0]])
        homography: Array = self.camera_from_table @ laid.table_from_sheet() @ _inverse(page_from_sheet)
        return homography

    def _seen(
        self,
        camera_from_picture: Array,
        picture: npt.NDArray[np.generic],
        rays: tuple[slice, slice],
        outside: float,
    ) -> Plane:
        rows, columns = rays
        from_picture = _scaled(_RAYS) @ camera_from_picture
        from_picture = np.array([[1, 0, -columns.start], [0, 1, -rows.start], [0, 0, 1.0]]) @ from_picture
        size = (columns.stop - columns.start, rows.stop - rows.start)
        seen = cv2.warpPerspective(picture.astype(np.float32), from_picture, size, borderValue=(outside,) * 4)
        return np.asarray(seen, dtype=np.float32)


def _scaled(times: int) -> Array:
    """Pixels of a picture to those of the same picture enlarged; pixel centres are integers in both."""
    shift = (times - 1) / 2
    return np.array([[times, 0, shift], [0, times, shift], [0, 0, 1.0]])


def _inverse(matrix: Array) -> Array:
    return np.linalg.inv(matrix).astype(np.float64)


def camera_over_table(photo_px: tuple[int, int], *, lean_deg: float = 25.0, turn_deg: float = 10.0) -> Array:
    """Homography from table inches (y up) to pixels, of a camera that leans back and looks at the middle."""
    lean, turn = np.radians([lean_deg, turn_deg])
    spin = np.array([[np.cos(turn), -np.sin(turn), 0], [np.sin(turn), np.cos(turn), 0], [0, 0, 1]])
    tip = np.array([[1, 0, 0], [0, np.cos(lean), -np.sin(lean)], [0, np.sin(lean), np.cos(lean)]])
    pose = np.diag([1.0, -1.0, -1.0]) @ tip @ spin  # a camera looks along its own z, v runs down
    away_in, across_in = 75.0, 78.0
    focal = photo_px[0] * away_in / across_in
    lens = np.array([[focal, 0, (photo_px[0] - 1) / 2], [0, focal, (photo_px[1] - 1) / 2], [0, 0, 1]])
    homography: Array = lens @ np.column_stack([pose[:, :2], [0, 0, away_in]])
    return homography


def scene(
    *,
    photo_px: tuple[int, int] = (1920, 1080),
    sheets: int = 2,
    paper: Paper = PAPERS["letter"],
    screen_px: tuple[int, int] = (1920, 1080),
    camera_from_table: Array | None = None,
    seed: int = 0,
) -> tuple[Scene, Targets]:
    """Sheets laid about where their windows are, up to half an inch and three degrees off."""
    targets = Targets(screen_px=screen_px, sheets=sheets, paper=paper)
    scale = screen_px[0] / 72.0
    upright = np.array([[scale, 0, (screen_px[0] - 1) / 2], [0, -scale, (screen_px[1] - 1) / 2], [0, 0, 1.0]])
    keystone = np.array([[1, 0.02, 0], [0, 1, 0], [1e-4, 4e-4, 1]])
    made = Scene(
        photo_px=photo_px,
        camera_from_table=camera_over_table(photo_px) if camera_from_table is None else camera_from_table,
        screen_from_table=upright @ keystone,
        frame=targets.frame(),
        laid=(),
    )
    return replace(made, laid=_laid(made, targets, paper, np.random.default_rng(seed))), targets


def _laid(made: Scene, targets: Targets, paper: Paper, rng: np.random.Generator) -> tuple[LaidSheet, ...]:
    laid = []
    for number, window in enumerate(targets.windows, start=1):
        on_table = TableInches(project(_inverse(made.screen_from_table), window))
        along = on_table[1] - on_table[0]
        x, y = on_table.mean(axis=0) + rng.uniform(-0.5, 0.5, 2)
        turn = float(np.degrees(np.arctan2(along[1], along[0])) + rng.uniform(-3, 3))
        laid.append(LaidSheet(sheet=Sheet(paper=paper, number=number), x_in=x, y_in=y, turn_deg=turn))
    return tuple(laid)


def covered(photo: Gray, polygon_px: Array, grey: int = 70) -> Gray:
    """The photo with something plain over a part of it."""
    hidden = photo.copy()
    cv2.fillPoly(hidden, [np.rint(polygon_px).astype(np.int32)], (grey,))
    return hidden


def relaid(made: Scene, laid: Sequence[LaidSheet]) -> Scene:
    """The same table with other sheets on it."""
    return replace(made, laid=tuple(laid))
