"""Tools of the cut station that work on the cloth: marks on its edge, the tape measure, crosses, reaches."""

from dataclasses import replace

import numpy as np
import pytest
import shapely

from calibration.frames import Array
from patterns.cutting.marks import LineKind, marks_of
from patterns.measures import Unit
from patterns.tracing.hand_trace import Place
from projector.actions import (
    Accept,
    Action,
    Aim,
    Back,
    ChangeEdge,
    ChangeTool,
    CutInReaches,
    FindCloth,
    Flip,
    Forget,
    Freeze,
    LayGauge,
    LayOn,
    Mirror,
    Move,
    Next,
    Open,
    OtherSide,
    Show,
    Turn,
    Undo,
    Untick,
)
from projector.bindings import Binding
from projector.cloth.cloth_place import ClothPlace
from projector.cloth.ground import Ground
from projector.cloth.laid_pieces import outline_in
from projector.cutting.bindings import ASKING
from projector.cutting.cross_keys import FINDING
from projector.cutting.crosses_tool import CrossesTool
from projector.cutting.edge_tool import EdgeTool
from projector.cutting.finding import FindTool
from projector.cutting.in_reaches import is_unlit
from projector.cutting.measure_tool import MeasureTool
from projector.cutting.stage import Stage
from projector.cutting.toolbox import TOOLS
from projector.cutting.work import Lies
from projector.lighting.lit_area import lit_area
from projector.lighting.look import STYLES
from projector.lighting.strokes import Stroke
from projector.places import read_work, write_work
from projector.scene import Controls
from projector.session import Session
from projector.stations.cut import CutStation
from tests.unit.projector.long_pieces import cloak
from tests.unit.projector.samples import a_map, an_alignment, pieces

LIT = lit_area(a_map())
EDGE, CROSSES, MEASURE = 1, 2, 3  # how often tab is pressed


def a_session(tool: int, *named: str, unit: Unit = Unit.IN) -> Session[CutStation]:
    some = tuple(pieces()[name] for name in named) or (cloak(),)
    session = Session(CutStation.begun(Ground(pieces=some, alignment=an_alignment(), lit=LIT, unit=unit)))
    take(session, *[ChangeTool()] * tool)
    return session


def take(session: Session[CutStation], *actions: Action) -> None:
    for action in actions:
        session.take(action)


def aim(at_in: Place) -> Aim:
    x, y = LIT.projector_map.screen_from_table([at_in])[0].tolist()
    return Aim(at_px=(x, y))


def mark(session: Session[CutStation], *places: Place) -> None:
    for place in places:
        take(session, aim(place), Accept())


def words(session: Session[CutStation]) -> str:
    said = session.station.strip_words(Controls(frozen=session.frozen))
    return " · ".join((*said.first, *said.aside))


def stage(session: Session[CutStation]) -> Stage:
    return session.station.stage


def fold_in(session: Session[CutStation]) -> Array:
    (fold,) = marks_of(session.station.piece, session.station.placement).of_kind(LineKind.FOLD)
    return fold.points


def off(points: Array, one: Place, other: Place) -> float:
    """How far points are from a line, at most."""
    along = np.subtract(other, one) / np.hypot(*np.subtract(other, one))
    return float(np.abs((points - one) @ np.array([-along[1], along[0]])).max())


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


def lying_along(session: Session[CutStation]) -> None:
    """The cloak along the light, its neck at the left."""
    take(session, *[Turn(anticlockwise=1)] * 18, *[Move(right=1)] * 26)


def begun_in_reaches() -> Session[CutStation]:
    session = a_session(0)
    lying_along(session)
    take(session, CutInReaches())
    assert session.station.copy.reaches is not None
    take(session, Freeze())
    return session


def test_a_piece_larger_than_the_light_is_cut_reach_by_reach_with_page_keys_alone() -> None:
    session = begun_in_reaches()
    reaches = session.station.copy.reaches
    assert reaches is not None
    count = len(reaches.reaches)
    assert count == 2
    said, placements = [], [session.station.placement]
    for _ in range(12):
        if session.station.step is None:
            break
        said.append(words(session))
        if stage(session) is Stage.FINDING:
            assert not session.frozen
            (main,) = (layer for layer in session.scene() if layer.name == "main")
            brightest = max(part.light for part in main.draw() if isinstance(part, Stroke))
            assert brightest < STYLES[LineKind.CUT].light, "no cut line is lit before the cloth is found"
        session.take(Next())
        if session.station.placement != placements[-1]:
            placements.append(session.station.placement)
    assert session.station.step is None
    assert "reach 1 of 2 · cut up to the end sign" in said[0]
    assert "clip the notches: side" in said[1]
    assert "mark both crosses" in said[2]
    assert "slide the cloth 12" in said[3]
    assert "reach 2 of 2 · cut to the end" in said[4]
    assert "clip the notches: side double" in said[5]
    slid = np.subtract((placements[1].x_in, placements[1].y_in), (placements[0].x_in, placements[0].y_in))
    assert slid.tolist() == pytest.approx(reaches.slide_after(0))


