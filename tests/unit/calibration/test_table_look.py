"""What is told from the bare table: colour, not light and shade."""

import numpy as np
import pytest

from calibration.frames import Array
from calibration.garment.table_look import TableLook, light, log_light

WOOD = np.array([0.42, 0.29, 0.18])
SHIRT = np.array([0.80, 0.77, 0.70])


def levels_of(shares: Array) -> Array:
    return np.clip(shares, 0, 1) ** (1 / 2.2) * 255


def table(falloff: float) -> tuple[Array, Array]:
    """Places over 60 x 36 in and log colours of wood with grain, darker to the right."""
    rng = np.random.default_rng(2)
    places = rng.uniform((-30, -18), (30, 18), (6000, 2))
    bright = 0.8 * np.exp(-falloff * places[:, 0] / 30)
    grain = 1 + 0.08 * rng.standard_normal(len(places))
    return places, log_light(levels_of(WOOD * (bright * grain)[:, None]))


def test_levels_and_light_go_together() -> None:
    assert light(np.array([0.0, 255.0])).tolist() == [0.0, 1.0]
    assert float(log_light(np.array([255.0]))[0]) == pytest.approx(np.log(1.004))


def test_daylight_that_falls_off_is_still_the_table() -> None:
    places, logs = table(0.4)
    sure = np.hypot(*(places - (-20, 8)).T) < 8  # seen round one sheet only
    look = TableLook.learnt(places, logs, sure)
    assert np.quantile(look.strangeness(places, logs), 0.98) < 4


def test_cloth_is_strange_and_its_shade_on_the_table_is_not() -> None:
    places, logs = table(0.2)
    look = TableLook.learnt(places, logs, np.hypot(*(places - (-20, 8)).T) < 8)
    middle = np.zeros((1, 2))
    cloth, shade, black = (
        log_light(levels_of(tone * 0.8))[None] for tone in (SHIRT, 0.6 * WOOD, 0.05 * SHIRT)
    )
    assert look.strangeness(middle, cloth)[0] > 8
    assert look.strangeness(middle, shade)[0] < 1.5
    assert look.strangeness(middle, black)[0] > 8


def test_thin_cloth_over_wood_is_strange() -> None:
    places, logs = table(0.0)
    look = TableLook.learnt(places, logs, np.hypot(*(places - (-20, 8)).T) < 8)
    sheer = log_light(levels_of((0.3 * SHIRT + 0.7 * WOOD) * 0.8))[None]
    assert look.strangeness(np.zeros((1, 2)), sheer)[0] > 5
