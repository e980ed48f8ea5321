"""Where a camera was, and how it saw the table: kept with an alignment."""

from dataclasses import dataclass

import numpy as np

from calibration.frames import Array, CameraPixels, TableInches
from calibration.lens import Lens

Triple = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptCamera:
    """A pinhole with a bowed lens, in the table frame: inches, x and y on the table, z up from it.

    `photo_px` is (width, height); `centre_px` is where the camera's axis meets the picture, and `lens` bows about
    a centre of its own. `turn` is the rotation vector from the table's axes to the picture's right, its down and
    ahead, in radians; `at_in` is the lens's place. Raises ValueError for a camera that is not above the table.
    """

    photo_px: tuple[int, int]
    focal_px: float
    centre_px: tuple[float, float]
    lens: Lens
    turn: Triple
    at_in: Triple

    def __post_init__(self) -> None:
        if not (self.focal_px > 0 and self.at_in[2] > 0):
            raise ValueError(f"a camera has a focal length and is above the table, found {self}")

    def photo_from_table(self, points: TableInches) -> CameraPixels:
        """(n, 2) table inches to (n, 2) pixels of the photo; ValueError for a point that is not ahead."""
        from_lens = np.column_stack([points, np.zeros(len(points))]) - self.at_in
        right, down, ahead = rotation(self.turn) @ from_lens.T
        if ahead.min(initial=np.inf) <= 0:
            raise ValueError("a point behind the camera has no pixel")
        straight = np.column_stack([right / ahead, down / ahead]) * self.focal_px + self.centre_px
        return CameraPixels(self.lens.bend(straight))

    def table_from_photo(self, pixels: CameraPixels) -> TableInches:
        """(n, 2) pixels of the photo to (n, 2) table inches, in the plane z = 0; ValueError above its horizon."""
        straight = (self.lens.unbend(pixels) - self.centre_px) / self.focal_px
        x, y, up = rotation(self.turn).T @ np.column_stack([straight, np.ones(len(pixels))]).T
        if up.max(initial=-np.inf) >= 0:
            raise ValueError("a pixel above the horizon shows no point of the table")
        x_in, y_in, height_in = self.at_in
        return TableInches(np.column_stack([x_in - x / up * height_in, y_in - y / up * height_in]))


def rotation(turn: Triple) -> Array:
    """(3, 3) of a rotation vector in radians (Rodrigues 1840)."""
    angle = float(np.linalg.norm(turn))
    if not angle:
        return np.eye(3)
    x, y, z = np.array(turn) / angle
    across = np.array([(0.0, -z, y), (z, 0.0, -x), (-y, x, 0.0)])
    turned: Array = np.eye(3) + np.sin(angle) * across + (1 - np.cos(angle)) * across @ across
    return turned