def to_finding(session: Session[CutStation]) -> FindTool:
    for _ in range(6):
        if stage(session) is Stage.FINDING:
            break
        session.take(Next())
    tool = session.station.tool
    assert isinstance(tool, FindTool)
    return tool


def test_crosses_set_on_the_marks_bring_the_light_there_and_tell_the_stretch() -> None:
    session = begun_in_reaches()
    tool, before = to_finding(session), session.station.placement
    moved = ClothPlace(x_in=1.5, y_in=-0.75, turn_deg=2.0)
    one, other = (tuple(point) for point in moved.on_table(np.array(tool.expected_in)).tolist())
    mark(session, one, other)
    assert stage(session) is Stage.CUTTING
    assert session.station.copy.reach == 1
    there = moved.on_table(tool.expected.laid(session.station.copy.place).placed(cloak().cut_line))
    assert np.abs(session.station.placement.placed(cloak().cut_line) - there).max() < 1e-4
    assert session.station.placement.turn_deg == pytest.approx(before.turn_deg + 2, abs=1e-4)
    assert "by 0.0%, give or take 0.1% between the marks" in words(session)


def test_too_much_stretch_is_told_and_nothing_lit_until_the_person_says_so() -> None:
    session = begun_in_reaches()
    tool = to_finding(session)
    one, other = np.array(tool.expected_in)
    grown = (*((one + 0.01 * (one - other)).tolist(),), tuple(other.tolist()))
    mark(session, (grown[0][0], grown[0][1]), grown[1])
    assert stage(session) is Stage.FINDING
    assert "THE CLOTH HAS STRETCHED · the cloth grew by 1.0%" in words(session)
    assert "13/64 in over 20 in, and 1/16 in is the most" in words(session)
    take(session, Undo())
    assert "its marks on to the crosses" in words(session)
    mark(session, (grown[0][0], grown[0][1]), grown[1])
    take(session, Accept())
    assert stage(session) is Stage.CUTTING
    assert "grew by 1.0%" in words(session)
    lengths = [float(np.hypot(*np.diff(one.placed(cloak().cut_line)[[0, -1]], axis=0)[0])) for one in
               (session.station.placement, tool.expected.laid(session.station.copy.place))]  # fmt: skip
    assert lengths[0] == pytest.approx(lengths[1]), "never scaled"


def test_finding_is_gone_back_from_or_given_up_for_laying_anew() -> None:
    session = begun_in_reaches()
    to_finding(session)
    take(session, Back())
    assert stage(session) is Stage.CUTTING
    assert "slide the cloth on" in words(session)
    take(session, Next())
    assert stage(session) is Stage.FINDING
    take(session, Freeze())
    assert stage(session) is Stage.LAYING
    assert session.station.copy.reach == 0


def test_a_slide_is_not_unticked_in_the_frozen_light() -> None:
    session = begun_in_reaches()
    to_finding(session)
    take(session, Next(), Untick())
    assert session.station.copy.reach == 1
    assert "the cloth was slid since" in words(session)


def test_a_piece_that_fits_needs_no_reaches_and_one_that_is_begun_keeps_them() -> None:
    session = a_session(0, "front")
    assert "reaches" not in words(session)
    take(session, CutInReaches())
    assert session.station.copy.reaches is None
    assert "front fits into the light: it needs no reaches" in words(session)
    session = a_session(0)
    lying_along(session)
    assert "g: cut in reaches" in words(session)
    take(session, CutInReaches(), CutInReaches())
    assert session.station.copy.reaches is None
    take(session, CutInReaches(), Freeze(), Next(), Freeze(), CutInReaches())
    assert session.station.copy.reaches is not None
    assert "cloak is begun already" in words(session)


