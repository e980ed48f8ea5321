"""Between model units and the map in inches and pixels."""

import numpy as np

from calibration.solving.unit_map import map_from_units, terms_in_units
from tests.unit.calibration.test_projector_map import MAP


def test_there_and_back() -> None:
    terms, covariance = terms_in_units(MAP)
    back = map_from_units(terms, covariance, MAP.screen_px)
    np.testing.assert_allclose(back.homography, MAP.homography, atol=1e-12)
    np.testing.assert_allclose(back.covariance, MAP.covariance, rtol=1e-9, atol=1e-15)
    np.testing.assert_allclose(back.lens.centre_px, MAP.lens.centre_px)
    assert (back.lens.k1, back.lens.k2, back.lens.unit_px) == (MAP.lens.k1, MAP.lens.k2, MAP.lens.unit_px)
