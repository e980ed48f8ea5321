"""The corner fit against corners drawn with their truth known, by blur, contrast, noise and size."""

from dataclasses import dataclass

import cv2
import numpy as np
import pytest

from calibration.frames import Array, Gray
from calibration.photos.corner_fit import fit_corners

_COUNT = 60
_FINE = 8  # drawn so many times as large, then averaged


@dataclass(frozen=True, kw_only=True)
class Drawn:
    photo: Gray
    corners_px: Array
    sides_px: Array


def drawn(
    *,
    side_px: float,
    blur_px: float,
    dark: float,
    bright: float,
    noise: float,
    tilt: float = 0.0,
    gamma: float = 1.0,
) -> Drawn:
    """A row of corners, each turned, slanted up to 20 degrees and shifted within its pixel at random.

    `dark` and `bright` are light, 255 being full; `noise` is in the levels that it is stored in.
    """
    rng = np.random.default_rng(7)
    half = int(min(side_px * 0.4, 14)) + 4
    cell = 2 * half + 1
    places, sides, cells = [], [], []
    for column in range(_COUNT):
        corner = half + rng.uniform(-0.5, 0.5, 2)
        first = rng.uniform(0, 2 * np.pi)
        second = first + np.pi / 2 + rng.uniform(-0.35, 0.35)
        side = side_px * np.array([[np.cos(first), np.sin(first)], [np.cos(second), np.sin(second)]])
        fine = (np.arange(cell * _FINE) + 0.5) / _FINE - 0.5
        points = np.stack(np.meshgrid(fine, fine), axis=-1)
        same = np.sign((points - corner) @ np.linalg.inv(side)).prod(axis=-1) > 0
        light = np.where(same, bright, dark) * (1 + tilt * (points[..., 0] - half) / cell)
        soft = np.asarray(cv2.GaussianBlur(light, (0, 0), blur_px * _FINE))
        cells.append(soft.reshape(cell, _FINE, cell, _FINE).mean(axis=(1, 3)))
        places.append(corner + np.array([column * cell, 0]))
        sides.append(side)
    seen = np.hstack(cells)
    stored = 255 * (seen / 255) ** (1 / gamma)
    photo = np.rint(stored + rng.normal(0, noise, seen.shape)).clip(0, 255).astype(np.uint8)
    return Drawn(photo=photo, corners_px=np.array(places), sides_px=np.array(sides))


def off(truth: Array, by_px: float) -> Array:
    return truth + np.random.default_rng(3).uniform(-by_px, by_px, truth.shape)


@pytest.mark.parametrize(
    ("side_px", "blur_px", "dark", "bright", "noise", "tilt", "most_rms_px"),
    [
        (80, 1.0, 40, 200, 2, 0.0, 0.012),
        (80, 1.0, 40, 200, 2, 0.3, 0.012),  # light that falls off by a third across the corner
        (80, 2.5, 40, 200, 2, 0.0, 0.03),
        (30, 0.8, 40, 200, 2, 0.0, 0.02),
        (22, 0.8, 40, 200, 2, 0.0, 0.03),
        (16, 0.6, 40, 200, 2, 0.0, 0.03),
        (80, 1.0, 40, 200, 5, 0.0, 0.03),
        (60, 1.0, 100, 140, 2, 0.0, 0.05),
        (80, 1.0, 40, 200, 0, 0.0, 0.003),
    ],
)
def test_corners_are_placed_to_hundredths_of_a_pixel(
    side_px: float, blur_px: float, dark: float, bright: float, noise: float, tilt: float, most_rms_px: float
) -> None:
    made = drawn(side_px=side_px, blur_px=blur_px, dark=dark, bright=bright, noise=noise, tilt=tilt)
    fits = fit_corners(made.photo, off(made.corners_px, 0.02 * side_px), made.sides_px)
    error = fits.places_px - made.corners_px
    rms = float(np.sqrt((error**2).mean()))
    assert rms < most_rms_px, f"measured {rms:.4f} px RMS a coordinate"
    assert (fits.misfit < 0.15).all()


@pytest.mark.parametrize("gamma", [1.0, 1.8, 2.2, 2.4])
def test_whatever_a_cameras_tone_curve_corners_stay_and_fit(gamma: float) -> None:
    """Edges blurred in levels would misfit by 0.08 to 0.10 where the curve is bent."""
    made = drawn(side_px=30, blur_px=1.2, dark=10, bright=180, noise=0, gamma=gamma)
    fits = fit_corners(made.photo, off(made.corners_px, 0.6), made.sides_px)
    error = fits.places_px - made.corners_px
    assert np.sqrt((error**2).mean()) < 0.004
    assert np.median(fits.misfit) < 0.03


@pytest.mark.parametrize("gamma", [1.0, 2.2])
def test_expected_noise_is_honest(gamma: float) -> None:
    made = drawn(side_px=60, blur_px=1.0, dark=60, bright=180, noise=3, gamma=gamma)
    fits = fit_corners(made.photo, off(made.corners_px, 1.0), made.sides_px)
    chi = float(np.sqrt(((fits.places_px - made.corners_px) ** 2 / fits.sigma_px[:, None] ** 2).mean()))
    assert 0.75 < chi < 1.25, f"errors are {chi:.2f} times the noise expected of them"


def test_blur_and_step_are_measured() -> None:
    made = drawn(side_px=60, blur_px=1.5, dark=60, bright=180, noise=1)
    fits = fit_corners(made.photo, made.corners_px, made.sides_px)
    np.testing.assert_allclose(np.median(fits.blur_px), 1.5, atol=0.06)  # a pixel adds 0.29 of its own
    np.testing.assert_allclose(np.median(fits.step), 120, atol=1.5)


def test_fit_is_much_better_than_opencv_subpixel() -> None:
    made = drawn(side_px=60, blur_px=1.0, dark=40, bright=200, noise=2, tilt=0.2)
    guesses = off(made.corners_px, 0.5)
    ours = fit_corners(made.photo, guesses, made.sides_px).places_px - made.corners_px
    stop = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_COUNT, 60, 1e-3)
    theirs = guesses.astype(np.float32).reshape(-1, 1, 2)
    theirs = np.asarray(cv2.cornerSubPix(made.photo, theirs, (10, 10), (-1, -1), stop))
    assert np.sqrt((ours**2).mean()) < 0.6 * np.sqrt(((theirs.reshape(-1, 2) - made.corners_px) ** 2).mean())


def test_plain_and_edge_windows_are_misfits() -> None:
    rng = np.random.default_rng(0)
    plain = np.rint(120 + rng.normal(0, 2, (60, 60))).astype(np.uint8)
    edge = plain.copy()
    edge[:, 33:] = 30
    side = np.array([[[40.0, 0.0], [0.0, 40.0]]])
    for photo in (plain, edge):
        fits = fit_corners(photo, np.array([[30.0, 30.0]]), side)
        moved = np.linalg.norm(fits.places_px - 30.0, axis=1)
        assert (fits.misfit > 0.15) | (fits.step < 10) | (moved > 10)


def test_a_window_outside_the_photo_has_no_finite_misfit() -> None:
    photo = np.full((50, 50), 90, dtype=np.uint8)
    fits = fit_corners(photo, np.array([[-30.0, 20.0], [20.0, 500.0]]), np.tile(30 * np.eye(2), (2, 1, 1)))
    assert np.isinf(fits.misfit).all()


def test_no_corners_give_no_fits() -> None:
    photo = np.full((50, 50), 90, dtype=np.uint8)
    assert len(fit_corners(photo, np.empty((0, 2)), np.empty((0, 2, 2))).places_px) == 0