def test_cloth_that_is_longer_than_the_light_is_slid_on_by_two_crosses_for_the_next_piece() -> None:
    session = a_session(0, "front", "front", "front")
    work = session.station.work
    copies = tuple(
        replace(copy, place=replace(copy.place, x_in=copy.place.x_in + 17 * number, y_in=copy.place.y_in + 2))
        for number, copy in enumerate(work.copies)
    )
    session.station = replace(session.station, work=replace(work, copies=copies, is_lay=True))
    take(session, Show(number=1), Flip(by=2))
    assert "g: slide the cloth on" in words(session)
    cut = session.station.work.ticked(0, ("cut",)).ticked(1, ("cut",))
    gone = Session(replace(session.station, work=cut))
    take(gone, CutInReaches())
    left = gone.station.work.crosses_in
    assert left is not None
    uncut = shapely.Polygon(outline_in(gone.station.piece, gone.station.copy.place))
    assert all(uncut.contains(shapely.Point(mark)) for mark in left), "what is cut may be lifted off"
    take(session, CutInReaches())
    crosses = session.station.work.crosses_in
    assert crosses is not None
    assert "mark both crosses" in words(session)
    assert "m: slide the cloth" in words(session)
    take(session, FindCloth(), Next())
    assert stage(session) is Stage.LAYING
    assert "beyond the right edge" not in words(session)
    for marks in (np.array(crosses), session.station.work.cloth.on_table(np.array(crosses))):
        pixels = LIT.projector_map.screen_from_table(marks)
        assert (pixels > 20).all()
        assert (pixels < np.array(LIT.projector_map.screen_px) - 20).all()


def test_two_crosses_find_cloth_again_that_has_slipped() -> None:
    session = a_session(CROSSES, "front")
    take(session, FindCloth())
    assert "no crosses are marked on this cloth" in words(session)
    mark(session, (-15, -5), (14, 8))
    assert session.station.work.crosses_in is not None
    before = session.station.placement.placed(session.station.piece.cut_line)
    take(session, FindCloth())
    mark(session, (-14.5, -5), (14.5, 8))
    assert stage(session) is Stage.LAYING
    assert isinstance(session.station.tool, CrossesTool)
    after = session.station.placement.placed(session.station.piece.cut_line)
    assert np.abs(after - before - (0.5, 0)).max() < 1e-4
    take(session, Forget())
    assert session.station.work.crosses_in is None


def test_after_a_power_cut_the_crosses_find_the_cloth_before_any_cut_line_is_lit() -> None:
    session = a_session(CROSSES, "front")
    mark(session, (-15, -5), (14, 8))
    take(session, Freeze())
    resumed = CutStation.begun(session.station.ground).resumed(session.station.work)
    again = Session(resumed)
    assert stage(again) is Stage.ASKING
    assert "m: it has moved, find it by its crosses" in words(again)
    take(again, FindCloth())
    mark(again, (-15, -4), (14, 9))
    assert stage(again) is Stage.CUTTING
    shift = again.station.placement.y_in - session.station.placement.y_in
    assert shift == pytest.approx(1, abs=1e-5)


def test_after_a_power_cut_two_marks_on_the_fold_bring_all_pieces_before_any_cut_line_is_lit() -> None:
    session = a_session(0, "front", "pocket")
    take(session, Freeze())
    kept = session.station.work
    again = Session(CutStation.begun(Ground(pieces=(pieces()["front"], pieces()["pocket"]), alignment=an_alignment(),
                                            lit=LIT)).resumed(kept))  # fmt: skip
    assert "l: it has moved, mark its fold" in words(again)
    take(again, LayOn(), Next())
    assert stage(again) is Stage.FINDING
    assert "set both marks first" in words(again)
    mark(again, (-6, 10), (-4, -10))
    (main,) = (layer for layer in again.scene() if layer.name == "main")
    assert max(part.light for part in main.draw() if isinstance(part, Stroke)) < STYLES[LineKind.CUT].light
    assert again.station.work.lies.places == kept.lies.places
    assert off(fold_in(again), (-6, 10), (-4, -10)) < 1e-4
    take(again, Next())
    assert stage(again) is Stage.CUTTING
    back = Session(replace(again.station, stage=Stage.ASKING))
    take(back, LayOn(), Back())
    assert stage(back) is Stage.ASKING


def test_reaches_are_planned_from_where_the_piece_lies_and_given_up_once_it_is_moved() -> None:
    for action in (Move(right=1), Mirror(), Open(), Turn(anticlockwise=1)):
        session = a_session(0)
        lying_along(session)
        take(session, CutInReaches())
        assert session.station.copy.reaches is not None
        take(session, action)
        assert session.station.copy.reaches is None
        assert "g: cut in reaches" in words(session)
    begun = begun_in_reaches()
    take(begun, Next(), Freeze(), Move(right=1))
    assert begun.station.copy.reaches is not None, "it is cut already"


def test_after_a_power_cut_while_the_cloth_is_slid_it_is_looked_for_where_it_was_to_be() -> None:
    session = begun_in_reaches()
    tool = to_finding(session)
    again = Session(CutStation.begun(session.station.ground).resumed(session.station.work))
    take(again, FindCloth())
    found = again.station.tool
    assert isinstance(found, FindTool)
    assert found.expected == tool.expected
    take(again, Next())
    assert again.station.copy.reach == 1


