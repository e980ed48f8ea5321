"""What may be added to the light: repeats of the cut line, a grid, a seam gauge."""

import numpy as np
import pytest
import shapely

from calibration.frames import Array
from patterns import example, read_pattern
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.marks import LineKind, lines_of
from patterns.cutting.placement import Placement
from patterns.measures import Unit
from projector.errors import ProjectorError
from projector.lighting.gauge import BAR, EDGE, Gauge, gauge_light
from projector.lighting.grid import grid_light
from projector.lighting.lit_area import LitArea, lit_area
from projector.lighting.looks import LOOKS
from projector.lighting.repeats import EVERY_IN, LONG_IN, OUTSIDE_IN, repeats, repeats_light
from projector.lighting.strokes import Drawing, Patch, Stroke, split
from projector.person import Person
from tests.unit.projector.samples import SCREEN_PX, a_map, pieces

LIT = lit_area(a_map())
HARBOUR = read_pattern(example("harbour overtop")).drafted().pieces
ALL = {**pieces(), **{f"harbour {name}": piece for name, piece in HARBOUR.items()}}


def paths_on_table(drawing: Drawing, lit: LitArea, light: float | None = None) -> list[Array]:
    """Of strokes, those of one light where it is given, in table inches."""
    return [
        lit.projector_map.table_from_screen(path)
        for part in drawing
        if isinstance(part, Stroke) and light in (None, part.light)
        for path in split(part.points, part.ends)
    ]


def cut_of(piece: DraftedPiece, opened: bool) -> tuple[shapely.Polygon, shapely.LineString]:
    """The piece and its cut line, in piece inches."""
    (cut,) = (line for line in lines_of(piece, Placement(opened=opened)) if line.kind is LineKind.CUT)
    points = cut.points * (1.0, -1.0)
    ring = np.vstack([points, points[:1]]) if cut.closed else points
    return shapely.Polygon(points), shapely.LineString(ring)


@pytest.mark.parametrize("opened", [False, True])
@pytest.mark.parametrize("name", ALL)
def test_repeats_run_along_the_cut_line_half_an_inch_outside_and_never_across_it(
    name: str, opened: bool
) -> None:
    piece = ALL[name]
    opened = opened and piece.fold is not None
    area, line = cut_of(piece, opened)
    found = repeats(piece, opened)
    assert len(found) > line.length / EVERY_IN / 2
    marks = [
        shapely.LineString(clip * (side, 1.0))
        for notch in piece.notches
        for clip in notch.clips
        for side in ((1.0, -1.0) if opened else (1.0,))
    ]
    for path in found:
        away = shapely.distance(line, shapely.points(path))
        assert away == pytest.approx(OUTSIDE_IN, abs=0.03)
        assert np.ptp(away) < 0.03, "it runs along the line: what stands across it is a notch"
        drawn = shapely.LineString(path)
        assert not area.intersects(drawn)
        assert 0.3 * LONG_IN < drawn.length < 2 * LONG_IN
        assert all(shapely.distance(mark, drawn) > 0.6 for mark in marks)
        if piece.fold is not None and not opened:
            assert path[:, 0].min() > 0.3, "none beyond the fold"


def test_repeats_go_with_the_piece_and_are_dimmer_than_what_is_cut() -> None:
    front, placement = pieces()["front"], Placement(x_in=-4.0, y_in=12.0, turn_deg=17.0, mirrored=True)
    drawn = repeats_light(front, placement, LIT)
    on_table = paths_on_table(drawn, LIT)
    assert len(on_table) == len(repeats(front, False))
    for path, own in zip(on_table, repeats(front, False), strict=True):
        assert path[[0, -1]] == pytest.approx(placement.placed(own[[0, -1]]), abs=1e-6)
    assert all(isinstance(part, Stroke) and part.light <= 0.5 for part in drawn)


