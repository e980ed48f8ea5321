"""Hatching and words of the forecast: true to size, each in its own area, never over one another."""

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
import shapely
from shapely import Polygon

from calibration.frames import Array
from projector.lighting.canvas import frame
from projector.lighting.light import subdivided
from projector.lighting.lit_area import lit_area
from projector.lighting.strokes import Patch, Stroke
from projector.person import Person
from projector.pictures.forecast_areas import GRADES, Area, Forecast, areas_of, grade_of
from projector.pictures.forecast_light import (
    STRIP_CLEAR_IN,
    boundaries_of,
    forecast_light,
    hatched,
    label_box,
    words_in,
)
from tests.unit.projector.forecasts import a_graded_alignment
from tests.unit.projector.samples import SCREEN_PX

ALIGNMENT = a_graded_alignment()
FORECAST = Forecast.of(ALIGNMENT)
LIT = lit_area(ALIGNMENT.map)
AREAS = areas_of(FORECAST, LIT)
NOTHING = Polygon()
STRIP_IN = (-15.0, -15.0, 12.0, -12.0)


def a_box(grade: int, width: float, height: float) -> Area:
    return Area(grade=GRADES[grade], outline=shapely.box(0, 0, width, height))


def across(line: Array, turn_deg: float) -> float:
    """How far the line lies from the origin, if it has that direction."""
    turn = np.deg2rad(turn_deg)
    sideways = line @ (-np.sin(turn), np.cos(turn))
    assert np.ptp(sideways) < 1e-9
    return float(sideways[0])


def test_the_worse_the_light_the_more_lines_and_the_best_has_none() -> None:
    inked = []
    for grade in range(len(GRADES)):
        lines = hatched(a_box(grade, 30, 20), 0.0, NOTHING)
        inked.append(sum(float(np.hypot(*(line[-1] - line[0]))) for line in lines) / 600)
    assert inked[0] == 0
    # a line every 3 in, every 1 1/2 in, and every inch both ways
    assert inked[1:] == pytest.approx([1 / 3, 1 / 1.5, 2.0], rel=0.1)


@pytest.mark.parametrize(("grade", "turn_deg"), [(1, 45.0), (2, -45.0)])
@pytest.mark.parametrize("facing_deg", [0.0, 90.0, 3.4])
def test_lines_have_their_pitch_on_the_table_and_slant_as_the_person_sees_it(
    grade: int, turn_deg: float, facing_deg: float
) -> None:
    lines = hatched(a_box(grade, 30, 20), facing_deg, NOTHING)
    offsets = sorted(across(line, turn_deg + facing_deg) for line in lines)
    assert np.diff(offsets) == pytest.approx(GRADES[grade].pitch_in)
    assert offsets[0] / GRADES[grade].pitch_in == pytest.approx(round(offsets[0] / GRADES[grade].pitch_in))


def test_hatching_stays_in_its_own_grade() -> None:
    for area in AREAS:
        for line in hatched(area, 10.0, NOTHING):
            errors_in = FORECAST.error_in(subdivided(line, 0.25))
            assert errors_in.max() <= area.grade.limit_in * 1.005
            assert grade_of(errors_in.min() * 1.005).limit_in >= area.grade.limit_in


def test_hatching_keeps_clear_of_what_it_should() -> None:
    kept = shapely.box(5, 5, 12, 9)
    lines = [shapely.LineString(line) for line in hatched(a_box(3, 30, 20), 0.0, kept)]
    assert max(line.intersection(kept).length for line in lines) < 1e-6
    assert len(lines) > len(hatched(a_box(3, 30, 20), 0.0, NOTHING))


def test_boundaries_are_between_areas_and_not_round_the_light() -> None:
    rim = Polygon(LIT.border_in).exterior
    lines = [shapely.LineString(line) for line in boundaries_of(AREAS, LIT, NOTHING)]
    assert len(lines) >= 3
    assert max(line.intersection(rim.buffer(1e-7)).length for line in lines) < 1e-3
    square = replace(LIT, border_in=np.array([(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)]))
    assert boundaries_of([a_box(0, 9, 9)], square, NOTHING) == []


