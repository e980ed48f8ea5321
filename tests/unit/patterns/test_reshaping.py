import numpy as np
import pytest
import shapely

from patterns.alterations.reshaping import eased, stretched, warped
from patterns.curves import Array, Curve
from tests.unit.patterns.build import JUMPING_NECK, LEANING_NECK, arc

NECK = Curve.straight(np.array([[0.0, 4.0], [3.0, 4.0], [3.0, 0.0]]))


def test_a_stretched_corner_stays_level_and_upright() -> None:
    """Plain geometry: 3 wide and 4 deep becomes 4.5 wide and 2 deep."""
    longer = stretched(NECK, np.array([0.0, 4.0]), np.array([4.5, 2.0]))
    assert longer.points == pytest.approx(np.array([[0, 4], [4.5, 4], [4.5, 2]]))


@pytest.mark.parametrize(("end", "middle"), [([4.0, 1.0], [2.0, 0.5]), ([4.0, 0.0], [2.0, 0.0])])
def test_a_level_line_is_sheared_where_it_should_not_stay_level(
    end: list[float], middle: list[float]
) -> None:
    line = stretched(Curve.straight(np.array([[0.0, 0.0], [3.0, 0.0]])), np.zeros(2), np.array(end))
    assert line.is_straight
    assert line.point_at(line.length_in / 2) == pytest.approx(middle)


def test_a_stretched_circle_is_an_ellipse() -> None:
    quarter = stretched(arc([0, 0], 2, 90, 0), np.array([0.0, 6.0]), np.array([1.0, 0.0]))
    assert np.hypot(*(quarter.points / [1, 6]).T) == pytest.approx(1, abs=1e-5)


def test_an_eased_curve_moves_less_and_less_and_stays_smooth() -> None:
    """Plain geometry: halfway along the part that takes part, a quarter of the move."""
    curve = arc([0, 0], 4, 0, 120)
    by = np.array([0.5, -0.25])
    moved = eased(curve, by, 3.0)
    assert moved.start == pytest.approx(curve.start + by)
    assert moved.end == pytest.approx(curve.end)
    assert len(moved.runs()) == 1
    place = curve.point_at(1.5) + by / 4
    assert np.hypot(*(moved.points - place).T).min() < 0.02
    beyond = moved.length_in - (curve.length_in - 3.5)
    assert moved.point_at(beyond) == pytest.approx(curve.point_at(3.5), abs=1e-6)


def test_a_warped_curve_keeps_its_corners() -> None:
    def lower(points: Array) -> Array:
        return points + np.stack([np.zeros(len(points)), points[:, 0] ** 2 / 9], axis=1)

    warp = warped(NECK, lower)
    assert len(warp.runs()) == 2
    assert warp.point_at(0.0) == pytest.approx([0, 4])
    assert warp.end == pytest.approx([3, 1])
    spans, along = warp.grid(0.01)
    points = warp.at_parameters(spans, along)
    level = points[points[:, 0] < 2.99]
    assert level[:, 1] == pytest.approx(4 + level[:, 0] ** 2 / 9, abs=1e-6)


@pytest.mark.parametrize(
    ("neck", "strays_in"),
    [
        (LEANING_NECK, 5e-6),
        (JUMPING_NECK, 2e-4),
    ],
    ids=["one piece", "a bend that jumps"],
)
def test_a_warped_curve_goes_where_each_of_its_points_does(neck: Curve, strays_in: float) -> None:
    """Each of 2000 points moved by itself lies on the curve, but for what the chords that it is held against stray."""

    def wrung(points: Array) -> Array:
        x, y = points.T
        return np.stack([x + np.sin(y) / 4, y * (1 + x**2 / 40)], axis=1)

    warp = warped(neck, wrung)
    assert len(warp.runs()) == 1
    assert warp.beziers[1:, 0].tolist() == warp.beziers[:-1, 3].tolist()
    line = shapely.LineString(warp.points_at(np.linspace(0, warp.length_in, 4000)))
    places = wrung(neck.points_at(np.linspace(0, neck.length_in, 2000)))
    assert shapely.distance(line, shapely.points(places)).max() < strays_in
