"""What three marks, and a loop by eye, say; moves are made by moving the truth, not the marks."""

from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
import pytest

from calibration.errors import AlignmentError
from calibration.frames import Array
from calibration.hand.drift import (
    LaidMark,
    laid_marks,
    loop_by_eye,
    moved_by_hand,
    spread_marks,
    widest_three,
)
from calibration.sheets.sheet import PAPERS, Sheet
from tests.unit.projector.samples import a_map, an_alignment

NOW = datetime(2026, 11, 25, 8, tzinfo=UTC)
MAP = a_map(sigma=0.1)
ON_MAT = replace(
    an_alignment(a_map(corners_in=((-4, 28), (40, 27), (41, -3), (-3, -4)))), mat=(1.0, 36.0, 24.0)
)
THREE = np.array([[-25.0, -12.0], [25.0, -12.0], [25.0, 12.0]])
HAND_IN = 0.0224  # half a pixel at 31 px/in and 1/64 in, together


def similarity(points: Array, shift: tuple[float, float], turn: float, growth: float = 0.0) -> Array:
    """(n, 2) moves of points."""
    return np.array(shift) + growth * points + turn * points[:, ::-1] * (-1, 1)


def test_a_still_table_is_said_to_be_still() -> None:
    rng = np.random.default_rng(1)
    tests = [moved_by_hand(MAP, THREE, rng.normal(0, HAND_IN / 2**0.5, (3, 2)), NOW) for _ in range(400)]
    assert sum(test.moved for test in tests) <= 8  # 2 %
    still = next(test for test in tests if not test.moved)
    assert still.what.startswith("nothing has moved: the crosses lie within ")
    assert still.looked_on == NOW


@pytest.mark.parametrize(
    ("shift", "turn", "words"),
    [
        ((0.15, 0.0), 0.0, "moved: up to 5/32 in"),
        ((0.0, 0.0), 0.004, "moved: up to 7/64 in"),
        ((-0.1, 0.05), 0.002, "moved: up to"),
    ],
)
def test_moves_that_show_are_measured_at_the_worst_place(
    shift: tuple[float, float], turn: float, words: str
) -> None:
    test = moved_by_hand(MAP, THREE, similarity(THREE, shift, turn), NOW)
    corners = np.array([[x, y] for x in (-25.0, 25.0) for y in (-12.0, 12.0)])
    assert test.moved
    assert test.moved_in == pytest.approx(np.hypot(*similarity(corners, shift, turn).T).max(), rel=1e-6)
    assert test.what.startswith(words)
    assert test.what.endswith("; align again")


def test_the_worst_place_is_named_as_the_person_sees_it() -> None:
    about_near_left = similarity(THREE - (-25.0, -12.0), (0.0, 0.0), 0.004)
    for turn_deg, words in ((0.0, "near the far right corner"), (180.0, "near the near left corner")):
        test = moved_by_hand(MAP, THREE, about_near_left, NOW, turn_deg)
        assert test.what.endswith(f" {words}; align again")


def test_one_mark_that_strays_alone_is_no_shift_but_is_noticed() -> None:
    strays = np.zeros((3, 2))
    strays[1] = (0.0, 0.25)
    test = moved_by_hand(MAP, THREE, strays, NOW)
    assert test.moved
    assert test.moved_in >= 0.25


def test_a_map_that_knows_less_calls_fewer_moves() -> None:
    moved = similarity(THREE, (0.07, 0.0), 0.0)
    assert moved_by_hand(MAP, THREE, moved, NOW).moved
    assert not moved_by_hand(a_map(sigma=3.0), THREE, moved, NOW).moved


def test_the_hand_is_taken_out_of_a_loop_by_eye() -> None:
    rng = np.random.default_rng(2)
    marks = rng.uniform(-12, 12, (4000, 2))
    hand = rng.normal(0, 1 / 64 / 2**0.5, (4000, 2)) + rng.normal(0, 0.5 / 31 / 2**0.5, (4000, 2))
    off = rng.normal(0, 0.03 / 2**0.5, (4000, 2))
    test = loop_by_eye(MAP, marks, off + hand, NOW)
    assert test.by == "eye"
    assert test.rms_in == pytest.approx(0.03, rel=0.06)
    assert loop_by_eye(MAP, marks, hand, NOW).rms_in < 0.01
    assert loop_by_eye(MAP, marks[:3], np.zeros((3, 2)), NOW).most_in == 0


def test_marks_of_a_mat_are_its_crossings() -> None:
    laid = laid_marks(ON_MAT)
    assert len(laid) == 35
    assert {each.table_in for each in widest_three(laid)} < {(0, 0), (36, 0), (0, 24), (36, 24)}
    nine = spread_marks(laid, 9)
    assert len({each.table_in for each in nine}) == 9
    gaps = [np.hypot(*(np.array(a.table_in) - b.table_in)) for a in nine for b in nine if a is not b]
    assert min(gaps) > 8


def test_marks_of_sheets_lie_where_the_sheets_lay_at_their_printed_size() -> None:
    alignment = replace(
        an_alignment(a_map()),
        paper="letter",
        printed_scale=1.01,
        sheet_places=((0.0, 0.0, 0.0), (15.0, 5.0, 90.0)),
    )
    laid = {each.mark.name: each for each in laid_marks(alignment)}
    assert len(laid) == 10
    (x, y) = Sheet(paper=PAPERS["letter"], number=2).crosses_in[1] * 1.01
    assert laid["sheet 2, top left"].table_in == pytest.approx((15 - y, 5 + x))


def test_marks_outside_the_light_are_not_asked_for() -> None:
    wide = replace(ON_MAT, mat=(1.0, 60.0, 24.0))
    assert all(each.table_in[0] < 42 for each in laid_marks(wide))
    far = ((100.0, 100.0, 0.0), (100.0, 120.0, 0.0))
    away = replace(an_alignment(), paper="a4", sheet_places=far)
    with pytest.raises(AlignmentError, match="0 of the marks are in the light and 3 are needed"):
        laid_marks(away)


def test_an_alignment_that_does_not_say_what_lay_there_is_refused() -> None:
    with pytest.raises(AlignmentError, match="does not say on which sheets or mat"):
        laid_marks(an_alignment())


def test_the_widest_three_span_the_largest_triangle() -> None:
    mark = laid_marks(ON_MAT)[0].mark
    places = ((0.0, 0.0), (1.0, 0.0), (10.0, 1.0), (9.0, 9.0), (0.0, 8.0))
    marks = [LaidMark(mark=mark, table_in=place) for place in places]
    assert {each.table_in for each in widest_three(marks)} == {(0.0, 0.0), (10.0, 1.0), (9.0, 9.0)}
