"""An alignment whose light is true in the middle and worse and worse towards the rim."""

from dataclasses import replace

import numpy as np

from calibration.table.saved import Alignment
from tests.unit.projector.samples import a_map, an_alignment

SHIFT_PX, STRETCH_PX_AN_IN = 0.1, 0.045  # one sigma: about 1/16 in is passed at 25 in from the middle


def a_graded_alignment(*, turn_deg: float = 0.0, p95_in: float = 0.02) -> Alignment:
    """All four grades are in its light; the forecast's own 95th percentile there is about 0.1 in."""
    covariance = np.diag([STRETCH_PX_AN_IN, 0, SHIFT_PX, 0, STRETCH_PX_AN_IN, SHIFT_PX, *[0.0] * 6]) ** 2
    graded = replace(a_map(), covariance=tuple(tuple(row) for row in covariance.tolist()))
    return replace(an_alignment(graded, turn_deg=turn_deg, p95_in=p95_in), rms_in=0.0)
