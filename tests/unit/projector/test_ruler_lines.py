"""The lines of the ruler test: whole inches on the table, as long as the light allows."""

from datetime import UTC, datetime
from itertools import combinations

import numpy as np
import pytest

from calibration.errors import AlignmentError
from calibration.projector_map import ProjectorMap
from projector.aligning.ruler_lines import LONGEST_IN, TICK_IN, RulerLine, ruler_light, ruler_lines
from projector.errors import ProjectorError
from projector.lighting.lit_area import lit_area
from projector.lighting.strokes import Stroke, split
from projector.person import Person
from tests.unit.projector.samples import KEYSTONE_IN, a_map

SMALL_IN = tuple((x / 2.5, y / 2.5) for x, y in KEYSTONE_IN)
LARGE_IN = tuple((x * 2.5, y * 2.5) for x, y in KEYSTONE_IN)


def ends(line: RulerLine) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    return np.array([line.start_in, line.end_in])


@pytest.mark.parametrize("facing_deg", [0.0, 4.0, -90.0, 180.0])
@pytest.mark.parametrize(
    ("found", "across_in"),
    [(a_map(), 52.0), (a_map(corners_in=SMALL_IN), 18.0), (a_map(corners_in=LARGE_IN), 60.0)],
)
def test_lines_are_whole_inches_within_the_light(
    found: ProjectorMap, across_in: float, facing_deg: float
) -> None:
    lit, person = lit_area(found), Person(facing_deg=facing_deg)
    lines = ruler_lines(lit, person)
    for line in lines.all:
        assert np.hypot(*line.along_in) == pytest.approx(line.length_in, abs=1e-9)
        assert line.length_in == round(line.length_in)
        on_screen = found.screen_from_table(ends(line))
        assert (on_screen > 0).all()
        assert (on_screen < np.array(found.screen_px) - 1).all()
    across, away = lines.lengths
    if facing_deg == 0.0:
        assert across.length_in == across_in
    assert max(across.length_in, away.length_in) <= LONGEST_IN
    right, far = person.axes
    assert across.along_in @ right == pytest.approx(across.length_in)
    assert away.along_in @ far == pytest.approx(away.length_in)
    rising, falling = lines.diagonals
    assert rising.length_in == falling.length_in
    np.testing.assert_allclose(ends(rising).mean(axis=0), ends(falling).mean(axis=0), atol=1e-9)
    assert rising.along_in @ falling.along_in == pytest.approx(0, abs=1e-9)
    assert person.seen(rising.along_in[None])[0].min() > 0


def test_the_tape_can_be_laid_along_each_line() -> None:
    """No two lines share an end, and the words' room at the near edge stays free."""
    lines = ruler_lines(lit_area(a_map()), Person())
    for one, other in combinations(lines.all, 2):
        apart = np.linalg.norm(ends(one)[:, None] - ends(other)[None], axis=2)
        assert apart.min() > 2 * TICK_IN
    border = lit_area(a_map()).border_in
    assert lines.outline_in[:, 1].min() - border[:, 1].min() >= 4.5


def test_a_light_too_small_for_a_tape_is_refused() -> None:
    tiny = a_map(corners_in=tuple((x / 5, y / 5) for x, y in KEYSTONE_IN))
    with pytest.raises(
        ProjectorError, match=r"the light leaves .* in for a line, and a ruler test needs 4 in"
    ):
        ruler_lines(lit_area(tiny), Person())


@pytest.mark.parametrize("chosen", range(4))
def test_the_light_of_the_chosen_line_ends_in_ticks_where_the_tape_is_read(chosen: int) -> None:
    found = a_map()
    lit = lit_area(found)
    lines = ruler_lines(lit, Person())
    strokes = [part for part in ruler_light(lines, chosen, lit, Person()) if isinstance(part, Stroke)]
    (bright,) = (stroke for stroke in strokes if stroke.light == 1.0)
    assert sum(stroke.light == 0.2 for stroke in strokes) == 3
    line, *ticks = (found.table_from_screen(path) for path in split(bright.points, bright.ends))
    chosen_line = lines.all[chosen]
    np.testing.assert_allclose(line[[0, -1]], ends(chosen_line), atol=1e-6)
    for tick, end in zip(ticks, ends(chosen_line), strict=True):
        np.testing.assert_allclose(tick[[0, -1]].mean(axis=0), end, atol=1e-6)
        assert np.hypot(*(tick[-1] - tick[0])) == pytest.approx(TICK_IN, abs=1e-6)
        assert (tick[-1] - tick[0]) @ chosen_line.along_in == pytest.approx(0, abs=1e-5)


def test_a_test_is_made_of_what_each_line_is_and_what_the_tape_said() -> None:
    lines = ruler_lines(lit_area(a_map()), Person())
    when = datetime(2026, 11, 25, 8, tzinfo=UTC)
    taped_in = [line.length_in + 1 / 64 for line in lines.all]
    test = lines.tested(taped_in, when)
    assert test.tested_on == when
    assert test.lengths == tuple((line.length_in, line.length_in + 1 / 64) for line in lines.lengths)
    assert test.diagonals == tuple((line.length_in, line.length_in + 1 / 64) for line in lines.diagonals)
    with pytest.raises(AlignmentError, match="line 3 is 37 in of light, but the tape is said to read 3 in"):
        lines.tested([52, 26, 3, 37], when)
