"""Between the twelve terms of the projector in model units and its map in inches and pixels."""

from typing import Final

import numpy as np

from calibration.frames import Array
from calibration.lens import Lens
from calibration.projector_map import ProjectorMap, inverse
from calibration.solving.joint_model import PROJECTOR, TABLE_UNIT_IN, matrix_of

_HOMOGRAPHY: Final = 8


def map_from_units(terms: Array, covariance: Array, screen_px: tuple[int, int]) -> ProjectorMap:
    """The map of (12,) terms with their (12, 12) covariance: homography row by row, k1, k2, centre u, centre v."""
    to_pixels, to_units, linear = _steps(screen_px)
    (a, b, c), (d, e, f), (g, h, i33) = (to_pixels @ matrix_of(terms[:_HOMOGRAPHY]) @ to_units).tolist()
    k1, k2, *centre = terms[_HOMOGRAPHY:].tolist()
    half = screen_px[0] / 2
    centre_u, centre_v = (to_pixels[:2, 2] + half * np.array(centre)).tolist()
    return ProjectorMap(
        screen_px=screen_px,
        homography=((a, b, c), (d, e, f), (g, h, i33)),
        lens=Lens(k1=k1, k2=k2, centre_px=(centre_u, centre_v), unit_px=half),
        covariance=tuple(tuple(row) for row in (linear @ covariance @ linear.T).tolist()),
    )


def terms_in_units(found: ProjectorMap) -> tuple[Array, Array]:
    """Inverse of `map_from_units`: the map's (12,) terms and their (12, 12) covariance in model units."""
    to_pixels, to_units, linear = _steps(found.screen_px)
    matrix = inverse(to_pixels) @ np.array(found.homography) @ inverse(to_units)
    centre = (np.array(found.lens.centre_px) - to_pixels[:2, 2]) / to_pixels[0, 0]
    terms = np.concatenate([matrix.ravel()[:_HOMOGRAPHY], [found.lens.k1, found.lens.k2], centre])
    back = np.linalg.inv(linear)
    covariance: Array = back @ np.array(found.covariance) @ back.T
    return terms, covariance


def _steps(screen_px: tuple[int, int]) -> tuple[Array, Array, Array]:
    """Half widths to pixels (3, 3), inches to table units (3, 3), and (12, 12) slopes of a map's terms by units."""
    width, height = screen_px
    half = width / 2
    to_pixels = np.array([[half, 0, (width - 1) / 2], [0, half, (height - 1) / 2], [0, 0, 1]])
    to_units = np.diag([1 / TABLE_UNIT_IN, 1 / TABLE_UNIT_IN, 1])
    linear = np.zeros((PROJECTOR, PROJECTOR))
    for i, unit in enumerate(np.eye(9)[:_HOMOGRAPHY]):
        linear[:_HOMOGRAPHY, i] = (to_pixels @ unit.reshape(3, 3) @ to_units).ravel()[:_HOMOGRAPHY]
    linear[_HOMOGRAPHY:, _HOMOGRAPHY:] = np.diag([1, 1, half, half])
    return to_pixels, to_units, linear
