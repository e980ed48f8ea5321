"""Bowed top, curled paper and imperfect print, by hand."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.frames import Array, SheetInches
from calibration.practice.surface import (
    CURL_REACH_IN,
    TABLE_IN,
    LaidSheet,
    Pose,
    Print,
    TableTop,
    meet_surface,
    on_surface,
)

MM = 1 / 25.4


def test_a_lift_of_3_mm_shifts_light_1_2_mm_towards_the_foot() -> None:
    # plain geometry: z r / H for light aimed at r on the table
    def lifted(room_xy: Array) -> Array:
        return np.full(len(room_xy), 3 * MM)

    foot = np.array([5.0, -4.0])
    aimed_at = foot + np.array([800 * MM, 0.0])
    ray = np.array([[800 * MM, 0.0, -2000 * MM]])

    fell = meet_surface((5.0, -4.0, 2000 * MM), ray, lifted)

    assert (aimed_at - fell[0]) / MM == pytest.approx([1.2, 0.0], abs=1e-9)


def test_rays_meet_a_bowed_top_on_its_surface() -> None:
    top = TableTop(bow_x_in=0.5, bow_y_in=-0.3)  # far more than any table, so that the steps have work
    at = np.array([4.0, 30.0, 70.0])
    room_xy = np.random.default_rng(1).uniform([-30, -18], [30, 18], (200, 2))

    met = meet_surface((4.0, 30.0, 70.0), on_surface(room_xy, top.height) - at, top.height)

    assert met == pytest.approx(room_xy, abs=1e-9)


def test_a_ray_that_rises_meets_nothing() -> None:
    with pytest.raises(ValueError, match="does not go down"):
        meet_surface((0.0, 0.0, 60.0), np.array([[1.0, 0.0, 0.0]]), TableTop().height)


def test_heights_of_a_bowed_top() -> None:
    top = TableTop(bow_x_in=1 / 32, bow_y_in=1 / 64)
    width, depth = TABLE_IN
    places = np.array([[0, 0], [width / 2, 0], [0, -depth / 2], [-width / 2, depth / 2], [width / 4, 0]])

    assert top.height(places) == pytest.approx([0, 1 / 32, 1 / 64, 3 / 64, 1 / 128])


@pytest.mark.parametrize(
    ("middle", "edge", "heights"),
    [
        (0.0, 1 / 16, [0, 1 / 64, 1 / 16, 0]),
        (1 / 16, 0.0, [1 / 16, 3 / 64, 0, 1 / 16]),
    ],
)
def test_curl_lifts_in_one_direction_only(middle: float, edge: float, heights: list[float]) -> None:
    sheet = LaidSheet(number=1, pose=Pose(), middle_lift_in=middle, edge_lift_in=edge, curl_deg=90.0)
    places = np.array([[0, 0], [0, CURL_REACH_IN / 2], [1, -CURL_REACH_IN], [4, 0]])

    assert sheet.lift(places) == pytest.approx(heights)


def test_paper_never_dips_into_the_table() -> None:
    sheet = LaidSheet(number=1, pose=Pose(), middle_lift_in=1 / 16)

    assert sheet.lift(np.array([[7.0, 0.0]])) == pytest.approx([0.0])


def test_a_print_is_scaled_about_the_page_centre() -> None:
    ink = Print(scale_x=1.002, scale_y=1.003)

    assert ink.inked_from_drawn(np.array([[4.0, -5.0]])) == pytest.approx(np.array([[4.008, -5.015]]))


def test_print_jitter_is_of_its_size_and_undone_exactly() -> None:
    places = np.random.default_rng(3).uniform(-5, 5, (400, 2))
    seen = []
    for seed in range(30):
        ink = Print(scale_x=1.001, jitter_in=0.002, seed=seed)
        inked = ink.inked_from_drawn(places)
        seen.append(inked - places * (1.001, 1.0))
        assert ink.drawn_from_inked(inked) == pytest.approx(places, abs=1e-12)
    assert np.sqrt(np.mean(np.square(seen))) == pytest.approx(0.002, rel=0.1)
    assert not np.allclose(seen[0], seen[1], atol=1e-4)


def test_print_jitter_is_smooth() -> None:
    line = np.column_stack([np.linspace(-5, 5, 201), np.zeros(201)])
    moved = Print(jitter_in=0.002, seed=4).inked_from_drawn(line) - line

    assert np.abs(np.diff(moved, axis=0)).max() < 0.0006  # of 0.05 in steps


def test_ink_of_a_turned_curled_sheet_lies_where_hand_reckoning_puts_it() -> None:
    sheet = LaidSheet(number=1, pose=Pose(x_in=10.0, y_in=-3.0, turn_deg=90.0), edge_lift_in=1 / 16)
    top = TableTop(bow_x_in=1 / 32)
    drawn = SheetInches(np.array([[CURL_REACH_IN, 2.0]]))

    room = sheet.room_from_drawn(drawn, top)

    height = 1 / 16 + (8 / 30) ** 2 / 32
    assert room == pytest.approx(np.array([[10.0 - 2.0, -3.0 + CURL_REACH_IN, height]]))


def test_inward_undoes_outward() -> None:
    pose = Pose(x_in=2.0, y_in=-7.0, turn_deg=33.0)
    points = np.array([[1.0, 2.0], [-5.0, 0.5]])

    assert pose.inward(pose.outward(points)) == pytest.approx(points)
    assert replace(pose, turn_deg=90.0).outward(np.array([[1.0, 0.0]])) == pytest.approx(
        np.array([[2.0, -6.0]])
    )


def test_inside_the_table() -> None:
    assert TableTop().inside_in(np.array([[0, 0], [29, 0], [0, 20.0]])) == pytest.approx([18, 1, -2])
