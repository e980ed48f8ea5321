"""Tools of the cut station that work on the cloth: marks on its edge, the tape measure."""

from dataclasses import replace

import numpy as np
import pytest

from patterns.measures import Unit
from projector.actions import (
    Accept,
    ChangeEdge,
    ChangeTool,
    Flip,
    Forget,
    Freeze,
    LayGauge,
    LayOn,
    Next,
    OtherSide,
    Show,
    Turn,
    Undo,
)
from projector.bindings import Binding, action_of
from projector.cloth.cloth_place import ClothPlace
from projector.cutting.bindings import ASKING, CUTTING
from projector.cutting.cross_keys import FINDING
from projector.cutting.crosses_tool import CrossesTool
from projector.cutting.edge_tool import EdgeTool
from projector.cutting.measure_tool import MeasureTool
from projector.cutting.toolbox import TOOLS
from projector.cutting.work import Lies
from tests.unit.projector.cloth_hands import (
    EDGE,
    MEASURE,
    a_session,
    aim,
    begun_in_reaches,
    fold_in,
    mark,
    off,
    take,
    to_finding,
    words,
)


def test_two_marks_on_a_slanted_fold_bring_the_fold_there_and_undo_takes_it_back() -> None:
    session = a_session(EDGE, "front")
    before = session.station.placement
    mark(session, (-6, 10))
    assert "set mark 2 far along the fold" in words(session)
    assert session.station.placement == before
    mark(session, (-4, -10))
    assert off(fold_in(session), (-6, 10), (-4, -10)) < 1e-5
    assert "it lies to the right of the marks · " in words(session)
    take(session, Undo())
    assert session.station.placement == before


def test_a_third_mark_slides_the_piece_along_or_says_its_side() -> None:
    session = a_session(EDGE, "front")
    mark(session, (0, 10), (0, -10), (0.2, -12))
    ends = session.station.outline_in
    assert ends[:, 1].min() == pytest.approx(-12, abs=1e-5)
    assert "mark 3 is 3/16 in off the line of the others: smooth the cloth" in words(session)
    mark(session, (0.05, -12))
    assert "off the line" not in words(session)
    mark(session, (-7, 0))
    assert session.station.outline_in[:, 0].max() == pytest.approx(0, abs=1e-5)
    assert not session.station.placement.mirrored
    assert "it lies to the left of the marks" in words(session)
    take(session, OtherSide())
    assert session.station.outline_in[:, 0].min() == pytest.approx(0, abs=1e-5)


def test_marks_across_the_fold_wait_for_the_side() -> None:
    session = a_session(EDGE, "front")
    before = session.station.placement
    mark(session, (-12, 0), (12, 0))
    assert session.station.placement == before
    assert "not on the marks yet" in words(session)
    assert "set a third mark on the cloth" in words(session)
    mark(session, (3, 8))
    assert session.station.outline_in[:, 1].min() == pytest.approx(0, abs=1e-5)


def test_marks_that_give_no_direction_are_told_and_the_first_stays() -> None:
    session = a_session(EDGE, "front", unit=Unit.CM)
    mark(session, (0, 0), (0, 3))
    assert "the marks are only 7.6 cm apart: set the second at least 10.2 cm away" in words(session)
    mark(session, (0, 12))
    assert off(fold_in(session), (0, 0), (0, 12)) < 1e-5
    take(session, Forget())
    assert "set mark 1 on the fold" in words(session)


def test_the_next_piece_is_laid_by_the_same_marks() -> None:
    session = a_session(EDGE, "front", "front")
    mark(session, (-6, 10), (-4, -10))
    take(session, Flip(by=1))
    assert "not on the marks yet" in words(session)
    take(session, LayOn())
    assert "it lies to the right of the marks" in words(session)
    assert off(fold_in(session), (-6, 10), (-4, -10)) < 1e-5


def test_a_piece_without_a_fold_is_laid_beside_the_selvedge_or_told_what_it_lacks() -> None:
    session = a_session(EDGE, "front", "pocket")
    take(session, Show(number=2))
    mark(session, (0, 10), (0, -10))
    assert "pocket has neither a fold nor a grainline" in words(session)
    assert "a thread" not in words(session)
    take(session, Forget())
    assert "set mark 1 on the selvedge" in words(session)
    take(session, ChangeEdge())
    assert "set mark 1 on a thread" in words(session)
    take(session, LayOn())
    assert "set two marks on a thread first" in words(session)


def test_a_lay_goes_with_the_piece_that_is_laid() -> None:
    session = a_session(EDGE, "front", "pocket")
    session.station = replace(session.station, work=replace(session.station.work, is_lay=True))
    places = session.station.work.lies.places
    mark(session, (-6, 10), (-4, -10))
    assert off(fold_in(session), (-6, 10), (-4, -10)) < 1e-5
    assert session.station.work.lies.places == places
    assert session.station.work.cloth != ClothPlace()


