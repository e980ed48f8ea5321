"""Pictures compared by the farthest stray lit pixel, both ways; a failure leaves them behind."""

from pathlib import Path

import cv2
import numpy as np

from projector.outputs import write_picture
from tests.window.desk import Desk, Pixels

LIT = 40
LEFT_BEHIND = Path(__file__).resolve().parents[2] / ".failures"


def stray_px(actual: Pixels, expected: Pixels) -> float:
    """How far the worst lit pixel of either picture is from a lit pixel of the other."""
    lit = [picture.max(axis=2) > LIT for picture in (actual, expected)]
    worst = 0.0
    for one, other in (lit, lit[::-1]):
        if not one.any():
            continue
        if not other.any():
            return float("inf")
        away = cv2.distanceTransform((~other).astype(np.uint8), cv2.DIST_L2, cv2.DIST_MASK_PRECISE)
        worst = max(worst, float(away[one].max()))
    return worst


def assert_same(actual: Pixels, expected: Pixels, name: str) -> None:
    """Fail with the pictures left behind unless they are the same to the last bit."""
    if np.array_equal(actual, expected):
        return
    LEFT_BEHIND.mkdir(exist_ok=True)
    for what, picture in (
        ("actual", actual),
        ("expected", expected),
        ("difference", np.abs(actual.astype(int) - expected).astype(np.uint8)),
    ):
        write_picture(LEFT_BEHIND / f"{name}-{what}.png", picture)
    raise AssertionError(
        f"{name}: lit pixels stray by {stray_px(actual, expected):.1f} px; see {LEFT_BEHIND}"
    )


def wait_for_picture(desk: Desk, picture: Pixels, name: str) -> Pixels:
    """What is shown, once it is the picture to the last bit; else both are left behind."""
    try:
        return desk.wait_for(lambda pixels: np.array_equal(pixels, picture), name)
    except AssertionError:
        assert_same(desk.pixels(), picture, name)
        raise
