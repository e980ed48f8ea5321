import numpy as np
import pytest
import shapely
from scipy.interpolate import CubicSpline

from patterns.curves import Curve
from patterns.parts import Bend
from patterns.tracing.contour import Contour
from patterns.tracing.corner_finding import find_corners
from patterns.tracing.curve_fitting import CLOSE_IN, aim_for, fitted
from patterns.tracing.natural_spline import chord_places, natural_weights
from tests.unit.patterns.build import arc
from tests.unit.patterns.garments import contour, garment, lying, sampled

POINTS = np.array([[0.0, 0.0], [2.0, 1.0], [3.0, 4.0], [7.0, 5.0], [8.0, 5.2]])


@pytest.mark.parametrize("count", [2, 3, 5])
def test_weights_are_those_of_scipys_natural_spline(count: int) -> None:
    knots = chord_places(POINTS[:count])
    at = np.linspace(0, knots[-1], 101)
    values, slopes = natural_weights(knots, at)
    if count == 2:
        assert values @ POINTS[:2] == pytest.approx(
            np.outer(1 - at / at[-1], POINTS[0]) + np.outer(at / at[-1], POINTS[1])
        )
        return
    spline = CubicSpline(knots, POINTS[:count], bc_type="natural")
    assert values @ POINTS[:count] == pytest.approx(spline(at), abs=1e-12)
    assert slopes @ POINTS[:count] == pytest.approx(spline(at, 1), abs=1e-12)


def test_a_fitted_path_runs_as_scipys_natural_spline_by_chord_length() -> None:
    line = sampled(arc((0, 0), 4.0, 10, 130))
    found = fitted(line[1:-1], line[0], line[-1], aim_in=aim_for(0.0))
    knots = chord_places(found.points)
    spline = CubicSpline(knots, found.points, bc_type="natural")(np.linspace(0, knots[-1], 2000))
    strays = shapely.distance(shapely.LineString(found.curve.points), shapely.points(spline))
    assert found.bend is Bend.SMOOTH
    assert strays.max() < 0.001


@pytest.mark.parametrize(
    ("radius", "degrees", "most"), [(4.0, 90, 7), (2.0, 120, 8), (30.0, 25, 6), (0.7, 90, 8)]
)
def test_arcs_need_few_points(radius: float, degrees: float, most: int) -> None:
    curve = arc((0, 0), radius, 0, degrees)
    line = sampled(curve)
    found = fitted(line[1:-1], line[0], line[-1], aim_in=aim_for(0.0))
    strays = shapely.distance(shapely.LineString(found.curve.points), shapely.points(line))
    assert len(found.points) <= most
    assert strays.max() < CLOSE_IN
    amid = np.asarray(strays)[len(line) // 4 : -(len(line) // 4)]
    assert amid.max() - 0.002 <= found.stray_in <= strays.max() + 0.002


@pytest.mark.parametrize("off_in", [0.005, 0.01, 0.02])
def test_an_edge_does_not_bend_after_a_corner_that_lies_beside_its_contour(off_in: float) -> None:
    line = sampled(Curve.straight(np.array([[1.0, 2.0], [5.0, 7.0]])))
    corner = line[0] + off_in * np.array([5.0, -4.0]) / np.hypot(5.0, 4.0)
    kept = line[np.hypot(*(line - line[0]).T) > 1 / 32][:-1]
    found = fitted(kept, corner, line[-1], aim_in=aim_for(0.0))
    hollow = np.abs(found.curve.curvatures(*found.curve.grid(0.001))).max() if len(found.points) > 2 else 0.0
    assert hollow < 1 / 0.55
    assert len(found.points) <= 5


def test_straight_is_enough_where_it_is() -> None:
    line = sampled(Curve.straight(np.array([[1.0, 2.0], [9.0, 5.0]])))
    bowed = line + np.outer(np.sin(np.linspace(0, np.pi, len(line))), (-0.002, 0.006))
    for points in (line, bowed):
        found = fitted(points[1:-1], points[0], points[-1], aim_in=aim_for(0.0))
        assert (found.bend, len(found.points)) == (Bend.STRAIGHT, 2)
    more = fitted(line[1:-1] + (0.0, 0.05), line[0], line[-1], aim_in=aim_for(0.0))
    assert more.bend is Bend.SMOOTH


@pytest.mark.parametrize(("white", "smooth"), [(0.02, 0.0), (0.0, 0.01), (0.0, 0.0)])
def test_noise_in_long_waves_is_seen(white: float, smooth: float) -> None:
    """Averages over 0.4 in, 20 points, keep 1/sqrt(20) of white noise, and most of half-inch waves."""
    seen = [
        Contour.read(
            contour(garment(s), lying(s), s, white_in=white, smooth_in=smooth), white + smooth
        ).waves_in
        for s in range(6)
    ]
    low, high = (0.003, 0.007) if white else (0.004, 0.011) if smooth else (0.0, 0.0005)
    assert low <= np.mean(seen) <= high


@pytest.mark.parametrize("radius", [0.5, 1.0, 2.0])
def test_a_rounded_corner_is_a_curve_and_a_tip_is_a_corner(radius: float) -> None:
    """A square with three sharp corners and a round one."""
    side = 10.0
    round_part = sampled(arc((side - radius, side - radius), radius, 0, 90))
    points = np.concatenate([np.array([[0.0, side], [0.0, 0.0], [side, 0.0]]), round_part])
    contour_in = sampled(Curve.straight(np.concatenate([points, points[:1]])))[:-1]
    found = find_corners(Contour.read(contour_in, 0.0))
    places = sorted(tuple(np.round(corner.place, 2) + 0.0) for corner in found)
    assert places == [(0, 0), (0, side), (side, 0)]
    assert all(corner.juts_out and corner.turn_deg == pytest.approx(90, abs=1) for corner in found)


@pytest.mark.parametrize("white", [0.0, 0.01, 0.03])
def test_noise_from_point_to_point_is_seen_when_it_is_not_told(white: float) -> None:
    found = Contour.read(contour(garment(3), lying(3), 3, white_in=white), 0.0)
    assert found.noise_in == pytest.approx(white, rel=0.15, abs=0.0005)
