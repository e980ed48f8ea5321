"""What tracing on the table shows, and what each action does."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from patterns import Kind, PatternError
from patterns.measures import Unit
from patterns.parts import Bend
from patterns.piece import Piece
from patterns.tracing.hand_trace import HandTrace, Place, Way
from patterns.tracing.laid_piece import LaidPiece
from projector.actions import (
    Accept,
    Action,
    Aim,
    Cancel,
    ChangeSide,
    Finish,
    Freeze,
    Help,
    Insert,
    MoveEdge,
    NameEdge,
    Offer,
    PutDown,
    Redo,
    Remove,
    SetCurve,
    Smooth,
    Straighten,
    TakeUp,
    TurnPoint,
    Type,
    Undo,
)
from projector.lighting.lit_area import lit_area
from projector.scene import Controls
from projector.session import Session
from projector.stations.trace import TraceStation, Work
from projector.tracing.bindings import ASKING_LENGTH, GROWING, NAMING, PULLING
from projector.tracing.ground import TraceGround
from projector.tracing.words import trace_words
from tests.unit.patterns.test_hand_trace import FOLD, WALK, on_table, walked
from tests.unit.projector.samples import an_alignment

ALIGNMENT = an_alignment()
CALM = Controls()


def refuse_long(piece: Piece) -> None:
    """A pattern file that has no room for a hem below 40 in."""
    if max(point.y.inches for edge in piece.edges for point in edge.path) > 40:
        raise PatternError("front: the hem is too low\nfor this file")


GROUND = TraceGround(
    piece="front", unit=Unit.IN, file="smock.yaml", alignment=ALIGNMENT, lit=lit_area(ALIGNMENT.map),
    judge=refuse_long,
)  # fmt: skip
EMPTY = TraceStation.begun(GROUND, HandTrace())
GROWN = TraceStation.begun(GROUND, walked())
CLOSED = TraceStation.begun(GROUND, walked().closed_up())
LAID = TraceStation.begun(GROUND, GROUND.made(walked().closed_up()))


def aim(at_in: Place) -> Aim:
    """The pointer at a place of the sample smock, in its own inches."""
    u, v = ALIGNMENT.map.screen_from_table([on_table(at_in)])[0].tolist()
    return Aim(at_px=(u, v))


def after(station: TraceStation, *actions: Action) -> TraceStation:
    for action in actions:
        station = station.after(action)
    return station


def typed(text: str) -> Sequence[Action]:
    return [Type(text=sign) for sign in text]


def laid(station: TraceStation) -> LaidPiece:
    assert isinstance(station.work, LaidPiece)
    return station.work


def said(station: TraceStation, controls: Controls = CALM) -> tuple[str, ...]:
    words = trace_words(station, controls)
    return (*words.first, *words.aside)


def test_from_nothing_to_a_piece() -> None:
    station = after(EMPTY, aim(FOLD[0]), Accept(), aim(FOLD[1]), Accept())
    for at_in, way in WALK:
        station = after(station, aim(at_in), Accept() if way is Way.CORNER else SetCurve())
    assert isinstance(station.work, HandTrace)
    assert station.work.places_in == pytest.approx(walked().places_in, abs=1e-6)
    station = after(station, Finish())
    assert said(station)[0] == "are the names right?"
    assert "d writes smock.yaml" in said(station)
    station = after(station, Finish())
    assert station.notice == "written to smock.yaml"
    assert [edge.name for edge in laid(station).piece.edges][:2] == ["neck", "overarm"]
    assert not station.finished
    assert after(station, Finish()).finished


def test_the_strip_says_what_comes_next_with_live_lengths() -> None:
    assert said(EMPTY)[0] == "cross on the fold's top, then enter"
    station = after(EMPTY, aim(FOLD[0]), Accept())
    assert said(station)[0] == "cross on the fold's bottom, then enter"
    station = after(station, aim(FOLD[1]), Accept())
    assert said(station)[:2] == ("now round from the fold's top", "fold 18 1/2 in")
    station = after(GROWN, aim((4.5, 21.0)))
    first, before, fold, *_ = said(station)
    assert first == "edge 5: 6 in"  # 5.02 set, and 1 in on to the cross
    assert before == "edge 4 was 15 1/2 in"
    assert fold == "fold 18 1/2 in"
    assert "d closes the outline" in said(station)


@pytest.mark.parametrize("station", [GROWN, CLOSED, LAID])
def test_a_point_in_hand_follows_the_cross_and_stays_where_it_is_put(station: TraceStation) -> None:
    held = after(station, aim((13.2, 3.6)), TakeUp())
    assert held.held is not None
    assert held.cross.at_in == pytest.approx(on_table((13.0, 3.5)), abs=1e-3)
    assert held.shown == station.work or isinstance(station.work, LaidPiece)
    moved = after(held, aim((14.2, 3.6)))
    assert moved.work is station.work
    # the pointer took it a little off its middle, and keeps that distance
    assert moved.shown.places_in[held.held] == pytest.approx(on_table((14.0, 3.5)), abs=2e-3)
    assert said(moved)[0] == "corner in hand"
    assert "4 9/16 in" not in said(moved)[2]
    assert said(held)[2].endswith(": 4 9/16 in")
    put = after(moved, Accept())
    assert put.held is None
    assert put.work.places_in == pytest.approx(moved.shown.places_in)
    assert after(put, Undo()).work == station.work
    back = after(moved, Undo())
    assert (back.work, back.held, back.notice) == (station.work, None, "put back")


def test_the_mouse_takes_a_point_and_lets_it_go() -> None:
    station = after(LAID, aim((13.0, 3.5)), TakeUp(), aim((13.5, 3.5)), PutDown())
    assert station.held is None
    assert laid(station).piece.edges[2].path[0].x.inches == pytest.approx(13.5, abs=2e-3)
    assert after(station, PutDown()) is station
    untouched = after(LAID, aim((13.0, 3.5)), TakeUp(), PutDown())
    assert untouched.history is LAID.history


def test_points_are_turned_taken_away_and_inserted() -> None:
    corner = after(GROWN, aim((9.5, 9.25)), TakeUp(), TurnPoint())
    assert isinstance(corner.work, HandTrace)
    assert corner.work.points[4].way is Way.CORNER
    fewer = after(GROWN, aim((9.5, 9.25)), TakeUp(), Remove())
    assert len(fewer.work.places_in) == len(GROWN.work.places_in) - 1
    more = after(fewer, aim((9.6, 9.4)), Insert())
    assert more.work.places_in[6] == pytest.approx(on_table((9.6, 9.4)), abs=1e-6)
    assert after(GROWN, Remove()).notice == "pick the point up first: p"
    assert after(GROWN, aim((5.0, 12.0)), TakeUp()).notice == "no point is near the cross"
    bent = after(LAID, aim((8.0, 1.5)), Insert())
    assert laid(bent).piece.edges[1].bend is Bend.SMOOTH
    assert laid(after(bent, TakeUp(), Remove())).piece == laid(LAID).piece


def test_edges_are_smoothed_straightened_and_moved() -> None:
    on_side = after(LAID, aim((9.0, 16.0)))
    straight = after(on_side, Straighten())
    assert laid(straight).piece.edges[3].bend is Bend.STRAIGHT
    assert after(straight, Undo(), Redo()).work == straight.work
    assert laid(after(on_side, Smooth())).piece.edges[3].path[0] == laid(LAID).piece.edges[3].path[0]
    asked = after(LAID, aim((9.0, 5.8)), aim((4.5, 21.8)), MoveEdge())
    assert asked.bindings == ASKING_LENGTH
    assert said(asked)[0] == "move the hem out by: _"
    moved = after(asked, *typed("1/2 in"), Accept())
    assert moved.question is None
    assert laid(moved).piece.edges[5].path[0].y.inches == pytest.approx(22.5, abs=0.03)
    inwards = after(asked, *typed("-1"), Accept())
    assert laid(inwards).piece.edges[5].path[0].y.inches == pytest.approx(21.0, abs=0.03)
    wrong = after(asked, *typed("1/"), Accept())
    assert (wrong.notice, wrong.work) == ("that is no length: write 1/2 in or 1.5 cm", LAID.work)
    assert after(asked, Type(text="9"), Cancel()).work == LAID.work


def test_what_the_file_cannot_take_is_said_in_one_line_and_not_done() -> None:
    asked = after(LAID, aim((4.5, 21.8)), MoveEdge(), *typed("30"))
    refused = after(asked, Accept())
    assert refused.notice == "front: the hem is too low"
    assert refused.work == LAID.work


def test_a_name_keeps_its_capitals_unless_it_is_one_of_the_usual() -> None:
    station = after(TraceStation.begun(GROUND, walked().without(3)), Finish(), *typed("Waist"), Accept())
    station = after(station, *typed("Yoke seam"), Accept())
    assert isinstance(station.work, HandTrace)
    assert station.work.names[:2] == ("waist", "Yoke seam")


def test_names_are_asked_for_where_they_are_not_the_usual_ones() -> None:
    station = after(TraceStation.begun(GROUND, walked().without(3)), Finish())
    assert station.bindings == NAMING
    assert said(station)[0] == "edge 1 is called: _"
    station = after(station, *typed("wast"), Undo(), Undo(), *typed("ist"), Accept())
    assert said(station)[0] == "edge 2 is called: _"
    offered = after(station, Offer())
    assert said(offered)[0] == "edge 2 is called: neck_"
    station = after(offered, Offer(), Offer(), Accept(), *typed("waist"), Accept())
    assert station.notice == "there is a waist already"
    station = after(station, Cancel())
    assert after(station, Finish()).question is not None
    station = after(station, Finish(), *typed("flank"), Accept(), Offer(), Accept())
    assert isinstance(station.work, HandTrace)
    assert station.work.names == ("waist", "sleeve hem", "flank", "neck")
    renamed = after(station, aim((4.5, 21.8)), NameEdge(), *typed("hem"), Accept(), Finish())
    kinds = {edge.name: edge.kind for edge in laid(renamed).piece.edges}
    assert kinds["hem"] is Kind.HEM
    assert after(renamed, aim((4.5, 21.8)), NameEdge(), *typed("flank"), Accept()).work == renamed.work


def test_crossing_edges_are_named_before_anything_is_closed() -> None:
    crossed = after(GROWN, aim((13.0, 3.5)), TakeUp(), aim((9.0, 14.0)), Accept())
    closed = after(crossed, Finish())
    assert closed.notice == "overarm and side cross: pull a point, or undo"
    assert closed.work == crossed.work


def test_edges_to_be_moved_are_moved_when_the_piece_is_made() -> None:
    ground = replace(GROUND, moves=(("hem", 1.0), ("sleeve hem", -0.5)))
    made = after(TraceStation.begun(ground, walked().closed_up()), Finish())
    assert laid(made).piece.edges[5].path[0].y.inches == pytest.approx(23.0, abs=0.05)
    wrong = TraceStation.begun(replace(GROUND, moves=(("cuff", 1.0),)), walked().closed_up())
    assert after(wrong, Finish()).notice.startswith('front has no edge "cuff"')


def test_names_given_beforehand_are_taken() -> None:
    ground = replace(GROUND, names=("a", "b", "c", "d", "e hem"))
    made = after(TraceStation.begun(ground, walked()), Finish(), Finish())
    assert [edge.name for edge in laid(made).piece.edges] == ["a", "b", "c", "d", "e hem", "centre front"]
    fewer = after(TraceStation.begun(ground, walked().without(3)), Finish())
    assert fewer.notice == "4 edges, but 5 names were given: a, b, c, d, e hem"


def steps() -> st.SearchStrategy[Action]:
    places = st.tuples(st.floats(0.0, 1919.0), st.floats(0.0, 1079.0))
    aims = places.map(lambda at_px: Aim(at_px=at_px))
    rest: list[Action] = [
        Accept(), SetCurve(), TakeUp(), PutDown(), Insert(), Remove(), TurnPoint(), Smooth(), Straighten(), Finish(),
        ChangeSide(), MoveEdge(), NameEdge(), Offer(), Cancel(), Type(text="1"),
    ]  # fmt: skip
    return st.one_of(aims, st.sampled_from(rest))


@given(start=st.sampled_from([EMPTY, GROWN, CLOSED, LAID]), walk=st.lists(steps(), max_size=25))
def test_all_undone_is_the_beginning_and_all_redone_the_end(start: TraceStation, walk: list[Action]) -> None:
    end = after(after(start, *walk), Cancel(), PutDown())
    if end.held is not None:  # where it could not be put down, undo first puts it back
        end = end.after(Undo())
    works: list[Work] = [end.work]
    undoing = end
    while undoing.history.before:
        undoing = undoing.after(Undo())
        works.append(undoing.work)
    assert undoing.work == start.work
    assert undoing.after(Undo()).notice == "nothing to undo"
    for work in reversed(works[:-1]):
        undoing = undoing.after(Redo())
        assert undoing.work == work
    assert undoing.after(Redo()).notice == "nothing to redo"


def test_a_change_after_undoing_cannot_be_redone_over() -> None:
    station = after(GROWN, aim((2.0, 22.5)), SetCurve(), Undo(), aim((1.0, 22.5)), SetCurve())
    assert after(station, Redo()).notice == "nothing to redo"


def test_each_stage_has_its_keys_and_its_layers() -> None:
    assert (EMPTY.bindings, CLOSED.bindings, LAID.bindings) == (GROWING, GROWING, PULLING)
    for station in (EMPTY, GROWN, CLOSED, LAID, after(LAID, TakeUp())):
        layers = station.scene(CALM)
        names = {"outline", "points", "cross", "strip"} | ({"names"} if station.held is None else set())
        assert {layer.name for layer in layers} - {"guide"} == names
        assert all(isinstance(layer.draw(), tuple) for layer in layers)
        assert [layer.name for layer in station.scene(Controls(helping=True))] == ["help", "strip"]
    assert said(LAID, Controls(frozen=True))[0] == "FROZEN"
    assert said(LAID, Controls(preview=True))[2] == "preview, not true to size"
    assert np.allclose(after(LAID, ChangeSide()).person.facing_deg, 90)


def test_a_touched_mouse_neither_moves_frozen_light_nor_closes_the_help() -> None:
    session = Session(GROWN)
    session.take(Help())
    session.take(aim((1.0, 1.0)))
    assert session.helping
    session.take(Help())
    session.take(Freeze())
    session.take(aim((1.0, 1.0)))
    assert session.station is GROWN
