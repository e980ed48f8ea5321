"""Pictures for people: light, cloth and scale where they should be."""

import numpy as np
import numpy.typing as npt
import pytest

from calibration.practice.table import Cloth, PracticeTable

TABLE = PracticeTable.random(6)
PPI = 8.0


def _with_spot(room: tuple[float, float]) -> npt.NDArray[np.uint8]:
    frame = np.zeros((1080, 1920, 3), dtype=np.uint8)
    spot = TABLE.true_screen_from_table(TABLE.frame_in_room.inward(np.array([room])))
    u, v = np.rint(spot[0]).astype(int)
    frame[v - 6 : v + 7, u - 6 : u + 7] = (255, 0, 0)
    return frame


def test_the_picture_from_above_is_to_scale_and_keeps_colour() -> None:
    picture = TABLE.photo_from_above(_with_spot((20.0, 10.0)), PPI)

    assert picture.shape == (round(42 * PPI), round(66 * PPI), 3)
    red = picture[..., 0].astype(float) - picture[..., 2]
    v, u = np.argwhere(red > 0.6 * red.max()).mean(axis=0)
    assert u == pytest.approx((20 + 33) * PPI - 0.5, abs=0.5)
    assert v == pytest.approx((21 - 10) * PPI - 0.5, abs=0.5)


def test_the_room_is_dark_and_the_floor_darker() -> None:
    picture = TABLE.photo_from_above(np.zeros((1080, 1920), dtype=np.uint8), PPI)
    table, floor = picture[40:-40, 40:-40], picture[:12]

    assert floor.mean() < 0.6 * table.mean()
    assert table.mean() < 110


def test_a_cloth_tints_what_lies_under_it_and_nothing_else() -> None:
    square = np.array([(-10, -10), (10, -10), (10, 10), (-10, 10)], dtype=np.float64)
    cloth = Cloth(outline_in=TABLE.frame_in_room.inward(square), colour=(60, 90, 200))
    dark = np.zeros((1080, 1920), dtype=np.uint8)
    bare = TABLE.photo_from_above(dark, PPI).astype(float)
    covered = TABLE.photo_from_above(dark, PPI, [cloth]).astype(float)
    inside, outside = np.s_[100:236, 200:328], np.s_[100:236, 30:130]

    assert (covered[inside][..., 0] - bare[inside][..., 0]).mean() < -10
    assert (covered[inside][..., 2] - covered[inside][..., 0]).mean() > 5
    assert (bare[inside][..., 2] - bare[inside][..., 0]).mean() < 0
    assert np.abs(covered[outside] - bare[outside]).max() <= 1


def test_a_standing_person_sees_the_far_side_smaller() -> None:
    near, far = (TABLE.photo_standing(_with_spot((0.0, y)), 800)[..., 0].astype(float) for y in (-14.0, 14.0))

    assert near.shape == (480, 800)
    assert np.argwhere(near > 150)[:, 0].mean() > np.argwhere(far > 150)[:, 0].mean() + 100
    assert (near > 150).sum() > (far > 150).sum()
