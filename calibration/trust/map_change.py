"""A projector's map for points that are first taken elsewhere by a homography of the table."""

from dataclasses import replace

import numpy as np

from calibration.frames import Array
from calibration.projector_map import ProjectorMap

_HOMOGRAPHY = 8


def after(found: ProjectorMap, taken: Array) -> ProjectorMap:
    """The map of points that `taken` (3, 3) takes to the table of `found`; its covariance goes with it."""
    product = np.array(found.homography) @ taken
    by_terms = np.eye(len(found.covariance))
    for i, unit in enumerate(np.eye(9)[:_HOMOGRAPHY]):
        by_terms[:_HOMOGRAPHY, i] = change_of_terms(product, unit.reshape(3, 3) @ taken)
    (a, b, c), (d, e, f), (g, h, i33) = (product / product[2, 2]).tolist()
    covariance = by_terms @ np.array(found.covariance) @ by_terms.T
    return replace(
        found,
        homography=((a, b, c), (d, e, f), (g, h, i33)),
        covariance=tuple(tuple(row) for row in covariance.tolist()),
    )


def change_of_terms(matrix: Array, by: Array) -> Array:
    """(8,) change of a homography's terms, its last kept 1, when the matrix changes by `by` (3, 3)."""
    last = matrix[2, 2]
    change: Array = ((by - matrix * by[2, 2] / last) / last).ravel()[:_HOMOGRAPHY]
    return change
