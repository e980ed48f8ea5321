"""The joint model of cameras, projector and loose sheets: unknowns as one vector, and what they predict.

Everything is in units near 1: the table in `TABLE_UNIT_IN`, pictures in half widths from their middle.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from calibration.frames import Array
from calibration.lens import bend, bend_slopes, unbend
from calibration.photos.sightings import PhotoSighting, SheetSighting, TargetSighting
from calibration.projector_map import inverse, project, project_slopes

TABLE_UNIT_IN = 30.0

CAMERA_LENS_SIGMA = (0.03, 0.02, 0.02, 0.02)  # k1, k2, centre u, v; half widths. Simulated phones and webcams
PROJECTOR_LENS_SIGMA = (0.01, 0.005, 0.05, 0.6)  # lens shift moves the centre far along v

_HOMOGRAPHY = 8
_LENS = 4
PROJECTOR = _HOMOGRAPHY + _LENS
_PLACE = 3


def picture_units(pixels: Array, size_px: tuple[int, int]) -> Array:
    """(n, 2) pixels to half widths from the picture's middle."""
    width, height = size_px
    units: Array = (pixels - ((width - 1) / 2, (height - 1) / 2)) / (width / 2)
    return units


def matrix_of(terms: Array) -> Array:
    """A 3 x 3 homography from its first eight terms, row by row; the last is 1."""
    return np.append(terms, 1.0).reshape(3, 3)


def lie(place: Array, sheet: Array) -> Array:
    """(n, 2) points of a sheet on the table, for a place (x, y, turn in radians), or (n, 3) places, one a point."""
    c, s = np.cos(place[..., 2]), np.sin(place[..., 2])
    u, v = sheet.T
    lying: Array = np.stack([c * u - s * v, s * u + c * v], axis=-1) + place[..., :2]
    return lying


def _inverses(matrices: Array) -> Array:
    """Of (n, 2, 2) matrices, in closed form: numpy's own takes far longer over so many so small."""
    a, b, c, d = matrices.reshape(-1, 4).T
    swapped = np.stack([d, -b, -c, a], axis=1) / (a * d - b * c)[:, None]
    return swapped.reshape(-1, 2, 2)


def _times(matrices: Array, vectors: Array) -> Array:
    """(n, 2, 2) matrices times (n, 2) vectors."""
    out: Array = (matrices * vectors[:, None]).sum(axis=2)
    return out


def _projected_slopes(x: Array, table: Array) -> Array:
    """(n, 2, 12) slopes of the places where projected corners fall, (n, 2), by the projector's terms."""
    matrix = matrix_of(x[:_HOMOGRAPHY])
    k1, k2, *centre = x[_HOMOGRAPHY:PROJECTOR]
    by_table, by_matrix = project_slopes(matrix, table)
    by_straight, by_lens = bend_slopes(project(matrix, table), np.array(centre), k1, k2)
    by_terms = np.concatenate([by_straight @ by_matrix, by_lens], axis=2)
    slopes: Array = -_inverses(by_straight @ by_table) @ by_terms
    return slopes


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Seen:
    """Corners of one sheet, or of the projected frame, in one photo; model units."""

    photo: int
    sheet: int  # position among the sheets; -1 for the projected frame
    known: Array
    camera: Array
    sigma: Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _View:
    """All that one photo shows: printed corners sheet by sheet, then projected ones; `rows` of all corners.

    `on_sheet` (p,) is the position among the sheets of each of the `printed` (p, 2); `sheet_rows` has the rows of
    the view that are of each sheet.
    """

    photo: int
    rows: slice
    sheet_rows: Mapping[int, slice]
    on_sheet: npt.NDArray[np.int_]
    printed: Array
    projected: Array
    camera: Array


