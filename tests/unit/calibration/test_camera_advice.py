"""Advice on frames of the practice table, spoilt one way at a time."""

import cv2
import numpy as np
import pytest

from calibration.cameras.advice import advice
from tests.unit.calibration.recorded import Light, developed, light


@pytest.mark.parametrize("exposure", [0.25, 1.0, 1.3])
def test_a_fair_exposure_is_left_alone(exposure: float) -> None:
    assert advice(developed(exposure * light(), 1)) == ""


@pytest.mark.parametrize("exposure", [0.02, 0.08])
def test_too_dark(exposure: float) -> None:
    said = advice(developed(exposure * light(), 1))
    assert said.startswith("too dark: white is ")
    assert said.endswith(" of 255; raise the exposure, or let the projector shine brighter")


@pytest.mark.parametrize("exposure", [2.5, 6.0])
def test_too_bright(exposure: float) -> None:
    said = advice(developed(exposure * light(), 1))
    assert said.startswith("too bright: ")
    assert said.endswith("% of the white is burnt out; lower the exposure, or dim the room")


@pytest.mark.parametrize("blur_px", [2.0, 5.0])
def test_blurred(blur_px: float) -> None:
    soft: Light = np.asarray(cv2.GaussianBlur(light(), (0, 0), blur_px), dtype=np.float32)
    assert advice(developed(soft, 1)) == "blurred: focus the camera on the table, and keep it still"


def test_too_even() -> None:
    assert advice(developed(0.02 * light() + 0.3, 1)).startswith("too even: white and black are ")
    assert advice(np.full((1080, 1920), 128, np.uint8)) == (
        "too even: white and black are 0 of 255 apart; dim the room, and let the camera see the table"
    )


def test_a_plain_white_one_is_burnt_out() -> None:
    assert advice(np.full((1080, 1920), 255, np.uint8)).startswith("too bright: 100% of the white")
