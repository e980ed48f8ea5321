"""Contrast against published values: WCAG 2.2 (W3C, 2023), "relative luminance" and "contrast ratio"."""

import numpy as np
import pytest
from skimage.color import rgb2xyz

from projector.lighting.contrast import contrast, relative_luminance


def luminance(colour: str) -> float:
    red, green, blue = (int(colour[place : place + 2], 16) for place in (1, 3, 5))
    return float(relative_luminance(np.array([red, green, blue], np.uint8)))


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("#ffffff", "#000000", 21.0),
        (
            "#ffffff",
            "#767676",
            4.54,
        ),  # the lightest grey that passes 4.5:1 on white (WebAIM, "Contrast", 2021)
        ("#ffffff", "#949494", 3.03),  # and the lightest that passes 3:1 (the same)
        ("#ffffff", "#ff0000", 4.0),  # red text on white fails 4.5:1, its ratio is 4 (the same)
        ("#777777", "#777777", 1.0),
    ],
)
def test_published_ratios(one: str, other: str, ratio: float) -> None:
    assert contrast(luminance(one), luminance(other)) == pytest.approx(ratio, abs=0.006)


def test_relative_luminance_is_the_y_of_an_independent_library() -> None:
    # scikit-image's sRGB to CIE XYZ (IEC 61966-2-1), whose Y is luminance; its matrix has six digits.
    colours = np.random.default_rng(41).integers(0, 256, (500, 3), dtype=np.uint8)
    theirs = rgb2xyz(colours[None])[0, :, 1]
    assert relative_luminance(colours) == pytest.approx(theirs, abs=2e-4)