class JointModel:
    """Predicts every corner of every photo from one vector of unknowns.

    Unknowns in order: projector homography and lens; print scale; places of all sheets but the first;
    one lens a picture size; one camera homography a photo.
    """

    def __init__(
        self, photos: Sequence[PhotoSighting], screen_px: tuple[int, int], ruler_sigma: float, ruler: float
    ) -> None:
        self.sheet_numbers = sorted({s.sheet for photo in photos for s in photo.sheets})
        self.sizes = sorted({photo.photo_px for photo in photos})
        self.photos = tuple(photos)
        self.screen_px = screen_px
        self.ruler, self.ruler_sigma = ruler, ruler_sigma
        self.scale_at = PROJECTOR
        self.places_at = self.scale_at + 1
        self.lenses_at = self.places_at + _PLACE * (len(self.sheet_numbers) - 1)
        self.cameras_at = self.lenses_at + _LENS * len(self.sizes)
        self.unknowns = self.cameras_at + _HOMOGRAPHY * len(photos)
        self.seen = tuple(self._all_seen())
        self._views = tuple(self._all_views())
        self._lately: tuple[Array, tuple[Array, ...]] | None = None
        self.is_target = np.concatenate([np.full(len(s.known), s.sheet < 0) for s in self.seen])
        self.sigma = np.concatenate([s.sigma for s in self.seen])

    def _all_seen(self) -> list[_Seen]:
        seen = []
        for i, photo in enumerate(self.photos):
            half_width = photo.photo_px[0] / 2
            corners: list[tuple[int, Array, SheetSighting | TargetSighting]] = [
                (self.sheet_numbers.index(s.sheet), s.sheet_in / TABLE_UNIT_IN, s) for s in photo.sheets
            ]
            corners.append((-1, picture_units(photo.targets.screen_px, self.screen_px), photo.targets))
            for sheet, known, sighting in corners:
                camera = picture_units(sighting.camera_px, photo.photo_px)
                sigma = np.full(len(camera), sighting.sigma_px / half_width)
                seen.append(_Seen(photo=i, sheet=sheet, known=known, camera=camera, sigma=sigma))
        return seen

    def _all_views(self) -> list[_View]:
        views, start = [], 0
        for i in range(len(self.photos)):
            *sheets, targets = (seen for seen in self.seen if seen.photo == i)
            ends = np.cumsum([0, *(len(sheet.known) for sheet in sheets)]).tolist()
            rows_of = [slice(*ends_of) for ends_of in pairwise(ends)]
            end = start + ends[-1] + len(targets.known)
            views.append(
                _View(
                    photo=i,
                    rows=slice(start, end),
                    sheet_rows={sheet.sheet: rows for sheet, rows in zip(sheets, rows_of, strict=True)},
                    on_sheet=np.repeat([sheet.sheet for sheet in sheets], np.diff(ends)),
                    printed=np.concatenate([sheet.known for sheet in sheets]),
                    projected=targets.known,
                    camera=np.concatenate([*(sheet.camera for sheet in sheets), targets.camera]),
                )
            )
            start = end
        return views

    def place(self, x: Array, sheet: int) -> Array:
        """(x, y, turn) of a sheet by its position among the sheets; the first one sets the frame."""
        place: Array = self._places(x)[sheet]
        return place

    def _places(self, x: Array) -> Array:
        """(sheets, 3) places of all sheets."""
        return np.concatenate([np.zeros(_PLACE), x[self.places_at : self.lenses_at]]).reshape(-1, _PLACE)

    def camera_lens(self, x: Array, photo: int) -> Array:
        """(k1, k2, centre u, centre v) of the camera of one photo."""
        start = self._lens_start(photo)
        return x[start : start + _LENS]

    def _lens_start(self, photo: int) -> int:
        return self.lenses_at + _LENS * self.sizes.index(self.photos[photo].photo_px)

    def camera_matrix(self, x: Array, photo: int) -> Array:
        """Table to ideal picture, 3 x 3, of one photo."""
        start = self.cameras_at + _HOMOGRAPHY * photo
        return matrix_of(x[start : start + _HOMOGRAPHY])

    def misfit(self, x: Array) -> Array:
        """(n, 2) corners as predicted less as seen, in picture units; photo by photo, sheets before targets."""
        out = []
        for view, table in zip(self._views, self._on_table(x), strict=True):
            straight = project(self.camera_matrix(x, view.photo), table)
            k1, k2, *centre = self.camera_lens(x, view.photo)
            out.append(bend(straight, np.array(centre), k1, k2) - view.camera)
        return np.concatenate(out)

    def misfit_slopes(self, x: Array) -> Array:
        """(n, 2, k) slopes of `misfit` by the unknowns."""
        slopes = np.zeros((len(self.sigma), 2, self.unknowns))
        for view, table in zip(self._views, self._on_table(x), strict=True):
            matrix = self.camera_matrix(x, view.photo)
            by_table, by_matrix = project_slopes(matrix, table)
            k1, k2, *centre = self.camera_lens(x, view.photo)
            by_straight, by_lens = bend_slopes(project(matrix, table), np.array(centre), k1, k2)
            of_view, by_place = slopes[view.rows], by_straight @ by_table
            printed = len(view.printed)
            self._put_sheet_slopes(x, view, table[:printed], by_place[:printed], of_view)
            of_view[printed:, :, :PROJECTOR] = by_place[printed:] @ _projected_slopes(x, table[printed:])
            lens, camera = self._lens_start(view.photo), self.cameras_at + _HOMOGRAPHY * view.photo
            of_view[:, :, lens : lens + _LENS] = by_lens
            of_view[:, :, camera : camera + _HOMOGRAPHY] = by_straight @ by_matrix
        return slopes

    def misfit_in(self, x: Array) -> Array:
        """(n,) inches on the table between each corner as seen and as predicted."""
        apart: Array = np.linalg.norm(self.seen_in(x) - self.predicted_in(x), axis=1)
        return apart

    def predicted_in(self, x: Array) -> Array:
        """(n, 2) table inches where each corner lies by its sheet or by the projector."""
        return np.concatenate(self._on_table(x)) * TABLE_UNIT_IN

    def seen_in(self, x: Array) -> Array:
        """(n, 2) table inches where the camera's share of the unknowns puts each corner as seen."""
        out = []
        for view in self._views:
            k1, k2, *centre = self.camera_lens(x, view.photo)
            straight = unbend(view.camera, np.array(centre), k1, k2)
            out.append(project(inverse(self.camera_matrix(x, view.photo)), straight))
        return np.concatenate(out) * TABLE_UNIT_IN

    def _on_table(self, x: Array) -> tuple[Array, ...]:
        """(n, 2) corners of each view on the table; kept, since slopes are asked for where a misfit just was."""
        if self._lately is None or not np.array_equal(self._lately[0], x):
            self._lately = x.copy(), tuple(self._laid(x, view) for view in self._views)
        return self._lately[1]

    def _laid(self, x: Array, view: _View) -> Array:
        printed = lie(self._places(x)[view.on_sheet], view.printed * x[self.scale_at])
        k1, k2, *centre = x[_HOMOGRAPHY:PROJECTOR]
        straight = unbend(view.projected, np.array(centre), k1, k2)
        return np.concatenate([printed, project(inverse(matrix_of(x[:_HOMOGRAPHY])), straight)])

    def _put_sheet_slopes(self, x: Array, view: _View, table: Array, by_place: Array, slopes: Array) -> None:
        """Slopes of the printed corners, (p, 2) on the table, by scale and places, into the view's (n, 2, k)."""
        from_place = table - self._places(x)[view.on_sheet, :2]
        across = from_place[:, ::-1] * (-1, 1)
        slopes[: len(table), :, self.scale_at] = _times(by_place, from_place) / x[self.scale_at]
        by_turn = _times(by_place, across)
        for sheet, rows in view.sheet_rows.items():
            if sheet > 0:
                turn = self.places_at + _PLACE * sheet - 1
                slopes[rows, :, turn - 2 : turn] = by_place[rows]
                slopes[rows, :, turn] = by_turn[rows]

    def prior_misfit(self, x: Array) -> Array:
        """What is believed before any photo, in sigmas: modest bow, and the printer's scale."""
        lenses = x[self.lenses_at : self.cameras_at].reshape(-1, _LENS) / CAMERA_LENS_SIGMA
        projector = x[_HOMOGRAPHY:PROJECTOR] / PROJECTOR_LENS_SIGMA
        scale = (x[self.scale_at] - self.ruler) / self.ruler_sigma
        return np.concatenate([lenses.ravel(), projector, [scale]])

    def prior_slopes(self) -> Array:
        """(m, k) slopes of `prior_misfit`, the same everywhere."""
        zero = self.prior_misfit(np.zeros(self.unknowns))
        units = np.eye(self.unknowns)
        return np.column_stack([self.prior_misfit(unit) - zero for unit in units])

    def centre_distance_in(self, x: Array, sheets: tuple[int, int]) -> float:
        """Inches between the page centres of two sheets, by their numbers."""
        a, b = self._centres(x, sheets)
        return float(np.hypot(*(a - b)) * TABLE_UNIT_IN)

    def centre_distance_slopes(self, x: Array, sheets: tuple[int, int]) -> Array:
        """(k,) slopes of `centre_distance_in` by the unknowns."""
        a, b = self._centres(x, sheets)
        direction = (a - b) / np.hypot(*(a - b)) * TABLE_UNIT_IN
        slopes = np.zeros(self.unknowns)
        for number, along in zip(sheets, (direction, -direction), strict=True):
            sheet = self.sheet_numbers.index(number)
            if sheet > 0:
                start = self.places_at + _PLACE * (sheet - 1)
                slopes[start : start + 2] = along
        return slopes

    def _centres(self, x: Array, sheets: tuple[int, int]) -> tuple[Array, Array]:
        a, b = (self.place(x, self.sheet_numbers.index(number))[:2] for number in sheets)
        return a, b
