"""A cutting surface above the aligned plane, and where the lens above it is."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.errors import AlignmentError
from calibration.frames import Array
from calibration.lens import Lens
from calibration.practice.optics import Eye, tilted_axes
from calibration.projector_map import ProjectorMap
from calibration.trust.lens_place import find_lens
from calibration.trust.surface import HEIGHT_SIGMA_IN, Surface, lit_grid
from tests.unit.calibration.test_projector_map import GRID, MAP

LENS_IN = (3.0, 9.0, 71.0)
UNIT_PX = 960.0
CENTRE_PX = (952.0, 900.0)


def an_eye(pitch_deg: float, yaw_deg: float) -> Eye:
    """A projector with lens shift whose place is known; it shares no code with the maps."""
    return Eye(
        size_px=(1920, 1080),
        focal_px=1750.0,
        centre_px=CENTRE_PX,
        at_in=LENS_IN,
        axes=tilted_axes(pitch_deg, yaw_deg, 2.0),
        bow=(-0.008, 0.002),
    )


def its_map(eye: Eye, sigma_in: float = 1e-4) -> ProjectorMap:
    """The eye's own map of z = 0, its covariance that of a fit to corners over the table."""
    matrix = np.array(eye.axes) @ np.column_stack([np.eye(3)[:, :2], -np.array(eye.at_in)])
    u, v = eye.centre_px
    inside = np.array([[eye.focal_px, 0, u], [0, eye.focal_px, v], [0, 0, 1]])
    homography = inside @ matrix
    (a, b, c), (d, e, f), (g, h, i) = (homography / homography[2, 2]).tolist()
    found = ProjectorMap(
        screen_px=eye.size_px,
        homography=((a, b, c), (d, e, f), (g, h, i)),
        lens=Lens(k1=eye.bow[0], k2=eye.bow[1], centre_px=CENTRE_PX, unit_px=UNIT_PX),
        covariance=MAP.covariance,
    )
    slopes = found.landing_slopes(lit_grid(found)).reshape(-1, 12) / sigma_in
    scale = np.sqrt((slopes**2).sum(axis=0))
    covariance = np.linalg.inv((slopes / scale).T @ (slopes / scale)) / np.outer(scale, scale)
    return replace(found, covariance=tuple(tuple(row) for row in covariance.tolist()))


def falls_at(eye: Eye, pixels: Array, height_in: float) -> Array:
    """(n, 2) inches where the eye's light meets the plane at a height."""
    rays = eye.rays_from_pixels(pixels)
    return np.array(eye.at_in[:2]) + rays[:, :2] * ((height_in - eye.at_in[2]) / rays[:, 2:])


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


@pytest.mark.parametrize("height_in", [0.25, 1.5, -0.75])
def test_a_measured_lens_puts_light_right_on_the_raised_plane(height_in: float) -> None:
    eye = an_eye(4.0, -3.0)
    found = its_map(eye)
    surface = Surface(height_in=height_in, lens_in=LENS_IN, corrected=True)
    corrected = surface.corrected_map(found)
    np.testing.assert_allclose(falls_at(eye, corrected.screen_from_table(GRID), height_in), GRID, atol=1e-6)
    fell = falls_at(eye, found.screen_from_table(GRID), height_in)
    np.testing.assert_allclose(fell - GRID, surface.shift_in(found, fell), atol=1e-6)


def test_the_lens_of_a_tilted_projector_is_found() -> None:
    found = its_map(an_eye(12.0, -6.0))
    place = find_lens(found)
    np.testing.assert_allclose(place.at_in, LENS_IN, atol=3)
    np.testing.assert_allclose(place.at_in[:2], LENS_IN[:2], atol=0.5)
    assert max(place.sigmas_in) < 10


