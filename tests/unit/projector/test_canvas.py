"""Strokes to pixels: where the light lies, how wide it is, and that tiles make the same picture as one."""

import numpy as np
import pytest

from calibration.frames import ScreenPixels
from projector.lighting.canvas import Rect, compose, frame, picture, tile, whole
from projector.lighting.look import RAMP
from projector.lighting.strokes import Drawing, Patch, Picture, Stroke

SCREEN = (400, 300)


def a_line(
    start: tuple[float, float], end: tuple[float, float], width_px: float, light: float = 1.0
) -> Stroke:
    points = ScreenPixels(np.array([start, end], dtype=np.float64))
    return Stroke(points=points, ends=np.array([2]), width_px=width_px, light=light)


def a_square(low: float, high: float, light: float) -> Patch:
    points = ScreenPixels(np.array([[low, low], [high, low], [high, high], [low, high]]))
    return Patch(points=points, ends=np.array([4]), letter_px=high - low, light=light)


def section(drawing: Drawing, angle: float) -> tuple[float, float]:
    """Light across a line through (200.3, 149.7) in pixels of full light, and its centre's offset."""
    shown = compose([tile(drawing, SCREEN)], whole(SCREEN)) / 255.0
    v, u = np.mgrid[: SCREEN[1], : SCREEN[0]]
    along = (u - 200.3) * np.cos(angle) + (v - 149.7) * np.sin(angle)
    across = -(u - 200.3) * np.sin(angle) + (v - 149.7) * np.cos(angle)
    middle = np.abs(along) < 60
    lit = shown[middle]
    return float(lit.sum() / 120), float((lit * across[middle]).sum() / lit.sum())


@pytest.mark.parametrize("width_px", [1.3, 1.9, 2.4, 3.7, 5.0, 8.0])
@pytest.mark.parametrize("degrees", [0, 7, 30, 45, 60, 90, 133, 171])
def test_a_stroke_lies_on_its_line_with_its_width(width_px: float, degrees: int) -> None:
    angle = np.deg2rad(degrees)
    step = 100 * np.array([np.cos(angle), np.sin(angle)])
    start, end = np.array([200.3, 149.7]) - step, np.array([200.3, 149.7]) + step
    width, centre = section((a_line(tuple(start), tuple(end), width_px),), angle)
    assert abs(centre) < 0.05
    assert width == pytest.approx(width_px, abs=max(0.35, 0.05 * width_px))


def test_the_brighter_line_stays_whole_where_two_cross() -> None:
    bright, dim = a_line((50, 150), (350, 150), 2.0), a_line((200, 50), (200, 250), 2.0, light=0.2)
    alone = compose([tile((bright,), SCREEN)], whole(SCREEN))
    both = compose([tile((bright, dim), SCREEN)], whole(SCREEN))
    assert (both[149:152] >= alone[149:152]).all()
    assert (compose([tile((dim, bright), SCREEN)], whole(SCREEN)) == both).all()


def test_a_line_stands_out_of_the_letter_it_crosses() -> None:
    light = compose(
        [tile((a_square(100, 200, 0.2), a_line((50, 150), (350, 150), 1.3, 0.3)), SCREEN)], whole(SCREEN)
    )
    column = light[:, 150]
    assert column[150] == pytest.approx(0.3 * 255, abs=8)
    assert column[147] == column[153] == 0
    assert column[120] == round(0.2 * 255)


def test_a_small_letter_interrupts_a_dimmer_line_and_never_a_brighter_one() -> None:
    for line_light, seen in ((0.25, 0.5), (0.9, 0.9)):
        drawing = (a_square(140, 160, 0.5), a_line((50, 150), (350, 150), 1.3, line_light))
        light = compose([tile(drawing, SCREEN)], whole(SCREEN))
        assert light[150, 150] == pytest.approx(seen * 255, abs=25)
        assert light[150, 300] == pytest.approx(line_light * 255, abs=25)
        assert (light[150, 139] == 0) == (line_light < 0.5)


@pytest.mark.parametrize(("size", "rim"), [(12.0, 0.15), (30.0, 0.3), (80.0, 0.75)])
def test_a_letter_has_little_rim_and_a_small_one_less(size: float, rim: float) -> None:
    light = compose([tile((a_square(99.5, 99.5 + size, 1.0),), SCREEN)], whole(SCREEN)) / 255.0
    assert size - 0.1 < np.sqrt(light.sum()) < size + 2 * rim


def test_light_off_the_screen_is_cropped_without_changing_the_rest() -> None:
    drawing = (a_line((-40, 10), (440, 290), 2.4),)
    whole_picture = frame([drawing], SCREEN)
    large = frame([(a_line((60, 110), (540, 390), 2.4),)], (600, 500))
    assert (whole_picture == large[100:400, 100:500]).all()


def test_nothing_on_the_screen_is_dark() -> None:
    assert frame([()], SCREEN).max() == 0
    assert tile((a_line((900, 900), (950, 900), 2.0),), SCREEN).rect.is_empty


def test_tiles_side_by_side_show_the_brightest() -> None:
    one, other = tile((a_square(50, 150, 0.5),), SCREEN), tile((a_square(100, 200, 0.8),), SCREEN)
    light = compose([one, other], Rect(left=90, top=90, right=160, bottom=160))
    assert light.shape == (70, 70)
    assert light[0, 0] == round(0.5 * 255)
    assert light[30, 30] == round(0.8 * 255)


def test_the_picture_is_one_colour_from_dark_to_full() -> None:
    colours = picture(np.arange(256, dtype=np.uint8)[None])[0].astype(int)
    assert colours[0].tolist() == [0, 0, 0]
    assert colours[255, 0] == 255
    assert (np.diff(colours, axis=0) >= 0).all()
    shares = colours[40:] / colours[40:, :1]
    assert np.ptp(shares, axis=0).max() < 0.02


def test_half_the_light_is_sent_as_gamma_asks() -> None:
    # A display of gamma 2.2 shows (v / 255) ** 2.2 of its light (IEC 61966-2-1 is close to it).
    assert (RAMP[128, 0] / 255) ** 2.2 == pytest.approx(128 / 255, abs=0.01)


def test_a_still_picture_lies_pixel_on_pixel_under_lines_and_is_cropped_to_the_screen() -> None:
    pixels = np.random.default_rng(4).integers(0, 200, (310, 420), dtype=np.uint8)
    line = a_line((20.0, 50.0), (380.0, 50.0), 4.0)
    alone = compose([tile((Picture(pixels=pixels),), SCREEN)], whole(SCREEN))
    assert np.array_equal(alone, pixels[:300, :400])
    crossed = compose([tile((line, Picture(pixels=pixels)), SCREEN)], whole(SCREEN))
    assert (crossed[49:52, 25:375] > 220).all()
    assert np.array_equal(crossed[60:], pixels[60:300, :400])
