"""The light cut into areas: each is of the grade that the forecast gives there, and nothing is left out."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from shapely import Polygon

from calibration.frames import Array
from projector.lighting.lit_area import lit_area
from projector.pictures.forecast_areas import GRADES, Area, Forecast, areas_of, grade_of, isolines
from projector.trust import P95_OF_FORECAST
from tests.unit.projector.forecasts import a_graded_alignment
from tests.unit.projector.samples import a_map, an_alignment

ALIGNMENT = a_graded_alignment()
FORECAST = Forecast.of(ALIGNMENT)
LIT = lit_area(ALIGNMENT.map)
AREAS = areas_of(FORECAST, LIT)
LIGHT = Polygon(LIT.border_in)


def places(count: int) -> Array:
    """Places of the light, alike over its pixels."""
    pixels = np.random.default_rng(5).uniform((0, 0), np.array(ALIGNMENT.map.screen_px) - 1, (count, 2))
    return np.asarray(ALIGNMENT.map.table_from_screen(pixels))


def area_at(place: Array) -> Area:
    (area,) = [area for area in AREAS if area.outline.contains(shapely.Point(place))]
    return area


def test_all_grades_are_there_and_together_the_areas_are_the_light() -> None:
    assert {area.grade for area in AREAS} == set(GRADES)
    assert sum(area.outline.area for area in AREAS) == pytest.approx(LIGHT.area)
    assert shapely.union_all([area.outline for area in AREAS]).symmetric_difference(LIGHT).area < 1e-3


def test_the_grade_of_an_area_is_that_of_the_forecast_at_its_places() -> None:
    some = places(600)
    errors_in = FORECAST.error_in(some)
    apart = np.abs(errors_in[:, None] - [grade.limit_in for grade in GRADES[:-1]]).min(axis=1)
    sure = apart > 1e-4  # of an inch of error: within 0.05 in of a boundary either may be said
    assert sure.sum() > 550
    for place, error_in in zip(some[sure], errors_in[sure].tolist(), strict=True):
        assert area_at(place).grade == grade_of(error_in), f"{error_in:.4f} in at {place}"


def test_boundaries_follow_a_limit() -> None:
    limits = np.array([grade.limit_in for grade in GRADES[:-1]])
    for area in AREAS:
        edge = shapely.get_coordinates(area.outline.boundary)
        inner = edge[shapely.distance(shapely.points(edge), LIGHT.exterior) > 1e-6]
        errors_in = FORECAST.error_in(inner)
        assert np.abs(errors_in[:, None] / limits - 1).min(axis=1).max(initial=0.0) < 0.01


def test_a_claim_that_is_worse_than_the_forecast_raises_all_of_it() -> None:
    milder, worse = Forecast.of(a_graded_alignment(p95_in=0.01)), Forecast.of(a_graded_alignment(p95_in=0.2))
    some = places(4000)
    assert milder.error_in(some) == pytest.approx(P95_OF_FORECAST * ALIGNMENT.map.forecast(some))
    assert float(np.quantile(worse.error_in(some), 0.95)) == pytest.approx(0.2, rel=0.03)
    ratio = worse.error_in(some) / milder.error_in(some)
    assert np.ptp(ratio) < 1e-9
    assert ratio[0] > 1


def test_misfit_of_marks_in_photos_counts_everywhere_and_that_of_hands_does_not() -> None:
    some = places(200)
    seen = replace(ALIGNMENT, rms_in=0.01, p95_in=0.0)
    foretold_in = P95_OF_FORECAST * ALIGNMENT.map.forecast(some)
    assert Forecast.of(seen).error_in(some) == pytest.approx(np.hypot(foretold_in, 0.03))
    assert Forecast.of(replace(seen, photos=0)).error_in(some) == pytest.approx(foretold_in)


def test_a_light_of_one_grade_is_one_area() -> None:
    alignment = replace(an_alignment(a_map(sigma=0.1), p95_in=0.0), rms_in=0.0)
    (area,) = areas_of(Forecast.of(alignment), lit_area(alignment.map))
    assert area.grade.words == ("good to", "1/64 in")
    assert area.outline.area == pytest.approx(LIGHT.area)


@pytest.mark.parametrize(
    ("error_in", "words"),
    [
        (0.0, "good to 1/64 in"),
        (1 / 64, "good to 1/64 in"),
        (0.016, "good to 1/32 in"),
        (1 / 16, "good to 1/16 in"),
        (0.0626, "worse than 1/16 in"),
    ],
)
def test_a_grade_holds_up_to_its_limit(error_in: float, words: str) -> None:
    assert " ".join(grade_of(error_in).words) == words


def test_isolines_of_a_cone_lie_on_its_circle_end_to_end() -> None:
    x = np.arange(-5, 5.1, 0.25)
    grid = np.stack(np.meshgrid(x, x), axis=-1)
    segments = isolines(grid, np.hypot(grid[..., 0], grid[..., 1]), 3.0)
    radii = np.hypot(segments[..., 0], segments[..., 1])
    assert np.abs(radii - 3).max() < 0.01
    line = shapely.line_merge(shapely.MultiLineString(list(segments)))
    assert line.geom_type == "LineString"
    assert line.is_ring
    assert line.length == pytest.approx(6 * np.pi, rel=0.01)
    assert len(isolines(grid, np.hypot(grid[..., 0], grid[..., 1]), 30.0)) == 0
