"""The camera of one photo from the printed sheets alone: nothing is projected, and the sheets lie loose.

The joint model does the work, with a projector that nothing is known of and nothing is asked of.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from calibration.errors import AlignmentError
from calibration.frames import Array, CameraPixels, Points, ScreenPixels, TableInches, as_points
from calibration.photos.sightings import PhotoSighting, SheetSighting, TargetSighting
from calibration.projector_map import ProjectorMap, inverse, project
from calibration.solving.descent import descended
from calibration.solving.joint_model import PROJECTOR, TABLE_UNIT_IN, JointModel, picture_units
from calibration.solving.solve import PRINTER_SIGMA, RULER_READING_IN, WILD_SIGMAS
from calibration.solving.starts import homography, rigid
from calibration.solving.unit_map import map_from_units

_HOMOGRAPHY: Final = 8
_STARTS: Final = (0.0, 0.015, -0.015)  # of the lens's k1
_SOFT_SIGMAS: Final = 10.0
_RAYLEIGH_MEDIAN: Final = 1.1774
_ROUNDS: Final = 3
_MOST_WILD: Final = 0.3
_MOST_MISFIT_IN: Final = 1 / 32
_LEAST_NOISE: Final = 1.0  # of what the corners were expected to have: fewer corners than that prove little


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SheetCamera:
    """A camera that saw the sheets: `seen` maps table inches to its pixels, as a projector run backwards.

    `sheet_places` are (x inches, y inches, turn degrees) of each of the `sheet_numbers` on the table; there are
    none where the camera is known without them.
    `size_sigma` is the one-sigma relative error of all lengths together, the print's scale.
    """

    seen: ProjectorMap
    sheet_numbers: tuple[int, ...]
    sheet_places: tuple[tuple[float, float, float], ...]
    size_sigma: float
    size_checked: bool

    @property
    def photo_px(self) -> tuple[int, int]:
        """Width and height of the photo."""
        return self.seen.screen_px

    def camera_from_table(self, points: Points) -> CameraPixels:
        """(n, 2) table inches to (n, 2) pixels of the photo."""
        return CameraPixels(np.asarray(self.seen.screen_from_table(points)))

    def table_from_camera(self, pixels: Points) -> TableInches:
        """(n, 2) pixels of the photo to (n, 2) table inches."""
        return self.seen.table_from_screen(ScreenPixels(as_points(pixels)))

    def pixels_per_inch(self, points: Points) -> Array:
        """(n,) pixels to the inch at (n, 2) table inches: the root of those across and along."""
        table = as_points(points)
        here = self.camera_from_table(table)
        right, up = (self.camera_from_table(table + step) - here for step in np.eye(2) * 0.05)
        area: Array = np.abs(right[:, 0] * up[:, 1] - right[:, 1] * up[:, 0]) / 0.05**2
        return np.sqrt(area)

    def ahead(self, points: Array) -> npt.NDArray[np.bool_]:
        """(n,) whether (n, 2) table inches lie ahead of the camera, and not behind its horizon."""
        last = np.array(self.seen.homography)[2]
        middle = self.table_from_camera([[(side - 1) / 2 for side in self.photo_px]])[0]
        sides: npt.NDArray[np.bool_] = (points @ last[:2] + last[2]) * (middle @ last[:2] + last[2]) > 0
        return sides

    def shape_error_in(self, points: TableInches) -> Array:
        """(n,) one-sigma error in inches of a shape with (n, 2) points, were it laid on its truth as well as can be."""
        slopes = self.seen.landing_slopes(points).reshape(-1, PROJECTOR)
        off = points - points.mean(axis=0)
        turned = np.column_stack([-off[:, 1], off[:, 0]])
        rigid_moves = np.stack([np.tile([1.0, 0.0], len(points)), np.tile([0.0, 1.0], len(points)),
                                turned.ravel()], axis=1)  # fmt: skip
        basis, _ = np.linalg.qr(rigid_moves)
        left = (slopes - basis @ (basis.T @ slopes)).reshape(len(points), 2, PROJECTOR)
        variance = np.einsum("nij,jk,nik->n", left, np.array(self.seen.covariance), left)
        error_in: Array = np.sqrt(np.maximum(variance, 0) + self.seen.floor_in**2)
        return error_in


def solve_camera(
    sheets: Sequence[SheetSighting],
    photo_px: tuple[int, int],
    printed_scale: float | None = None,
    ruler_in: float = 8.0,
) -> SheetCamera:
    """The camera from the corners of one or more sheets in one photo; the first of them sets the frame.

    `printed_scale` is the printed ruler's measured length over its nominal `ruler_in`, or None.
    Raises AlignmentError where the corners contradict one another.
    """
    nothing = TargetSighting(
        screen_px=ScreenPixels(np.zeros((0, 2))), camera_px=CameraPixels(np.zeros((0, 2))), sigma_px=1.0
    )
    photo = PhotoSighting(photo_px=photo_px, sheets=tuple(sheets), targets=nothing)
    ruler_sigma = PRINTER_SIGMA if printed_scale is None else min(RULER_READING_IN / ruler_in, PRINTER_SIGMA)
    model = JointModel([photo], photo_px, ruler_sigma, printed_scale or 1.0)
    kept = np.ones(len(model.sigma), dtype=bool)
    noise = 1.0

    def residuals(x: Array) -> Array:
        corners = (model.misfit(x) / (noise * model.sigma[:, None]))[kept]
        return np.concatenate([corners.ravel(), model.prior_misfit(x)])

    def slopes(x: Array) -> Array:
        corners = (model.misfit_slopes(x) / (noise * model.sigma[:, None, None]))[kept]
        return np.vstack([corners.reshape(-1, model.unknowns), model.prior_slopes()])

    tries = [descended(residuals, slopes, start, _SOFT_SIGMAS) for start in _begun(model)]
    x = min(tries, key=lambda one: one[1])[0]
    for _ in range(_ROUNDS):
        distance = np.hypot(*(model.misfit(x) / model.sigma[:, None]).T)
        noise = max(float(np.median(distance)) / _RAYLEIGH_MEDIAN, _LEAST_NOISE)
        kept = distance < WILD_SIGMAS * noise
        x = descended(residuals, slopes, x)[0]
    misfit_in = float(np.sqrt((model.misfit_in(x)[kept] ** 2).mean()))
    if kept.mean() < 1 - _MOST_WILD or misfit_in > _MOST_MISFIT_IN:
        raise AlignmentError(
            f"the marks of the sheets are {misfit_in:.2f} in off one flat table, and {int((~kept).sum())} of "
            f"{len(kept)} fit nowhere; lay the sheets flat, clear of the garment, and retake the photo"
        )
    return _camera(model, x, slopes(x), printed_scale is not None)


def _begun(model: JointModel) -> list[Array]:
    """Unknowns to start from: sheets laid by the homography of the first, and a few bows of the lens."""
    (photo,) = model.photos
    seen = [(s.sheet_in / TABLE_UNIT_IN, picture_units(s.camera_px, photo.photo_px)) for s in photo.sheets]
    camera_from_table = homography(*seen[0], f"The marks of sheet {model.sheet_numbers[0]}")
    table_from_camera = inverse(camera_from_table)
    x = np.zeros(model.unknowns)
    x[:_HOMOGRAPHY] = np.eye(3).ravel()[:_HOMOGRAPHY]
    x[model.scale_at] = 1.0
    for i, (known, camera) in enumerate(seen[1:]):
        start = model.places_at + 3 * i
        x[start : start + 3] = rigid(known, project(table_from_camera, camera))
    x[model.cameras_at :] = camera_from_table.ravel()[:_HOMOGRAPHY]
    begun = []
    for k1 in _STARTS:
        x = x.copy()
        x[model.lenses_at] = k1
        begun.append(x)
    return begun


def _camera(model: JointModel, x: Array, slopes: Array, size_checked: bool) -> SheetCamera:
    camera = np.r_[model.cameras_at : model.unknowns, model.lenses_at : model.cameras_at]
    known = slopes[:, PROJECTOR:]  # of the projector nothing is known
    spread = np.linalg.norm(known, axis=0)
    covariance = np.linalg.pinv((known / spread).T @ (known / spread), hermitian=True)
    covariance /= np.outer(spread, spread)
    scale, own = model.scale_at - PROJECTOR, camera - PROJECTOR
    cross = covariance[own, scale]
    shape = covariance[np.ix_(own, own)] - np.outer(cross, cross) / covariance[scale, scale]
    places = [model.place(x, sheet) for sheet in range(len(model.sheet_numbers))]
    return SheetCamera(
        seen=map_from_units(x[camera], shape, model.photos[0].photo_px),
        sheet_numbers=tuple(model.sheet_numbers),
        sheet_places=tuple(
            (float(u * TABLE_UNIT_IN), float(v * TABLE_UNIT_IN), float(np.rad2deg(t))) for u, v, t in places
        ),
        size_sigma=float(np.sqrt(covariance[scale, scale]) / x[model.scale_at]),
        size_checked=size_checked,
    )
