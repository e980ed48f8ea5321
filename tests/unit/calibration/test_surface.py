"""A cutting surface above the aligned plane."""

import numpy as np
import pytest

from calibration.errors import AlignmentError
from calibration.surface import Surface
from tests.unit.calibration.test_projector_map import MAP


@pytest.mark.parametrize(
    ("height", "away", "lens_height", "shift", "within"),
    [
        # similar triangles; the figures of the alignment measurements: 1/4 in at 30 in under 70 in
        (0.25, 30.0, 70.0, 0.108, 5e-4),
        # a lift of 3 mm at 800 mm under a lens 2000 mm high, rounded there to 0.1 mm
        (3 / 25.4, 800 / 25.4, 2000 / 25.4, 1.2 / 25.4, 0.05 / 25.4),
    ],
)
def test_light_falls_nearer_to_the_foot(
    height: float, away: float, lens_height: float, shift: float, within: float
) -> None:
    surface = Surface(height_in=height, lens_in=(2.0, -1.0, lens_height))
    across, up = surface.shift_in(MAP, [(2.0 + away, -1.0), (2.0, -1.0 - away)])
    np.testing.assert_allclose(across, (-shift, 0), atol=within)
    np.testing.assert_allclose(up, (0, shift), atol=within)


def test_a_surface_out_of_reach_is_refused() -> None:
    with pytest.raises(AlignmentError, match="said to be 14 in above the aligned table; up to 12 in can be"):
        Surface(height_in=14.0)


def test_a_lens_below_the_surface_is_refused() -> None:
    with pytest.raises(AlignmentError, match="2 in above the table, no higher than the surface at 3 in"):
        Surface(height_in=3.0, lens_in=(0.0, 0.0, 2.0))


def test_a_lens_that_is_nowhere_is_refused() -> None:
    with pytest.raises(AlignmentError, match="give three lengths in inches"):
        Surface(height_in=1.0, lens_in=(0.0, np.nan, 70.0))
