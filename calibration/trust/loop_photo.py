"""From a photo of sheets and crosses of light to how far each cross is from where it should be."""

from dataclasses import dataclass

import cv2
import numpy as np

from calibration.errors import AlignmentError
from calibration.frames import Array, Gray
from calibration.lens import bend, unbend
from calibration.photos.found_markers import find_markers
from calibration.photos.pattern_fit import FittedPattern, fit_pattern
from calibration.photos.photo import placed_sheets
from calibration.projector_map import inverse, project
from calibration.sheets.markers import PRINTED
from calibration.sheets.sheet import MARKERS_IN_USE, Paper
from calibration.solving.joint_model import CAMERA_LENS_SIGMA, TABLE_UNIT_IN, lie, matrix_of, picture_units
from calibration.solving.starts import homography
from calibration.table.saved import Alignment
from calibration.trust.loop_crosses import ARM_IN, LoopCross, by_sheet, loop_crosses

_SOUGHT_IN = 0.25  # a cross farther off is taken for another thing
_LEAST_CORNERS = 12
_LEAST_STEP = 12.0  # grey levels between a cross and its dark square
_FLOOR = 0.3  # of that step, below which light does not count: noise and blur of the surround
_DISC = 1.25  # of an arm: holds the cross, and keeps within its dark square
_DARK_SHARE = 0.25  # of the disc, at least, is dark
_CENTRED = 12  # rounds in which the disc follows its own centre of light
_LEAST_PX = 2.0  # of an arm; a smaller cross has no centre
_LEAST_FOUND = 3
_TOOK_SIGMA = 1e-4  # half widths: corners in a photo, loosely


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SeenCross:
    """A cross found in the photo, and the (2,) table inches by which it misses its place."""

    cross: LoopCross
    miss_in: Array


def look_at_loop(photo: Gray, alignment: Alignment, paper: Paper) -> tuple[SeenCross, ...]:
    """Every cross that the photo shows on a sheet that it shows.

    Sheets need not lie as the photo of the alignment had them seen, but they must lie where they lay then.
    Raises AlignmentError where no sheet is seen, or too few crosses.
    """
    crosses = by_sheet(loop_crosses(alignment, paper))
    (found,) = find_markers(photo, [(PRINTED, MARKERS_IN_USE)])
    fits = {
        number: (placed.pattern.corners, fit_pattern(photo, placed))
        for number, placed in placed_sheets(found, paper).items()
        if number in crosses
    }
    fits = {number: both for number, both in fits.items() if both[1].kept.sum() >= _LEAST_CORNERS}
    if not fits:
        raise AlignmentError(
            f"None of the aligned sheets of {paper.name} paper is seen; show the loop frame on the projector, "
            "leave the sheets where they lay, and retake the photo"
        )
    camera = _Camera(photo, alignment, fits)
    seen = [
        SeenCross(cross=cross, miss_in=miss)
        for number in fits
        for cross in crosses[number]
        if (miss := camera.miss_in(cross)) is not None
    ]
    if len(seen) < _LEAST_FOUND:
        wanted = sum(len(crosses[number]) for number in fits)
        raise AlignmentError(
            f"found {len(seen)} of {wanted} crosses of light within {_SOUGHT_IN:g} in of their places; darken "
            "the room, focus, and retake the photo; if the light is farther off, align again"
        )
    return tuple(seen)


