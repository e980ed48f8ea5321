"""Where a line may be off by more than 1/16 in (common practice): the edge is named, and that stretch is waved."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
import shapely

from calibration.frames import Array
from calibration.projector_map import ProjectorMap
from patterns.cutting.marks import LineKind, marks_of
from patterns.cutting.placement import Placement
from projector.actions import Freeze
from projector.cloth.ground import Ground
from projector.cutting.doubt import WAVE_HIGH_IN, WAVE_OUT_IN, doubt_light, doubt_words, doubts
from projector.lighting.lit_area import lit_area
from projector.lighting.strokes import Stroke
from projector.scene import Controls
from projector.stations.cut import CutStation
from projector.trust import LINE_IN, P95_OF_FORECAST
from tests.unit.projector.samples import a_map, an_alignment, pieces

FRONT = pieces()["front"]


def doubtful_on_the_right() -> ProjectorMap:
    """A map whose keystone across is not known well: its error grows with the square of the distance across."""
    covariance = [list(row) for row in a_map().covariance]
    covariance[6][6] = 6e-5**2
    return replace(a_map(), covariance=tuple(tuple(row) for row in covariance))


MAP = doubtful_on_the_right()


@pytest.mark.parametrize("opened", [False, True])
@pytest.mark.parametrize("mirrored", [False, True])
def test_just_the_stretches_are_found_where_the_forecast_is_worse(opened: bool, mirrored: bool) -> None:
    across = 22.0 if mirrored and not opened else 8.0
    placement = Placement(x_in=across, y_in=12.0, turn_deg=4.0, opened=opened, mirrored=mirrored)
    found = doubts(FRONT, placement, MAP)
    (cut,) = marks_of(FRONT, placement).of_kind(LineKind.CUT)
    errors = P95_OF_FORECAST * MAP.forecast(cut.points)
    waved = np.vstack([doubt.points_in for doubt in found])
    apart = np.array([np.hypot(*(waved - point).T).min() for point in cut.points])
    assert (apart[errors > 1.1 * LINE_IN] < 0.1).all()
    assert (apart[errors < 0.9 * LINE_IN] > 0.1).all()
    assert 0 < (errors > LINE_IN).sum() < len(errors)
    for doubt in found:
        assert doubt.error_in == pytest.approx(P95_OF_FORECAST * MAP.forecast(doubt.points_in).max(), rel=0.1)


def test_the_edge_is_named_and_how_bad_it_is() -> None:
    found = doubts(FRONT, Placement(x_in=8.0, y_in=12.0), MAP)
    (said,) = doubt_words(found)
    assert said.startswith("overarm and sleeve hem and others, where the line is waved: only good to ")
    (worse,) = doubt_words([replace(found[0], error_in=0.2, edges=("neck", "overarm", "side", "hem"))])
    assert worse == "neck and overarm and others, where the line is waved: only good to 1/4 in"
    assert doubts(FRONT, Placement(), a_map(sigma=0.2)) == ()
    assert doubt_words(()) == ()


@pytest.mark.parametrize("mirrored", [False, True])
def test_the_wave_is_outside_the_piece_and_leaves_the_cut_line_plain(mirrored: bool) -> None:
    placement = Placement(x_in=8.0, y_in=12.0, mirrored=mirrored, turn_deg=180.0 if mirrored else 0.0)
    lit = lit_area(MAP)
    outline = placement.placed(FRONT.cut_line)
    (wave,) = doubt_light(doubts(FRONT, placement, MAP), lit)
    assert isinstance(wave, Stroke)
    table = MAP.table_from_screen(wave.points)
    apart = np.array([np.hypot(*(_fine(outline) - point).T).min() for point in table])
    assert apart.min() > WAVE_OUT_IN - WAVE_HIGH_IN - 0.05
    assert not shapely.contains_xy(shapely.Polygon(outline), table).any()


def test_the_station_says_it_and_shows_it_while_cutting_too() -> None:
    alignment = an_alignment(MAP)
    ground = Ground(pieces=(FRONT,), alignment=alignment, lit=lit_area(MAP), tested=("ruler test today",))
    station = CutStation.begun(ground)
    station = station.placed(replace(station.placement, x_in=8.0))
    for shown in (station, station.after(Freeze())):
        assert [layer.name for layer in shown.scene(Controls())][:2] == ["main", "doubt"]
        assert "where the line is waved" in str(shown.strip_words(Controls()).aside)


def _fine(path: Array) -> Array:
    closed = np.vstack([path, path[:1]])
    steps = np.linspace(0, 1, 20)[:, None]
    return np.vstack([a + steps * (b - a) for a, b in pairwise(closed)])
