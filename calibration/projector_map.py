"""The projector's map: table inches to screen pixels and back, with the error to expect."""

from dataclasses import dataclass
from typing import cast

import numpy as np

from calibration.frames import Array, Points, ScreenPixels, TableInches, as_points
from calibration.lens import Lens

Matrix3 = tuple[tuple[float, float, float], tuple[float, float, float], tuple[float, float, float]]


def project(matrix: Array, points: Array) -> Array:
    """(n, 2) points through a 3 x 3 homography."""
    out = points @ matrix[:, :2].T + matrix[:, 2]
    projected: Array = out[:, :2] / out[:, 2:]
    return projected


@dataclass(frozen=True, slots=True, kw_only=True)
class ProjectorMap:
    """A homography from the table to an ideal screen, then the lens's bow.

    `screen_px` is (width, height). `covariance` is that of (the eight free terms of the homography row by
    row with the last fixed at 1, k1, k2, centre u, centre v), shape (12, 12); `floor_in` is the error in
    inches that the covariance does not know of (paper and table not flat).
    """

    screen_px: tuple[int, int]
    homography: Matrix3
    lens: Lens
    covariance: tuple[tuple[float, ...], ...]
    size_sigma: float
    floor_in: float = 0.0

    def screen_from_table(self, points: Points) -> ScreenPixels:
        """(n, 2) table inches to (n, 2) projector pixels."""
        return ScreenPixels(self.lens.bend(project(np.array(self.homography), as_points(points))))

    def table_from_screen(self, points: Points) -> TableInches:
        """(n, 2) projector pixels to (n, 2) table inches."""
        straight = self.lens.unbend(as_points(points))
        return TableInches(project(np.linalg.inv(np.array(self.homography)), straight))

    def forecast(self, points: Points) -> Array:
        """(n,) one-sigma error in inches (root of the summed variances of x and y) to expect at table inches."""
        raise NotImplementedError(cast(object, points))
