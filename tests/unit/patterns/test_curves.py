import numpy as np
import pytest

from patterns.curves import FLAT_IN, Curve
from tests.unit.patterns.build import arc


def test_a_straight_path_has_its_corners_and_its_length() -> None:
    path = Curve.straight(np.array([[0.0, 0.0], [3.0, 4.0], [3.0, 10.0]]))
    assert path.length_in == pytest.approx(11, abs=1e-12)
    assert path.points.tolist() == [[0, 0], [3, 4], [3, 10]]
    assert len(path.runs()) == 2
    assert path.point_at(5) == pytest.approx([3, 4])
    assert path.tangent_at(7) == pytest.approx([0, 1])


def test_a_smooth_path_of_two_points_is_a_straight_line() -> None:
    assert Curve.smooth(np.array([[0.0, 0.0], [3.0, 4.0]])).is_straight


def test_a_smooth_path_goes_through_its_points_and_ends_without_bend() -> None:
    points = np.array([[0.0, 4.0], [1.9, 3.1], [3.4, 0.0], [5.0, -1.0]])
    path = Curve.smooth(points)
    assert path.beziers[:, 0] == pytest.approx(points[:-1])
    bends = path.curvatures(np.array([0, 2]), np.array([0.0, 1.0]))
    assert bends == pytest.approx([0, 0], abs=1e-12)
    assert len(path.runs()) == 1


def test_chords_stray_by_no_more_than_promised() -> None:
    path = arc([0, 0], 10, 0, 90)
    middles = (path.points[1:] + path.points[:-1]) / 2
    stray = 10 - np.hypot(*middles.T)
    assert 0 < stray.max() <= FLAT_IN * 1.001


def test_a_handle_on_its_point_still_has_a_direction() -> None:
    path = Curve.bezier(np.array([[0.0, 0.0], [0.0, 0.0], [2.0, 1.0], [2.0, 1.0]]))
    assert path.start_tangent == pytest.approx(np.array([2, 1]) / 5**0.5)
    assert path.end_tangent == pytest.approx(np.array([2, 1]) / 5**0.5)
    assert path.tangents(np.array([0, 0]), np.array([0.0, 1.0])) == pytest.approx(
        np.array([[2, 1], [2, 1]]) / 5**0.5
    )


def test_a_part_of_a_path_is_as_long_as_asked() -> None:
    path = arc([1, 2], 5, 10, 130)
    part = path.between(1.25, 4.5)
    assert part.length_in == pytest.approx(3.25, abs=1e-9)
    assert part.start == pytest.approx(path.point_at(1.25), abs=1e-9)
    assert part.end == pytest.approx(path.point_at(4.5), abs=1e-9)


@pytest.mark.parametrize("at", [-0.01, 5.01])
def test_a_place_beyond_the_ends_is_refused(at: float) -> None:
    with pytest.raises(ValueError, match="is not on a path"):
        Curve.straight(np.array([[0.0, 0.0], [3.0, 4.0]])).point_at(at)


def test_a_reversed_path_is_the_same_path() -> None:
    path = arc([0, 0], 3, 0, 200)
    assert path.reversed().point_at(2.0) == pytest.approx(path.point_at(path.length_in - 2.0), abs=1e-9)
    assert path.reversed().start_tangent == pytest.approx(-path.end_tangent)


def test_kinks_break_a_bezier_chain_into_runs() -> None:
    kinked = np.array([[0, 0], [1, 0], [2, 0], [3, 0], [3, 1], [3, 2], [3, 3.0]])
    smooth = np.array([[0, 0], [1, 0], [2, 0], [3, 0], [4, 0], [5, 1], [5, 3.0]])
    assert len(Curve.bezier(kinked).runs()) == 2
    assert len(Curve.bezier(smooth).runs()) == 1


def test_a_path_whose_ends_stay_is_the_very_same() -> None:
    curve = Curve.smooth(np.array([[0.0, 0.0], [2.0, 1.0], [4.0, 0.0]]))
    assert curve.from_to(curve.start.copy(), curve.end.copy()) is curve
    assert curve.from_to(curve.start, curve.end + 1e-9) is not curve


@pytest.mark.parametrize("number", range(20))
def test_nowhere_is_a_path_curved_beyond_what_is_said_of_it(number: int) -> None:
    points = np.sort(np.random.default_rng(number).uniform(0, 10, (4, 2)), axis=0)
    path = Curve.smooth(points) if number % 2 else Curve.bezier(points)
    spans, along = path.grid(1e-6)
    assert abs(path.curvatures(spans, along)).max() <= path.curved_at_most * (1 + 1e-9)


def test_what_is_said_of_an_arc_is_little_more_than_its_curvature() -> None:
    assert 1 / 4 <= arc([0, 0], 4, 0, 90).curved_at_most < 1.5 / 4


def test_a_path_whose_handle_leads_back_may_be_curved_without_end() -> None:
    path = Curve.bezier(np.array([[0, 0], [-1, 0], [2, 1], [3, 0]], dtype=np.float64))
    assert path.curved_at_most == np.inf
