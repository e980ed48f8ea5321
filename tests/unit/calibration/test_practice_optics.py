"""The practice table's pinhole optics against geometry done by hand."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.practice.optics import Eye, axes_looking_at, tilted_axes

STRAIGHT_DOWN = Eye(
    size_px=(1920, 1080),
    focal_px=1800.0,
    centre_px=(950.0, 1000.0),
    at_in=(3.0, -2.0, 72.0),
    axes=tilted_axes(0.0, 0.0, 0.0),
)


def test_a_point_under_the_lens_falls_on_the_centre_and_right_and_up_go_as_seen_from_above() -> None:
    points = np.array([[3.0, -2.0, 0.0], [4.0, -2.0, 0.0], [3.0, -1.0, 0.0], [4.0, -2.0, 36.0]])

    pixels = STRAIGHT_DOWN.pixels_from_room(points)

    # 1800 px of focal length over 72 in is 25 px an inch; at half the distance 50
    assert pixels == pytest.approx(np.array([[950, 1000], [975, 1000], [950, 975], [1000, 1000]]))


def test_bow_at_half_the_picture_width_is_the_sum_of_its_terms() -> None:
    bowed = replace(STRAIGHT_DOWN, bow=(0.02, -0.003))
    point = np.array([[3.0 + 960 / 25, -2.0, 0.0]])  # 960 px from the centre without bow

    assert bowed.pixels_from_room(point) == pytest.approx(np.array([[950 + 960 * 1.017, 1000.0]]))


def test_decentring_moves_points_as_brown_says() -> None:
    # Brown (1966): dx = 2 p1 x y + p2 (r^2 + 2 x^2), dy = p1 (r^2 + 2 y^2) + 2 p2 x y, in focal lengths
    p1, p2, x, y = 3e-4, -2e-4, 0.4, -0.25
    point = np.array([[3.0 + 72 * x, -2.0 - 72 * y, 0.0]])
    r2 = x * x + y * y
    dx, dy = 2 * p1 * x * y + p2 * (r2 + 2 * x * x), p1 * (r2 + 2 * y * y) + 2 * p2 * x * y

    moved = replace(STRAIGHT_DOWN, decentring=(p1, p2)).pixels_from_room(point)

    assert moved - STRAIGHT_DOWN.pixels_from_room(point) == pytest.approx(np.array([[1800 * dx, 1800 * dy]]))


@pytest.mark.parametrize("tilts", [(0.0, 0.0, 0.0), (4.0, -3.0, 1.5), (-4.0, 2.0, 170.0)])
def test_a_ray_through_a_pixel_leads_back_to_it(tilts: tuple[float, float, float]) -> None:
    eye = replace(STRAIGHT_DOWN, axes=tilted_axes(*tilts), bow=(-0.02, 0.01), decentring=(4e-4, -3e-4))
    pixels = np.stack(np.meshgrid(np.linspace(0, 1919, 9), np.linspace(0, 1079, 7)), axis=-1).reshape(-1, 2)

    on_their_way = eye.at_in + 40 * eye.rays_from_pixels(pixels)

    assert eye.pixels_from_room(on_their_way) == pytest.approx(pixels, abs=1e-7)


def test_an_eye_that_looks_at_a_point_sees_it_in_the_middle_with_the_room_upright() -> None:
    at, target = (20.0, -50.0, 60.0), (1.0, 2.0, 0.0)
    upright = replace(STRAIGHT_DOWN, at_in=at, axes=axes_looking_at(at, target, 0.0))
    middle, above = upright.pixels_from_room(np.array([target, (1.0, 2.0, 1.0)]))
    assert middle == pytest.approx([950, 1000])
    assert above[0] == pytest.approx(950)
    assert above[1] < 1000

    turned = replace(upright, axes=axes_looking_at(at, target, 90.0))
    _, beside = turned.pixels_from_room(np.array([target, (1.0, 2.0, 1.0)]))
    assert beside[1] == pytest.approx(1000)
    assert beside[0] < 950  # an eye turned clockwise sees the room turned the other way


def test_nothing_behind_the_lens_is_seen() -> None:
    with pytest.raises(ValueError, match="a point behind the lens has no pixel"):
        STRAIGHT_DOWN.pixels_from_room(np.array([[0.0, 0.0, 80.0]]))


def test_mirrored_axes_are_no_eye() -> None:
    mirrored = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, -1.0))
    with pytest.raises(ValueError, match="right-handed"):
        replace(STRAIGHT_DOWN, axes=mirrored)


def test_no_points_make_no_pixels_and_no_rays() -> None:
    assert STRAIGHT_DOWN.pixels_from_room(np.zeros((0, 3))).shape == (0, 2)
    assert STRAIGHT_DOWN.rays_from_pixels(np.zeros((0, 2))).shape == (0, 3)
