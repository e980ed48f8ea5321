"""The practice table: a simulated table, projector and camera whose truth is known.

The demo and the tests of the alignment stand on it. It works in room inches (z up, the middle of the
table's top at the origin, x to the right and y away from the person) and speaks table inches: the frame of
sheet 1, with its origin on the table under the centre of that page, x along the page's right and y along
the page's up, in true inches whatever the printer's scale, curl or jitter did to the ink.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np
import numpy.typing as npt

from calibration.frames import (
    Array,
    CameraPixels,
    Gray,
    Points,
    ScreenPixels,
    SheetInches,
    TableInches,
    as_points,
)
from calibration.practice import scene as scene
from calibration.practice.light import LightFell, where_lines_fell
from calibration.practice.optics import Eye
from calibration.practice.photo import Exposure, Shot
from calibration.practice.scene import CameraKind, Faults
from calibration.practice.surface import (
    TABLE_IN,
    LaidSheet,
    Pose,
    TableTop,
    meet_surface,
    on_surface,
)
from calibration.practice.view import Cloth, picture_from_above, picture_standing

__all__ = ["Cloth", "Exposure", "Faults", "LightFell", "PracticeTable"]

# mixed into the random number generator, so that one more sheet does not move the camera
_PROJECTOR, _CAMERA, _TOP, _SHEETS, _EXPOSURE, _ANOTHER = range(6)


class ScreenFromTable(Protocol):
    """A map from the table to the projector, right or wrong."""

    def screen_from_table(self, points: Points) -> ScreenPixels:
        """(n, 2) table inches to (n, 2) projector pixels."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeTable:
    """A scene. `frame_in_room` is the table frame's place in the room; it stays when sheet 1 is taken away.

    Projector and top tell where light falls; camera, sheets and exposure only what a photo shows.
    """

    projector: Eye
    camera: Eye
    top: TableTop
    sheets: tuple[LaidSheet, ...]
    exposure: Exposure
    frame_in_room: Pose

    @staticmethod
    def random(
        seed: int,
        camera: CameraKind = "phone",
        sheets: int = 5,
        faults: Faults | None = None,
        screen: tuple[int, int] = (1920, 1080),
        top_in: tuple[float, float] = TABLE_IN,
        windows: Sequence[ScreenPixels] | None = None,
    ) -> "PracticeTable":
        """A varied, believable scene, all of the table lit and seen; the same seed gives the same scene.

        `windows` are the (4, 2) pixels where the projected frame shows page corners (top-left, top-right,
        bottom-right, bottom-left), one a sheet: each sheet is laid there, up to an inch and 4 degrees off.
        Without them the sheets lie in the middle and near the corners. ValueError where windows and sheets
        do not agree in number. Without `faults` there are none.

        The projector's picture reaches beyond the 60 x 36 in that it has to light: that light falls on the
        floor, 30 in below, unless `top_in` is larger (84 x 54 in takes all of it).
        """
        faults = faults or Faults.none()
        if windows is not None and len(windows) != sheets:
            raise ValueError(f"{sheets} sheets need {sheets} windows, found {len(windows)}")
        top = scene.drawn_top(_rng(seed, _TOP), top_in, faults)
        projector = scene.drawn_projector(_rng(seed, _PROJECTOR), screen, faults)
        if windows is None:
            poses = scene.default_poses(sheets)
        else:
            poses = tuple(scene.pose_from_corners(_room_from_pixels(projector, top, w)) for w in windows)
        laid = scene.laid_sheets(_rng(seed, _SHEETS), poses, faults)
        return PracticeTable(
            projector=projector,
            camera=scene.drawn_camera(_rng(seed, _CAMERA), camera, faults),
            top=top,
            sheets=laid,
            exposure=scene.drawn_exposure(_rng(seed, _EXPOSURE), camera),
            frame_in_room=laid[0].pose,
        )

    def another_view(self, seed: int) -> "PracticeTable":
        """The same scene with the same camera held elsewhere, for a further photo with noise of its own."""
        rng = _rng(seed, _ANOTHER)
        camera = scene.aimed_camera(rng, self.camera)
        return replace(self, camera=camera, exposure=replace(self.exposure, seed=int(rng.integers(2**31))))

    def without_sheet(self, number: int) -> "PracticeTable":
        """The same scene with one sheet taken away; the table frame stays where it was."""
        return replace(self, sheets=tuple(sheet for sheet in self.sheets if sheet.number != number))

    def sheet(self, number: int) -> LaidSheet:
        """The sheet of that number; KeyError where it is not on the table."""
        for sheet in self.sheets:
            if sheet.number == number:
                return sheet
        raise KeyError(number)

    # where light and ink truly are

    def true_screen_from_table(self, points: Points) -> ScreenPixels:
        """(n, 2) table inches to the (n, 2) projector pixels whose light falls there."""
        return ScreenPixels(self.projector.pixels_from_room(self._room_from_table(points)))

    def true_table_from_screen(self, pixels: Points) -> TableInches:
        """(n, 2) projector pixels to the (n, 2) table inches where their light falls on the table's top."""
        room_xy = _room_from_pixels(self.projector, self.top, as_points(pixels))
        return TableInches(self.frame_in_room.inward(room_xy))

    def camera_from_table(self, points: Points) -> CameraPixels:
        """(n, 2) table inches on the table's top to (n, 2) pixels of the photo."""
        return CameraPixels(self.camera.pixels_from_room(self._room_from_table(points)))

    def camera_from_screen(self, pixels: Points) -> CameraPixels:
        """(n, 2) projector pixels that light the table's top (not a sheet) to (n, 2) pixels of the photo."""
        return self.camera_from_table(self.true_table_from_screen(pixels))

    def camera_from_sheet(self, number: int, drawn_in: SheetInches) -> CameraPixels:
        """(n, 2) inches as drawn on a sheet to (n, 2) pixels of the photo where that ink is seen."""
        sheet = self.sheet(number)
        return CameraPixels(self.camera.pixels_from_room(sheet.room_from_drawn(drawn_in, self.top)))

    def table_from_sheet(self, number: int, drawn_in: SheetInches) -> TableInches:
        """(n, 2) inches as drawn on a sheet to the (n, 2) table inches straight under that ink."""
        room = self.sheet(number).room_from_drawn(drawn_in, self.top)
        return TableInches(self.frame_in_room.inward(room[:, :2]))

    def tape(self, first: int, second: int, to_nearest_in: float | None = None) -> float:
        """Inches between the centre crosses of two sheets, read to the nearest mark of the tape if given."""
        centre = SheetInches(np.zeros((1, 2)))
        ends = [self.sheet(number).room_from_drawn(centre, self.top)[0] for number in (first, second)]
        distance = float(np.linalg.norm(ends[0] - ends[1]))
        return distance if to_nearest_in is None else round(distance / to_nearest_in) * to_nearest_in

    def printed_length(self, drawn_in: float, number: int = 1) -> float:
        """True inches of a ruler drawn up the page of a sheet."""
        return drawn_in * self.sheet(number).print.scale_y

    # how good a map is

    def grid(self, step_in: float = 1.0) -> TableInches:
        """Points over all of the 60 x 36 in table, in table inches."""
        across, up = (np.linspace(-side / 2, side / 2, round(side / step_in) + 1) for side in TABLE_IN)
        return TableInches(
            self.frame_in_room.inward(np.stack(np.meshgrid(across, up), axis=-1).reshape(-1, 2))
        )

    def light_errors_in(self, under_test: ScreenFromTable, grid: TableInches | None = None) -> Array:
        """(n, 2) inches by which light sent for each point misses it; over the whole table by default."""
        wanted = self.grid() if grid is None else grid
        errors: Array = self.true_table_from_screen(under_test.screen_from_table(wanted)) - wanted
        return errors

    def shape_errors_in(self, under_test: ScreenFromTable, grid: TableInches | None = None) -> Array:
        """(n, 2) inches of `light_errors_in` that are left after the best shift and turn of the drawing.

        Curl or jitter of sheet 1 moves the frame that a photo can see; no piece is cut wrong by that.
        """
        wanted = self.grid() if grid is None else grid
        fell = wanted + self.light_errors_in(under_test, wanted)
        wanted_out, fell_out = wanted - wanted.mean(axis=0), fell - fell.mean(axis=0)
        left, _, right = np.linalg.svd(fell_out.T @ wanted_out)
        turn = left @ np.diag([1.0, np.linalg.det(left @ right)]) @ right
        errors: Array = fell_out @ turn - wanted_out
        return errors

    def where_light_fell(self, frame: npt.NDArray[np.uint8], lines: Sequence[TableInches]) -> LightFell:
        """The light of a frame as rendered against the lines, in table inches, that it should show.

        See `light.where_lines_fell`: solid lines, closed ones with the first point repeated.
        """
        return where_lines_fell(frame, lines, self.true_screen_from_table, self.true_table_from_screen)

    # pictures

    def photo(self, frame: Gray, pages: Sequence[Gray], page_ppi: float) -> Gray:
        """What the camera sees, (h, w): the frame on the table and `pages[number - 1]` for each sheet.

        `page_ppi` is the pixels per inch of the page images, whose middles are the pages' centres.
        ValueError where the frame is not of the projector's size.
        """
        shot = Shot(
            projector=self.projector,
            camera=self.camera,
            top=self.top,
            sheets=self.sheets,
            exposure=self.exposure,
        )
        return shot.taken(frame, pages, page_ppi)

    def photo_from_above(
        self, frame: npt.NDArray[np.uint8], pixels_per_inch: float, cloths: Sequence[Cloth] = ()
    ) -> npt.NDArray[np.uint8]:
        """An RGB picture (h, w, 3), true to scale, of the lit table in a dark room, far edge on top.

        `frame` is (h, w) or (h, w, 3) in RGB; cloths have their outlines in table inches.
        """
        laid = self._in_room(cloths)
        return picture_from_above(frame, self.projector, self.top, pixels_per_inch, laid)

    def photo_standing(
        self, frame: npt.NDArray[np.uint8], width_px: int = 1600, cloths: Sequence[Cloth] = ()
    ) -> npt.NDArray[np.uint8]:
        """An RGB picture (h, w, 3) of the lit table in a dark room as a person standing before it sees it."""
        return picture_standing(frame, self.projector, self.top, width_px, self._in_room(cloths))

    def _in_room(self, cloths: Sequence[Cloth]) -> tuple[Cloth, ...]:
        return tuple(
            replace(cloth, outline_in=self.frame_in_room.outward(cloth.outline_in)) for cloth in cloths
        )

    def _room_from_table(self, points: Points) -> Array:
        return on_surface(self.frame_in_room.outward(as_points(points)), self.top.height)


def _room_from_pixels(projector: Eye, top: TableTop, pixels: Array) -> Array:
    return meet_surface(projector.at_in, projector.rays_from_pixels(pixels), top.height)


def _rng(seed: int, stream: int) -> np.random.Generator:
    return np.random.default_rng((seed, stream))
