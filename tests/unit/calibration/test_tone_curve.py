"""The standard's curve against its definition: IEC 61966-2-1 (sRGB)."""

import numpy as np

from calibration.photos.tone_curve import levels_from_light, light_from_levels


def test_every_level_comes_back() -> None:
    levels = np.arange(256, dtype=np.uint8)
    np.testing.assert_allclose(levels_from_light(light_from_levels(levels))[0], levels, atol=0.02)


def test_the_curve_is_the_standards() -> None:
    """The numbers of the definition: a line of slope 12.92, then 1.055 times a root of 2.4 less 0.055."""
    light = np.array([0.002, 0.2, 0.5, 1.0])
    stored = np.array([12.92 * 0.002, *(1.055 * light[1:] ** (1 / 2.4) - 0.055)])
    np.testing.assert_allclose(levels_from_light(255 * light)[0], 255 * stored)


def test_slopes_are_those_of_the_levels_even_below_no_light() -> None:
    light = np.array([-5.0, 0.0, 0.5, 2.0, 60.0, 250.0])
    risen, sunk = (levels_from_light(light + step)[0] for step in (1e-5, -1e-5))
    np.testing.assert_allclose(levels_from_light(light)[1], (risen - sunk) / 2e-5, rtol=1e-6)
