import numpy as np
import pytest

from patterns.alterations.parting import parted
from patterns.curves import Array, Curve

COURSES = [
    np.array([[0.0, 2.25], [2.2, 2.25], [3.65, 1.25], [3.5, 0.0]]),
    np.array([[0.0, 6.0], [1.0, 6.0], [2.0, 5.5], [2.5, 4.5], [2.6, 4.3], [2.7, 4.1], [2.7, 4.0]]),
]


@pytest.mark.parametrize("course", COURSES, ids=["one piece", "a long and a short one"])
def test_a_parted_curve_is_the_same_curve(course: Array) -> None:
    curve = Curve.bezier(course)
    parts = parted(curve, 10)
    assert len(parts.beziers) == 10
    assert parts.length_in == pytest.approx(curve.length_in, abs=1e-9)
    lengths = np.linspace(0, curve.length_in, 101)
    assert parts.points_at(lengths) == pytest.approx(curve.points_at(lengths), abs=1e-8)
    assert [parts.start.tolist(), parts.end.tolist()] == [curve.start.tolist(), curve.end.tolist()]


def test_pieces_that_are_as_many_and_about_as_long_are_left_as_they_are() -> None:
    parts = parted(Curve.bezier(COURSES[0]), 16)
    assert parted(parts, 16) is parts


def test_a_piece_is_parted_by_its_share_of_the_length() -> None:
    long, short = Curve.straight(np.array([[0.0, 0.0], [9.0, 0.0], [10.0, 0.0]])).beziers
    parts = parted(Curve(np.stack([long, short])), 10)
    assert parts.corners == pytest.approx(np.stack([np.arange(11.0), np.zeros(11)], axis=1))
