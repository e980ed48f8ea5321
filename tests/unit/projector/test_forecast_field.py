"""The field tells what the map's own forecast tells."""

from dataclasses import replace

import numpy as np
import pytest

from projector.lighting.lit_area import lit_area
from projector.pictures.forecast_field import forecast_field
from tests.unit.projector.samples import a_map

# One sigma of the homography's eight terms, such that the scale and the keystone are what is known least.
TERMS = np.array([0.02, 0.02, 0.1, 0.02, 0.02, 0.1, 2e-5, 2e-5])
COVARIANCE = np.diag([*TERMS**2, 0.0, 0.0, 0.0, 0.0])
MAP = replace(a_map(k1=0.02), covariance=tuple(tuple(row) for row in COVARIANCE.tolist()))


def test_at_each_place_of_the_light_it_is_the_forecast_within_a_twentieth() -> None:
    rng = np.random.default_rng(3)
    width, height = MAP.screen_px
    places = MAP.table_from_screen(rng.uniform((0, 0), (width - 1, height - 1), (400, 2)))
    exact = MAP.forecast(places)
    found = np.array([forecast_field(MAP).worst_in(place[None]) for place in places])
    assert exact.max() > 5 * exact.min()
    assert found == pytest.approx(exact, rel=0.05)


def test_the_worst_of_several_places_is_told() -> None:
    border_in = lit_area(MAP).border_in
    field = forecast_field(MAP)
    assert field.worst_in(border_in) == max(field.worst_in(place[None]) for place in border_in)


def test_a_place_off_the_light_is_told_of_by_the_nearest_on_it() -> None:
    field = forecast_field(MAP)
    right = lit_area(MAP).border_in[:, 0].max()
    there, beyond = (field.worst_in(np.array([[x, 0.0]])) for x in (right, right + 40.0))
    assert beyond == pytest.approx(there, rel=0.05)
