"""The joint model of cameras, projector and loose sheets: unknowns as one vector, and what they predict.

Everything is in units near 1: the table in `TABLE_UNIT_IN`, pictures in half widths from their middle.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

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
    """Points of a sheet on the table, for a place (x, y, turn in radians)."""
    c, s = np.cos(place[2]), np.sin(place[2])
    lying: Array = sheet @ np.array([[c, s], [-s, c]]) + place[:2]
    return lying


def _inverses(matrices: Array) -> Array:
    """Of (n, 2, 2) matrices, in closed form: numpy's own takes far longer over so many so small."""
    a, b, c, d = matrices.reshape(-1, 4).T
    swapped = np.stack([d, -b, -c, a], axis=1) / (a * d - b * c)[:, None]
    return swapped.reshape(-1, 2, 2)


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
    """All that one photo shows: `rows` of all corners, and which of these rows are of each part."""

    photo: int
    parts: tuple[_Seen, ...]
    rows: slice
    part_rows: tuple[slice, ...]
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
            parts = tuple(seen for seen in self.seen if seen.photo == i)
            ends = np.cumsum([0, *(len(part.known) for part in parts)]).tolist()
            views.append(
                _View(
                    photo=i,
                    parts=parts,
                    rows=slice(start, start + ends[-1]),
                    part_rows=tuple(slice(*ends_of) for ends_of in pairwise(ends)),
                    camera=np.concatenate([part.camera for part in parts]),
                )
            )
            start += ends[-1]
        return views

    def place(self, x: Array, sheet: int) -> Array:
        """(x, y, turn) of a sheet by its position among the sheets; the first one sets the frame."""
        if sheet == 0:
            return np.zeros(_PLACE)
        start = self.places_at + _PLACE * (sheet - 1)
        return x[start : start + _PLACE]

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
        for view in self._views:
            table = np.concatenate([self._on_table(x, part) for part in view.parts])
            straight = project(self.camera_matrix(x, view.photo), table)
            k1, k2, *centre = self.camera_lens(x, view.photo)
            out.append(bend(straight, np.array(centre), k1, k2) - view.camera)
        return np.concatenate(out)

    def misfit_slopes(self, x: Array) -> Array:
        """(n, 2, k) slopes of `misfit` by the unknowns."""
        slopes = np.zeros((len(self.sigma), 2, self.unknowns))
        for view in self._views:
            parts = [self._table_slopes(x, part) for part in view.parts]
            table = np.concatenate([on_table for on_table, _, _ in parts])
            matrix = self.camera_matrix(x, view.photo)
            by_table, by_matrix = project_slopes(matrix, table)
            k1, k2, *centre = self.camera_lens(x, view.photo)
            by_straight, by_lens = bend_slopes(project(matrix, table), np.array(centre), k1, k2)
            of_view, by_place = slopes[view.rows], by_straight @ by_table
            for rows, (_, columns, table_slopes) in zip(view.part_rows, parts, strict=True):
                of_view[rows, :, columns] = by_place[rows] @ table_slopes
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
        return np.concatenate([self._on_table(x, seen) for seen in self.seen]) * TABLE_UNIT_IN

    def seen_in(self, x: Array) -> Array:
        """(n, 2) table inches where the camera's share of the unknowns puts each corner as seen."""
        out = []
        for view in self._views:
            k1, k2, *centre = self.camera_lens(x, view.photo)
            straight = unbend(view.camera, np.array(centre), k1, k2)
            out.append(project(inverse(self.camera_matrix(x, view.photo)), straight))
        return np.concatenate(out) * TABLE_UNIT_IN

    def _on_table(self, x: Array, seen: _Seen) -> Array:
        if seen.sheet >= 0:
            return lie(self.place(x, seen.sheet), seen.known * x[self.scale_at])
        k1, k2, *centre = x[_HOMOGRAPHY:PROJECTOR]
        return project(inverse(matrix_of(x[:_HOMOGRAPHY])), unbend(seen.known, np.array(centre), k1, k2))

    def _table_slopes(self, x: Array, seen: _Seen) -> tuple[Array, slice, Array]:
        """The corners on the table, the unknowns that place them there, and the slopes by those."""
        table = self._on_table(x, seen)
        if seen.sheet >= 0:
            # the scale stands just before the places, so that one run of columns serves a sheet
            last = self.places_at + _PLACE * max(seen.sheet, 0)
            columns = slice(self.scale_at, last)
            slopes = np.zeros((len(table), 2, last - self.scale_at))
            from_place = table - self.place(x, seen.sheet)[:2]
            slopes[:, :, 0] = from_place / x[self.scale_at]
            if seen.sheet > 0:
                slopes[:, 0, -3] = slopes[:, 1, -2] = 1
                slopes[:, :, -1] = from_place[:, ::-1] * (-1, 1)
            return table, columns, slopes
        matrix = matrix_of(x[:_HOMOGRAPHY])
        k1, k2, *centre = x[_HOMOGRAPHY:PROJECTOR]
        by_table, by_matrix = project_slopes(matrix, table)
        by_straight, by_lens = bend_slopes(project(matrix, table), np.array(centre), k1, k2)
        by_terms = np.concatenate([by_straight @ by_matrix, by_lens], axis=2)
        return table, slice(0, PROJECTOR), -_inverses(by_straight @ by_table) @ by_terms

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
