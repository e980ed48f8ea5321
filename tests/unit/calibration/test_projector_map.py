"""The projector's map: inverse, slopes, forecast."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.frames import Array
from calibration.lens import Lens
from calibration.projector_map import ProjectorMap

LENS = Lens(k1=-0.012, k2=0.004, centre_px=(980.0, 1010.0), unit_px=960.0)
MAP = ProjectorMap(
    screen_px=(1920, 1080),
    homography=((26.0, 0.4, 950.0), (0.2, -25.5, 520.0), (1e-4, 3e-4, 1.0)),
    lens=LENS,
    covariance=tuple(tuple(float(i == j) * 1e-6 for j in range(12)) for i in range(12)),
)
GRID = np.stack(np.meshgrid(np.linspace(-30, 30, 7), np.linspace(-18, 18, 5)), axis=-1).reshape(-1, 2)


def terms(of: ProjectorMap) -> Array:
    return np.array([*np.ravel(of.homography)[:8], of.lens.k1, of.lens.k2, *of.lens.centre_px])


def with_terms(values: Array) -> ProjectorMap:
    (a, b, c), (d, e, f), (g, h, i) = np.append(values[:8], 1.0).reshape(3, 3).tolist()
    k1, k2, u, v = values[8:].tolist()
    return replace(
        MAP,
        homography=((a, b, c), (d, e, f), (g, h, i)),
        lens=replace(LENS, k1=k1, k2=k2, centre_px=(u, v)),
    )


def test_inverse_is_the_inverse() -> None:
    np.testing.assert_allclose(MAP.table_from_screen(MAP.screen_from_table(GRID)), GRID, atol=1e-9)


def test_slopes_agree_with_where_light_goes_astray() -> None:
    slopes = MAP.landing_slopes(GRID)
    pixels = MAP.screen_from_table(GRID)
    for i, step in enumerate(np.diag([1e-4] * 6 + [1e-8] * 2 + [1e-6, 1e-6, 1e-2, 1e-2])):
        more, less = (with_terms(terms(MAP) + sign * step).table_from_screen(pixels) for sign in (1, -1))
        np.testing.assert_allclose(slopes[:, :, i], (more - less) / (2 * step[i]), rtol=1e-4, atol=1e-6)


def test_forecast_is_the_spread_of_drawn_maps() -> None:
    sigma = np.array([0.02, 0.02, 0.5, 0.02, 0.02, 0.5, 1e-6, 1e-6, 3e-4, 1e-4, 2.0, 2.0])
    known = replace(MAP, covariance=tuple(tuple(row) for row in np.diag(sigma**2).tolist()))
    rng = np.random.default_rng(1)
    pixels = known.screen_from_table(GRID)
    drawn = np.array(
        [with_terms(terms(MAP) + rng.normal(0, sigma)).table_from_screen(pixels) - GRID for _ in range(2000)]
    )
    spread = np.sqrt((drawn**2).sum(axis=2).mean(axis=0))
    np.testing.assert_allclose(known.forecast(GRID), spread, rtol=0.08)


def test_the_floor_is_added_in_squares() -> None:
    none = replace(MAP, covariance=tuple((0.0,) * 12 for _ in range(12)), floor_in=0.02)
    np.testing.assert_allclose(none.forecast(GRID), 0.02)


def test_lists_are_taken_and_nonsense_is_not() -> None:
    assert MAP.screen_from_table([[0, 0]]).shape == (1, 2)
    with pytest.raises(ValueError, match=r"shape \(n, 2\)"):
        MAP.screen_from_table([[0.0, 0.0, 0.0]])
    with pytest.raises(ValueError, match="finite"):
        MAP.table_from_screen([[np.nan, 0.0]])


@pytest.mark.parametrize(("k1", "k2"), [(0.0, 0.0), (-0.012, 0.004), (0.08, -0.02), (-0.1, 0.0)])
def test_a_point_alone_comes_back_to_the_same_place_as_one_among_others(k1: float, k2: float) -> None:
    bowed = replace(MAP, lens=replace(LENS, k1=k1, k2=k2))
    pixels = np.array([[0.0, 0.0], [980.0, 1010.0], [700.0, 311.0], [1919.0, 1079.0], [1300.5, 20.0]])
    together = bowed.table_from_screen(pixels)
    alone = np.concatenate([bowed.table_from_screen(pixel[None]) for pixel in pixels])
    assert np.allclose(alone, together, rtol=0, atol=1e-9)