def test_work_in_reaches_is_kept_and_read_as_it_was(tmp_path_factory: pytest.TempPathFactory) -> None:
    session = begun_in_reaches()
    to_finding(session)
    take(session, Next())
    path = tmp_path_factory.mktemp("kept") / "table.places.json"
    write_work(path, "sail loft", "cloak", session.station.work)
    assert read_work(path, "sail loft", "cloak") == session.station.work


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


@pytest.mark.parametrize("bindings", [*(tool.bindings for tool in TOOLS), FINDING, ASKING])
def test_no_key_means_two_things(bindings: tuple[Binding, ...]) -> None:
    keys = [key for binding in bindings for key, _ in binding.pairs()]
    assert len(keys) == len(set(keys))
    assert all(key in keys for key in ("page down", "page up", "b", "q"))


def to_the_end(session: Session[CutStation]) -> list[str]:
    """Page down until nothing is left to do; what was ticked off, and never with any of it out of the light."""
    for _ in range(40):
        if session.station.step is None:
            break
        ticked, unlit = session.station.copy.ticked, is_unlit(session.station)
        take(session, Next())
        assert not unlit or session.station.work.copies[0].ticked == ticked, (
            "a cut that was not lit is ticked"
        )
    return list(session.station.copy.ticked)


def test_page_down_takes_a_long_piece_in_reaches_rather_than_tick_off_what_is_not_lit() -> None:
    session = a_session(0)
    lying_along(session)
    take(session, Next())
    assert "FROZEN · NOT ALL OF IT IS LIT" in words(session)
    assert "page down: in reaches" in words(session)
    assert "cut 1" in to_the_end(session)
    assert "cut 2" in session.station.copy.ticked
    upright = a_session(0)
    take(upright, Next(), Next())
    assert (stage(upright), upright.station.copy.ticked) == (Stage.LAYING, ())
    assert "not all of it is lit: page down slides the cloth" in words(upright)
    take(upright, Next())
    assert upright.station.copy.reaches is not None
    assert "slide the cloth" in words(upright)
    assert "cut 2" in to_the_end(upright)


def test_page_down_asks_for_the_cloth_to_be_slid_where_a_piece_would_fit() -> None:
    session = a_session(0, "front")
    take(session, *[Move(right=-1)] * 50, Next(), Next())
    assert (stage(session), session.station.copy.ticked) == (Stage.LAYING, ())
    take(session, Next())
    assert "slide the cloth" in words(session)
    assert not is_unlit(session.station)
    assert to_the_end(session)[0] == "cut"


def test_page_down_slides_a_lay_into_the_light_by_two_crosses() -> None:
    session = a_session(0, "front")
    work = session.station.work
    session.station = replace(session.station, work=replace(work, is_lay=True))
    take(session, *[Move(right=-1)] * 50, Next(), Next(), Next())
    assert "page down: both are marked, slide it" in words(session)
    take(session, Next())
    assert stage(session) is Stage.FINDING
    take(session, Next())
    assert stage(session) is Stage.CUTTING
    assert not is_unlit(session.station)
    assert to_the_end(session)[0] == "cut"


def test_a_piece_that_cannot_be_lit_is_left_for_later_and_never_ticked_off() -> None:
    small = lit_area(a_map(corners_in=((-8, 5), (8, 5), (8, -5), (-8, -5))))
    ground = Ground(pieces=(cloak(), pieces()["pocket"]), alignment=an_alignment(), lit=small)
    session = Session(CutStation.begun(ground))
    take(session, Freeze(), Next())
    assert stage(session) is Stage.CUTTING
    assert "not all of it is lit: cloak is wider than the light" in words(session)
    assert session.station.piece.name == "cloak"
    take(session, Next())
    assert session.station.piece.name == "pocket"
    assert session.station.work.copies[0].ticked == ()


def test_the_way_on_to_the_fold_comes_first_until_it_was_gone() -> None:
    session = a_session(0, "front", "pocket")

    def aside() -> tuple[str, ...]:
        return session.station.strip_words(Controls()).aside

    assert aside()[0] == "tab: on to the cloth's fold"
    take(session, Flip(by=1))
    assert aside()[0] == "tab: on to the cloth's selvedge"
    take(session, Flip(by=-1), ChangeTool())
    assert "tab: on" not in words(session)
    mark(session, (-6, 10), (-4, -10))
    take(session, *[ChangeTool()] * 3)
    assert aside()[0] == "page down: pocket"
    begun = a_session(0, "front", "pocket")
    take(begun, Freeze(), Freeze())
    assert "tab: on" not in words(begun), "the cloth is cut already"
