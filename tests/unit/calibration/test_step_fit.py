"""Where the step across a cloth's edge is placed, with and without a soft shadow beside it."""

import numpy as np
import pytest
from scipy import special

from calibration.frames import Array
from calibration.garment.step_fit import REACH_PX, fitted, steepest

STEPS = 2.0  # to a pixel
AT_PX = np.arange(-REACH_PX, REACH_PX + 0.1, 1 / STEPS)
TABLE, CLOTH = np.array([0.35, 0.25, 0.15]), np.array([0.03, 0.03, 0.06])
PLACES_PX = np.linspace(-0.9, 0.9, 13)


def strips(shade: float, blur_px: float = 0.8) -> Array:
    """Dark cloth whose edge lies at each of the places; a shadow two pixels wide takes its share of the light."""
    off = AT_PX[None] - PLACES_PX[:, None]
    fine = np.linspace(-30, 30, 2401)
    lit = (1 - shade * special.ndtr(-fine / 2.0))[:, None] * TABLE
    light = np.where(fine[:, None] > 0, lit, CLOTH)
    kernel = np.exp(-((fine[1080:1321] / blur_px) ** 2) / 2)
    soft = np.stack([np.convolve(light[:, c], kernel / kernel.sum(), "same") for c in range(3)], axis=1)
    return np.stack([np.interp(off, fine, soft[:, c]) for c in range(3)], axis=-1)


def steep(light: Array) -> Array:
    way = (TABLE - CLOTH) / np.linalg.norm(TABLE - CLOTH)
    return steepest(light, np.tile(way, (len(light), 1)), STEPS) / STEPS


@pytest.mark.parametrize("blur_px", [0.6, 0.8, 1.2])
def test_without_shade_both_ways_agree_with_the_truth(blur_px: float) -> None:
    light = strips(0.0, blur_px)
    assert np.abs(steep(light) - PLACES_PX).max() < 0.05
    assert np.abs(fitted(light, STEPS) / STEPS - PLACES_PX).max() < 0.08


def test_a_shadow_draws_the_steepest_slope_but_not_the_fitted_step() -> None:
    light = strips(0.5)
    drawn = steep(light) - PLACES_PX
    assert drawn.mean() > 0.1
    assert np.abs(fitted(light, STEPS) / STEPS - PLACES_PX).max() < 0.4 * drawn.mean()


def test_noise_moves_the_steepest_slope_less() -> None:
    noise = np.random.default_rng(3).normal(0, 0.01, (400, len(AT_PX), 3))
    light = strips(0.0)[6] + noise
    assert steep(light).std() < 0.7 * (fitted(light, STEPS) / STEPS).std()