class _Camera:
    """The camera's bow by all sheets together, then each sheet by its own homography."""

    def __init__(
        self, photo: Gray, alignment: Alignment, fits: dict[int, tuple[Array, FittedPattern]]
    ) -> None:
        self._photo = photo.astype(np.float64)
        self._size = (photo.shape[1], photo.shape[0])
        scale = alignment.printed_scale
        places = {n: np.array((x, y, np.deg2rad(t))) for n, (x, y, t) in enumerate(alignment.sheet_places, 1)}
        self._places = places
        on_sheet = {number: corners[fit.kept] * scale for number, (corners, fit) in fits.items()}
        seen = {number: picture_units(fit.camera_px, self._size) for number, (_, fit) in fits.items()}
        self._lens = _camera_lens(
            np.vstack([lie(places[number], on_sheet[number]) for number in fits]) / TABLE_UNIT_IN,
            np.vstack([seen[number] for number in fits]),
        )
        self._straight_from_sheet = {
            number: homography(on_sheet[number], self._unbent(seen[number]), f"The marks of sheet {number}")
            for number in fits
        }

    def miss_in(self, cross: LoopCross) -> Array | None:
        """(2,) table inches from where the cross should be to where it is seen; None where it is not."""
        matrix = self._straight_from_sheet[cross.sheet]
        straight = project(matrix, cross.on_sheet_in)
        k1, k2, *centre = self._lens
        pixels = bend(straight, np.array(centre), k1, k2) * (self._size[0] / 2)
        pixels += (np.array(self._size) - 1) / 2
        at = _centre_of_light(self._photo, pixels[0], (pixels[1:] - pixels[0]).T)
        if at is None:
            return None
        on_sheet = project(inverse(matrix), self._unbent(picture_units(at[None], self._size)))
        place = self._places[cross.sheet]
        miss: Array = lie(place, on_sheet)[0] - cross.table_in[0]
        return miss

    def _unbent(self, units: Array) -> Array:
        k1, k2, *centre = self._lens
        return unbend(units, np.array(centre), k1, k2)


def _camera_lens(table: Array, seen: Array) -> Array:
    """(4,) k1, k2, centre u, v of the camera by all printed corners, held by what cameras are like."""
    from scipy.optimize import least_squares

    start = np.append(homography(table, seen, "The printed marks").ravel()[:8], np.zeros(4))

    def misfit(x: Array) -> Array:
        straight = project(matrix_of(x[:8]), table)
        off = (bend(straight, x[10:12], x[8], x[9]) - seen) / _TOOK_SIGMA
        return np.concatenate([off.ravel(), x[8:] / CAMERA_LENS_SIGMA])

    lens: Array = least_squares(misfit, start, loss="soft_l1", f_scale=3.0, x_scale="jac").x[8:]
    return lens


def _centre_of_light(photo: Array, near_px: Array, arms_px: Array) -> Array | None:
    """(2,) pixels of the centre of a bright cross near a place, whose arms are the columns of (2, 2) pixels.

    A disc on the paper, a little wider than the cross, is moved on to its own centre of light. A cross is the
    same on both sides of its centre, so blur and the camera's curve of tones do not shift it.
    """
    lengths = np.linalg.norm(arms_px, axis=0)
    reach = int(np.ceil(lengths.max() * (_SOUGHT_IN / ARM_IN + _DISC)))
    left, top = np.rint(near_px).astype(int) - reach
    window = photo[max(top, 0) : top + 2 * reach + 1, max(left, 0) : left + 2 * reach + 1]
    if lengths.min() < _LEAST_PX or top < 0 or left < 0 or window.shape != (2 * reach + 1,) * 2:
        return None
    v, u = np.indices(window.shape)
    places = np.stack([u, v], axis=-1) + (left, top)
    arms_from_px = inverse(arms_px).T

    def away(at: Array) -> Array:
        distance: Array = np.linalg.norm((places - at) @ arms_from_px, axis=-1)
        return distance

    # lines are narrow: light less its own wide blur stands out at the cross's centre
    smooth, wide = (np.asarray(cv2.GaussianBlur(window, (0, 0), lengths.mean() / d)) for d in (4, 1))
    stands_out = np.where(away(near_px) <= _SOUGHT_IN / ARM_IN, smooth - wide, -np.inf)
    at: Array = places.reshape(-1, 2)[int(stands_out.argmax())].astype(np.float64)
    for _ in range(_CENTRED):
        inside = np.clip((_DISC - away(at)) * lengths.mean() + 0.5, 0, 1)
        lit = window[inside > 0.5]
        dark, bright = np.quantile(lit, _DARK_SHARE), lit.max()
        if bright - dark < _LEAST_STEP:
            return None
        weight = inside * np.clip(window - dark - _FLOOR * (bright - dark), 0, None)
        at = (weight[..., None] * places).sum(axis=(0, 1)) / weight.sum()
    return at