def test_a_lay_in_a_single_layer_is_brought_by_its_selvedge_and_a_folded_one_by_its_fold() -> None:
    session = a_session(EDGE, "front", "pocket")
    session.station = replace(session.station, work=replace(session.station.work, is_lay=True))
    take(session, Show(number=2))
    mark(session, (-10, 10), (-10, -10))
    assert "this cloth is folded: bring front on to its fold, and all goes with it" in words(session)
    single = a_session(EDGE, "pocket", "pocket")
    single.station = replace(single.station, work=replace(single.station.work, is_lay=True))
    assert "set mark 1 on the left selvedge" in words(single)
    mark(single, (-10, 10), (-9, -10))
    assert (
        off(single.station.work.cloth.on_table(np.array([[0.0, -9.0], [0.0, 9.0]])), (-10, 10), (-9, -10))
        < 1e-4
    )


def test_the_tape_says_straight_along_the_edge_and_against_the_grain() -> None:
    session = a_session(MEASURE, "front")
    piece, placement = session.station.piece, session.station.placement
    side = piece.edges["side"].curve
    one, other = (tuple(point) for point in placement.placed(side.points_at(np.array([2.0, 9.0]))).tolist())
    mark(session, one)
    take(session, aim(other))
    straight = np.hypot(*np.subtract(other, one))
    assert straight < 6.9
    assert "7 in along the side seam line" in words(session)
    assert "enter: to here" in words(session)
    take(session, Accept(), aim((0, 0)))
    assert "7 in along the side seam line" in words(session)
    assert "enter: anew from here" in words(session)
    take(session, Forget())
    mark(session, (-20, 0))
    take(session, aim((-20, 5)))
    assert "5 in straight · along the grain" in words(session)
    take(session, aim((-15, 5)))
    assert "45.0° to the grain" in words(session)


def test_the_tape_says_it_in_the_unit_of_the_file() -> None:
    session = a_session(MEASURE, "front", unit=Unit.CM)
    mark(session, (-20, 0))
    take(session, aim((-20, 10 / 2.54)))
    assert "10 cm straight" in words(session)


def test_a_seam_gauge_is_laid_at_the_cross_and_turned() -> None:
    session = a_session(MEASURE, "front")
    take(session, aim((-8, 2)), LayGauge(), Turn(anticlockwise=1))
    tool = session.station.tool
    assert isinstance(tool, MeasureTool)
    assert tool.gauge is not None
    assert (tool.gauge.x_in, tool.gauge.y_in) == pytest.approx((-8, 2))
    assert tool.gauge.turn_deg == pytest.approx(5)
    assert "gauge" in {layer.name for layer in session.scene()}
    take(session, LayGauge())
    assert "gauge" not in {layer.name for layer in session.scene()}


def test_tape_and_gauge_in_the_frozen_light_move_nothing_and_tick_nothing_off() -> None:
    session = a_session(0, "front")
    take(session, Freeze(), ChangeTool())
    lies, ticked = session.station.lies, session.station.copy.ticked
    mark(session, (-20, 0))
    take(session, aim((-20, 5)), LayGauge(), Turn(anticlockwise=1), Undo(), Undo())
    assert "measure" in words(session)
    mark(session, (-20, 0), (-20, 5))
    assert "FROZEN · 5 in straight · along the grain · tab: on with cutting" in words(session)
    assert {"main", "cross", "gauge", "measured"} <= {layer.name for layer in session.scene()}
    down = action_of(session.station.bindings, "page down", shift=False)
    assert down is not None
    take(session, down)
    assert "page down: it is cut" in words(session)
    assert (session.station.lies, session.station.copy.ticked) == (lies, ticked)
    assert session.frozen
    take(session, ChangeTool(), Freeze(), *[ChangeTool()] * MEASURE, Freeze(), Next())
    assert session.station.copy.ticked == ("cut",), "frozen anew, the tape is put away"


def test_undo_of_laying_leaves_what_was_found() -> None:
    session = begun_in_reaches()
    to_finding(session)
    take(session, Next(), Freeze(), Undo())
    assert "nothing to undo" in words(session)
    assert session.station.work.lies == Lies(
        cloth=session.station.work.cloth, places=session.station.work.lies.places
    )


def test_every_tool_says_something_and_lights_something() -> None:
    session = a_session(0, "front")
    for tool in (EdgeTool, CrossesTool, MeasureTool):
        take(session, ChangeTool())
        assert isinstance(session.station.tool, tool)
        assert {layer.name for layer in session.scene()} >= {"main", "cross", "strip"}
        for layer in session.scene():
            layer.draw()
    take(session, ChangeTool())
    assert {layer.name for layer in session.scene()} == {"main", "strip"}


@pytest.mark.parametrize(
    "bindings", [*(tool.bindings for tool in TOOLS), FINDING, ASKING, CUTTING, MeasureTool().frozen_bindings]
)
def test_no_key_means_two_things(bindings: tuple[Binding, ...]) -> None:
    keys = [key for binding in bindings for key, _ in binding.pairs()]
    assert len(keys) == len(set(keys))
    assert all(key in keys for key in ("page down", "page up", "b", "q"))