@pytest.mark.parametrize("facing_deg", [0.0, 90.0, 180.0, 270.0, 3.4])
def test_each_grade_has_its_words_whole_in_its_own_area_and_apart(facing_deg: float) -> None:
    person = Person(facing_deg=facing_deg)
    taken = shapely.affinity.rotate(shapely.box(*STRIP_IN), facing_deg, origin=(0, 0))
    said, blocks = set(), []
    for area in AREAS:
        labels = words_in(area, person, taken)
        block = shapely.union_all([label_box(label) for label in labels])
        assert area.outline.buffer(1e-6).contains(block) or not labels
        said |= {(area.grade, " ".join(label.text for label in labels))} if labels else set()
        blocks += [block] if labels else []
        for label in labels:
            assert label.along == pytest.approx(person.axes[0])
    assert said == {(grade, " ".join(grade.words)) for grade in GRADES}
    for one, other in combinations([*blocks, taken], 2):
        assert not one.intersects(other)


def test_words_are_an_inch_high_where_there_is_room_then_in_two_lines_then_smaller() -> None:
    (whole,) = words_in(a_box(1, 30, 20), Person(), NOTHING)
    assert (whole.text, whole.height_in) == ("good to 1/32 in", 1.0)
    assert whole.at == pytest.approx([15, 10], abs=0.5)
    above, below = words_in(a_box(1, 8, 20), Person(), NOTHING)
    assert (above.text, below.text, above.height_in) == ("good to", "1/32 in", 1.0)
    assert above.at[1] - below.at[1] == pytest.approx(1.7)
    small = words_in(a_box(3, 5, 3), Person(), NOTHING)
    assert {label.height_in for label in small} == {0.5}
    assert len(small) == 2
    assert words_in(a_box(3, 2, 2), Person(), NOTHING) == ()


def test_the_light_lies_where_the_map_puts_it_and_leaves_the_strip_free() -> None:
    drawing = forecast_light(AREAS, LIT, Person(), STRIP_IN)
    lit = frame([drawing], SCREEN_PX).max(axis=2) > 0
    kept = shapely.box(*STRIP_IN).buffer(STRIP_CLEAR_IN, join_style="mitre")
    pixels = LIT.projector_map.screen_from_table(inside_grid(STRIP_IN)).round().astype(int)
    assert not lit[pixels[:, 1], pixels[:, 0]].any()
    hatch = [line for area in AREAS for line in hatched(area, 0.0, kept)]
    words = shapely.union_all(
        [label_box(label) for area in AREAS for label in words_in(area, Person(), kept)]
    )
    middles = np.array([line.mean(axis=0) for line in hatch])
    middles = middles[~shapely.contains(words, shapely.points(middles))]
    on_screen = LIT.projector_map.screen_from_table(middles)
    seen = on_screen[((on_screen > 2) & (on_screen < np.array(SCREEN_PX) - 3)).all(axis=1)]
    around = [lit[round(v) - 1 : round(v) + 2, round(u) - 1 : round(u) + 2].any() for u, v in seen]
    assert len(around) > 50
    assert all(around)


def test_nothing_of_it_outshines_a_cut_line() -> None:
    drawing = forecast_light(AREAS, LIT, Person(), STRIP_IN)
    lights = [part.light for part in drawing if isinstance(part, Stroke | Patch)]
    assert len(lights) == len(drawing)
    assert max(lights) <= 0.5


def inside_grid(box: tuple[float, float, float, float]) -> Array:
    left, near, right, far = box
    x, y = np.meshgrid(np.linspace(left, right, 60), np.linspace(near, far, 12))
    return np.column_stack([x.ravel(), y.ravel()])