def test_a_square_picture_hides_the_lens_height_and_says_so() -> None:
    place = find_lens(its_map(an_eye(0.0, 0.0), sigma_in=0.01))
    *foot_sigmas, height_sigma = place.sigmas_in
    assert height_sigma > 15
    assert max(foot_sigmas) < 3
    off = (np.array(place.at_in) - LENS_IN) / place.sigmas_in
    assert np.abs(off).max() < 2


def test_the_estimated_lens_takes_most_of_the_shift_away() -> None:
    eye = an_eye(8.0, -3.0)
    found = its_map(eye)
    corrected = Surface(height_in=0.5, corrected=True).corrected_map(found)
    before = np.hypot(*(falls_at(eye, found.screen_from_table(GRID), 0.5) - GRID).T).max()
    after = np.hypot(*(falls_at(eye, corrected.screen_from_table(GRID), 0.5) - GRID).T).max()
    assert after < before / 8


def test_the_corrected_forecast_is_the_spread_of_drawn_lenses_and_heights() -> None:
    exact = replace(its_map(an_eye(4.0, -3.0)), covariance=tuple((0.0,) * 12 for _ in range(12)))
    surface = Surface(height_in=1.0, lens_in=LENS_IN, corrected=True)
    forecast = surface.corrected_map(exact).forecast(GRID)
    aim = surface.corrected_map(exact).screen_from_table(GRID)
    rng = np.random.default_rng(2)
    strays = []
    for _ in range(800):
        x, y, height = LENS_IN + rng.normal(0, 0.5, 3)
        drawn = Surface(height_in=1.0 + rng.normal(0, HEIGHT_SIGMA_IN), lens_in=(x, y, height))
        strays.append(drawn.corrected_map(exact).table_from_screen(aim) - GRID)
    spread = np.sqrt((np.array(strays) ** 2).sum(axis=2).mean(axis=0))
    np.testing.assert_allclose(forecast, spread, rtol=0.1)
    np.testing.assert_allclose(surface.unsure_in(exact, GRID), spread, rtol=0.1)


def test_what_was_known_of_the_map_is_carried_to_the_surface() -> None:
    known = its_map(an_eye(4.0, -3.0), sigma_in=0.02)
    surface = Surface(height_in=1e-9, lens_in=LENS_IN, corrected=True)
    added = HEIGHT_SIGMA_IN * np.hypot(*(GRID - LENS_IN[:2]).T) / LENS_IN[2]
    forecast = surface.corrected_map(known).forecast(GRID)
    np.testing.assert_allclose(forecast, np.hypot(known.forecast(GRID), added), rtol=1e-6)


def test_the_claim_counts_a_shift_that_is_not_corrected() -> None:
    found = its_map(an_eye(4.0, -3.0))
    plain = Surface(height_in=0.25, lens_in=LENS_IN)
    corrected = replace(plain, corrected=True)
    shift_in = np.quantile(np.hypot(*plain.shift_in(found, lit_grid(found)).T), 0.95)
    assert plain.claim_in(found, 0.02) > shift_in + 0.02
    assert 0.02 < corrected.claim_in(found, 0.02) < 0.04
    assert Surface().claim_in(found, 0.02) == 0.02


def test_a_surface_at_the_table_changes_nothing() -> None:
    assert Surface(lens_in=LENS_IN, corrected=True).corrected_map(MAP) is MAP


def test_a_surface_out_of_reach_is_refused() -> None:
    with pytest.raises(AlignmentError, match="said to be 14 in above the aligned table; up to 12 in can be"):
        Surface(height_in=14.0)


def test_a_lens_below_the_surface_is_refused() -> None:
    with pytest.raises(AlignmentError, match="2 in above the table, no higher than the surface at 3 in"):
        Surface(height_in=3.0, lens_in=(0.0, 0.0, 2.0))


def test_a_lens_that_is_nowhere_is_refused() -> None:
    with pytest.raises(AlignmentError, match="give three lengths in inches"):
        Surface(height_in=1.0, lens_in=(0.0, np.nan, 70.0))