def test_of_a_line_that_is_shown_in_part_only_that_part_is_repeated() -> None:
    front, placement = pieces()["front"], Placement(x_in=-4.0, y_in=12.0, turn_deg=17.0)
    _, line = cut_of(front, False)
    dense = shapely.get_coordinates(shapely.segmentize(line, 0.25))
    upper = dense[dense[:, 1] < 9.0]
    drawn = repeats_light(front, placement, LIT, shown_in=placement.placed(upper))
    kept = [placement.lifted(path) for path in paths_on_table(drawn, LIT)]
    assert len(kept) >= sum(path[len(path) // 2, 1] < 8.5 for path in repeats(front, False)) > 5
    assert max(path[:, 1].max() for path in kept) < 9.5
    assert repeats_light(front, placement, LIT, shown_in=np.array([[200.0, 0.0]])) == ()


@pytest.mark.parametrize("turn_deg", [0.0, 30.0])
@pytest.mark.parametrize(("unit", "pitch_in"), [(Unit.IN, 1.0), (Unit.CM, 1 / 2.54)])
def test_a_grid_has_lines_a_unit_apart_through_its_origin(
    unit: Unit, pitch_in: float, turn_deg: float
) -> None:
    placement = Placement(x_in=3.0, y_in=-2.0, turn_deg=turn_deg)
    lines = [placement.lifted(path) for path in paths_on_table(grid_light(unit, placement, LIT), LIT)]
    for axis in (0, 1):
        along = [line for line in lines if np.ptp(line[:, axis]) < 0.01]
        places = np.sort([line[:, axis].mean() for line in along])
        assert np.abs(places).min() < 1e-3
        assert np.diff(places) == pytest.approx(pitch_in, abs=1e-3)
        assert len(places) > 25


def test_a_grid_that_would_be_a_veil_is_coarser() -> None:
    coarse = lit_area(a_map(screen_px=(960, 540)))
    lines = paths_on_table(grid_light(Unit.CM, Placement(), coarse), coarse)
    places = np.sort([line[:, 0].mean() for line in lines if np.ptp(line[:, 0]) < 0.01])
    assert np.diff(places) == pytest.approx(5 / 2.54, abs=1e-3)


@pytest.mark.parametrize("name", LOOKS)
def test_a_grid_is_fainter_than_anything_on_the_piece(name: str) -> None:
    drawn = grid_light(Unit.IN, Placement(), LIT, LOOKS[name])
    assert all(isinstance(part, Stroke) and part.light * part.gain < 0.25 for part in drawn)


def test_a_gauge_is_true_to_size_where_it_is_laid_with_its_bar_at_the_allowance() -> None:
    placement = Placement(x_in=5.0, y_in=3.0, turn_deg=25.0)
    drawn = gauge_light(Gauge(allowance_in=5 / 8), placement, LIT, Person())
    (bar,) = (placement.lifted(path) for path in paths_on_table(drawn, LIT, BAR.light))
    assert bar[:, 0] == pytest.approx(5 / 8, abs=1e-4)
    edge, *marks = (placement.lifted(path) for path in paths_on_table(drawn, LIT, EDGE.light))
    assert edge[[0, -1]] == pytest.approx(np.array([[0.0, 0.0], [6.0, 0.0]]), abs=1e-4)
    places = np.sort([mark[0, 0] for mark in marks])
    assert places == pytest.approx(np.arange(49) / 8, abs=1e-4)
    longest = [mark for mark in marks if np.ptp(mark[:, 1]) > 0.45]
    assert np.sort([mark[0, 0] for mark in longest]) == pytest.approx(np.arange(7), abs=1e-4)
    assert sum(isinstance(part, Patch) for part in drawn) == 7, "the numbers, and the allowance"


def test_a_metric_gauge_has_millimetres_where_they_can_be_told_apart() -> None:
    fine = lit_area(a_map(screen_px=(3840, 2160), corners_in=((-16, 9), (16, 9), (16, -9), (-16, -9))))
    gauge = Gauge(unit=Unit.CM, length_in=15 / 2.54, allowance_in=1.5 / 2.54)
    counts = {
        lit: len(paths_on_table(gauge_light(gauge, Placement(), lit, Person()), lit, EDGE.light)) - 1
        for lit in (fine, LIT)
    }
    assert counts == {fine: 151, LIT: 31}


def test_a_gauge_reads_upright_for_the_person_wherever_it_lies() -> None:
    person = Person(facing_deg=90.0)
    for turn_deg in (0.0, 90.0, 200.0):
        drawn = gauge_light(Gauge(), Placement(turn_deg=turn_deg), LIT, person)
        words = max((part for part in drawn if isinstance(part, Patch)), key=lambda part: part.letter_px)
        seen = person.seen(LIT.projector_map.table_from_screen(words.points))
        assert np.ptp(seen[:, 0]) > np.ptp(seen[:, 1])
        assert ((words.points > 0) & (words.points < np.array(SCREEN_PX))).all()


@pytest.mark.parametrize(
    ("allowance_in", "sentence"),
    [(7.0, "found an allowance of 7 in for a gauge that is 6 in long"), (0.0, "found an allowance of 0 in")],
)
def test_a_bar_beyond_the_gauge_is_refused(allowance_in: float, sentence: str) -> None:
    with pytest.raises(ProjectorError, match=sentence):
        Gauge(allowance_in=allowance_in)
