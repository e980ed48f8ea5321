"""The projector's map: table inches to screen pixels and back, with the error to expect."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from calibration.frames import Array, Points, ScreenPixels, TableInches, as_points
from calibration.lens import Lens

Matrix3 = tuple[tuple[float, float, float], tuple[float, float, float], tuple[float, float, float]]


def inverse(matrix: Array) -> Array:
    """The inverse of a 3 x 3 homography."""
    return np.linalg.inv(matrix).astype(np.float64)


@lru_cache(maxsize=16)  # whatever is drawn asks for it
def _straight_from_table(homography: Matrix3) -> Array:
    """(3, 3) from the table to an ideal screen."""
    return _kept(np.array(homography))


@lru_cache(maxsize=16)  # a pointer that moves asks for it in every picture
def _table_from_straight(homography: Matrix3) -> Array:
    """(3, 3) from an ideal screen to the table."""
    return _kept(inverse(_straight_from_table(homography)))


def _kept(matrix: Array) -> Array:
    """The same, which nobody may write into."""
    matrix.setflags(write=False)
    return matrix


def project(matrix: Array, points: Array) -> Array:
    """(n, 2) points through a 3 x 3 homography."""
    lifted = matrix[:, :2] @ points.T + matrix[:, 2:]  # in columns: numpy is slow along rows of two or three
    projected: Array = (lifted[:2] / lifted[2]).T
    return projected


def project_slopes(matrix: Array, points: Array) -> tuple[Array, Array]:
    """Slopes of `project`: (n, 2, 2) by the point, (n, 2, 8) by the matrix, row by row, its last term fixed."""
    out = points @ matrix[:, :2].T + matrix[:, 2]
    per_w = 1 / out[:, 2:]
    image = out[:, :2] * per_w
    by_point = (matrix[:2, :2] - image[:, :, None] * matrix[2, :2]) * per_w[:, :, None]
    by_matrix = np.zeros((len(points), 2, 8))
    by_matrix[:, 0, 0:2] = by_matrix[:, 1, 3:5] = points * per_w
    by_matrix[:, 0, 2] = by_matrix[:, 1, 5] = per_w[:, 0]
    by_matrix[:, :, 6:8] = -image[:, :, None] * by_matrix[:, :1, 0:2]
    return by_point, by_matrix


@dataclass(frozen=True, slots=True, kw_only=True)
class ProjectorMap:
    """A homography from the table to an ideal screen, then the lens's bow.

    `screen_px` is (width, height). `homography` has its last term 1. `covariance` is that of its eight
    other terms row by row, then k1, k2, centre u, centre v: shape (12, 12), pixel and inch units.
    `floor_in` is the error in inches that the covariance cannot know of, the same everywhere.
    """

    screen_px: tuple[int, int]
    homography: Matrix3
    lens: Lens
    covariance: tuple[tuple[float, ...], ...]
    floor_in: float = 0.0

    def screen_from_table(self, points: Points) -> ScreenPixels:
        """(n, 2) table inches to (n, 2) projector pixels."""
        return ScreenPixels(self.lens.bend(project(_straight_from_table(self.homography), as_points(points))))

    def table_from_screen(self, points: Points) -> TableInches:
        """(n, 2) projector pixels to (n, 2) table inches."""
        straight = self.lens.unbend(as_points(points))
        return TableInches(project(_table_from_straight(self.homography), straight))

    def landing_slopes(self, points: Points) -> Array:
        """(n, 2, 12) inches by which the light for a table point strays, per unit of each term of the map.

        From screen(table; terms) = pixel, held fixed: d table = -(d screen / d table)^-1 (d screen / d terms).
        """
        table_in = as_points(points)
        matrix = _straight_from_table(self.homography)
        by_point, by_matrix = project_slopes(matrix, table_in)
        by_straight, by_lens = self.lens.bend_slopes(project(matrix, table_in))
        by_terms = np.concatenate([by_straight @ by_matrix, by_lens], axis=2)
        slopes: Array = -np.linalg.solve(by_straight @ by_point, by_terms)
        return slopes

    def forecast(self, points: Points) -> Array:
        """(n,) one-sigma error in inches to expect at (n, 2) table inches: root of the variances of x and y, summed."""
        slopes = self.landing_slopes(points)
        variance = np.einsum("nij,jk,nik->n", slopes, np.array(self.covariance), slopes)
        error_in: Array = np.sqrt(np.maximum(variance, 0) + self.floor_in**2)
        return error_in
