"""Pinhole optics of the practice table: light rays in the room, and a lens that bows and decentres.

Room inches are right-handed, z up, with z = 0 at the middle of the table's top; a projector is a camera
run backwards, so one class serves both. Nothing here is shared with the maps under test.
"""

from dataclasses import dataclass

import cv2
import numpy as np

from calibration.frames import Array

_SETTLED_PX = 1e-10  # less would be lost in rounding, and every step taken
_UNBEND_STOP = (cv2.TERM_CRITERIA_COUNT + cv2.TERM_CRITERIA_EPS, 60, _SETTLED_PX)
_NO_TURN = np.zeros(3)

Row3 = tuple[float, float, float]
Axes = tuple[Row3, Row3, Row3]


@dataclass(frozen=True, slots=True, kw_only=True)
class Eye:
    """A projector or camera: where it is, how it is turned, and its lens.

    `axes` are the room directions of the picture's right, the picture's down, and ahead. `bow` is the
    (k1, k2) of Brown (1966) with the radius in units of half the picture's width, about `centre_px`;
    `decentring` is its (p1, p2) with the radius in focal lengths, as OpenCV's camera model has it.
    """

    size_px: tuple[int, int]
    focal_px: float
    centre_px: tuple[float, float]
    at_in: Row3
    axes: Axes
    bow: tuple[float, float] = (0.0, 0.0)
    decentring: tuple[float, float] = (0.0, 0.0)

    def __post_init__(self) -> None:
        turn = np.array(self.axes)
        if not np.allclose(turn @ turn.T, np.eye(3), atol=1e-9) or np.linalg.det(turn) < 0:
            raise ValueError("axes must be three right-handed unit directions at right angles")

    def pixels_from_room(self, room_in: Array) -> Array:
        """(n, 3) room inches to (n, 2) pixels; ValueError for a point that is not ahead of the lens."""
        if len(room_in) == 0:
            return np.zeros((0, 2))
        ahead = (room_in - self.at_in) @ np.array(self.axes).T
        if ahead[:, 2].min() <= 0:
            raise ValueError("a point behind the lens has no pixel")
        pixels, _ = cv2.projectPoints(ahead, _NO_TURN, _NO_TURN, self._matrix, self._terms)
        return np.asarray(pixels, dtype=np.float64).reshape(-1, 2)

    def rays_from_pixels(self, pixels: Array) -> Array:
        """(n, 2) pixels to (n, 3) room directions away from the lens, not of unit length."""
        if len(pixels) == 0:
            return np.zeros((0, 3))
        column = np.ascontiguousarray(pixels, dtype=np.float64).reshape(-1, 1, 2)
        straight = cv2.undistortPoints(column, self._matrix, self._terms, criteria=_UNBEND_STOP)
        ahead = np.column_stack([np.asarray(straight).reshape(-1, 2), np.ones(len(pixels))])
        directions: Array = ahead @ np.array(self.axes)
        return directions

    @property
    def _matrix(self) -> Array:
        u, v = self.centre_px
        return np.array([[self.focal_px, 0.0, u], [0.0, self.focal_px, v], [0.0, 0.0, 1.0]])

    @property
    def _terms(self) -> Array:
        per_focal = self.focal_px / (self.size_px[0] / 2)
        k1, k2 = self.bow
        return np.array([k1 * per_focal**2, k2 * per_focal**4, *self.decentring])


def axes_looking_at(at_in: Row3, target_in: Row3, roll_deg: float) -> Axes:
    """Axes of an `Eye` at `at_in` that looks at `target_in`, its picture's up nearest the room's.

    Positive `roll_deg` turns the eye clockwise about its line of sight.
    """
    ahead = np.subtract(target_in, at_in)
    ahead = ahead / np.linalg.norm(ahead)
    right = np.cross(ahead, (0.0, 0.0, 1.0))
    right = right / np.linalg.norm(right)
    down = np.cross(ahead, right)
    c, s = np.cos(np.radians(roll_deg)), np.sin(np.radians(roll_deg))
    return _rows(np.array([c * right + s * down, c * down - s * right, ahead]))


def tilted_axes(pitch_deg: float, yaw_deg: float, roll_deg: float) -> Axes:
    """Axes of an `Eye` that looks straight down with the picture's up along room y, then tilted."""
    down = np.diag([1.0, -1.0, -1.0])
    turn, _ = cv2.Rodrigues(np.radians([pitch_deg, yaw_deg, roll_deg]).astype(np.float64))
    return _rows(np.asarray(turn, dtype=np.float64) @ down)


def _rows(matrix: Array) -> Axes:
    right, down, ahead = ((float(x), float(y), float(z)) for x, y, z in matrix)
    return right, down, ahead
