"""From the twelve terms of the projector in model units to its map in inches and pixels."""

from typing import Final

import numpy as np

from calibration.frames import Array
from calibration.joint_model import PROJECTOR, TABLE_UNIT_IN, matrix_of
from calibration.lens import Lens
from calibration.projector_map import ProjectorMap

_HOMOGRAPHY: Final = 8


def map_from_units(terms: Array, covariance: Array, screen_px: tuple[int, int]) -> ProjectorMap:
    """The map of (12,) terms with their (12, 12) covariance: homography row by row, k1, k2, centre u, centre v."""
    width, height = screen_px
    half = width / 2
    middle = np.array([(width - 1) / 2, (height - 1) / 2])
    to_pixels = np.array([[half, 0, middle[0]], [0, half, middle[1]], [0, 0, 1]])
    to_units = np.diag([1 / TABLE_UNIT_IN, 1 / TABLE_UNIT_IN, 1])
    linear = np.zeros((PROJECTOR, PROJECTOR))
    for i, unit in enumerate(np.eye(9)[:_HOMOGRAPHY]):
        linear[:_HOMOGRAPHY, i] = (to_pixels @ unit.reshape(3, 3) @ to_units).ravel()[:_HOMOGRAPHY]
    linear[_HOMOGRAPHY:, _HOMOGRAPHY:] = np.diag([1, 1, half, half])
    (a, b, c), (d, e, f), (g, h, i33) = (to_pixels @ matrix_of(terms[:_HOMOGRAPHY]) @ to_units).tolist()
    k1, k2, *centre = terms[_HOMOGRAPHY:].tolist()
    centre_u, centre_v = (middle + half * np.array(centre)).tolist()
    return ProjectorMap(
        screen_px=screen_px,
        homography=((a, b, c), (d, e, f), (g, h, i33)),
        lens=Lens(k1=k1, k2=k2, centre_px=(centre_u, centre_v), unit_px=half),
        covariance=tuple(tuple(row) for row in (linear @ covariance @ linear.T).tolist()),
    )
