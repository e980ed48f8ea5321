"""What drafting on the table shows, and what each action does."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patterns import example, read_pattern
from patterns.changes import LowerNeck, VNeck, spelled
from patterns.changes.change_list import without_change
from patterns.files.kept_file import KeptFile
from patterns.pattern import Pattern
from projector.actions import (
    Accept,
    Action,
    AddChange,
    Aim,
    Blank,
    Cancel,
    ChangeSide,
    ChangeStep,
    ChangeTool,
    Flip,
    Freeze,
    Help,
    Insert,
    Mirror,
    Move,
    Offer,
    Open,
    PutDown,
    Redo,
    Remove,
    Rewrite,
    Show,
    Smooth,
    Straighten,
    SwitchChange,
    TakeUp,
    Turn,
    Type,
    Undo,
)
from projector.bindings import typed_by
from projector.drafting.bindings import CHANGES, PLACING, POINTS, TYPING_CHANGE, TYPING_NUMBER
from projector.drafting.checks import Wearer
from projector.drafting.ground import DraftGround
from projector.drafting.words import Tool, list_rows, strip_words
from projector.drafting.work import DraftWork
from projector.lighting.lit_area import lit_area
from projector.scene import Controls
from projector.stations.draft import DraftStation
from projector.verbs.draft_window import DraftSession
from tests.unit.projector.samples import an_alignment

ALIGNMENT = an_alignment()
LIT = lit_area(ALIGNMENT.map)
GROUND = DraftGround(alignment=ALIGNMENT, lit=LIT, wearer=Wearer(head_in=57 / 2.54))
OVERTOP = read_pattern(example("harbour overtop"))
CALM = Controls()
UNDERARM, SHOULDER = (10.75, 12.6), (3.5, 0.0)


def begun(pattern: Pattern = OVERTOP, version: str | None = None) -> DraftStation:
    station = DraftStation.begun(GROUND, DraftWork.begun(pattern, version, GROUND.under))
    return station.after(Aim(at_px=(3.0, 3.0)))  # where the mouse happens to lie


def after(station: DraftStation, *actions: Action) -> DraftStation:
    for action in actions:
        station = station.after(action)
    return station


def typed(station: DraftStation, text: str) -> DraftStation:
    return after(station, *(Type(text=sign) for sign in text))


def at(station: DraftStation, place: tuple[float, float]) -> Aim:
    """The pointer on a place in inches of the shown piece."""
    on_table = station.work.laid.placement.placed(np.array([place]))
    x, y = LIT.projector_map.screen_from_table(on_table)[0].tolist()
    return Aim(at_px=(x, y))


def changes(station: DraftStation) -> list[str]:
    return [spelled(change) for change in station.work.pattern.changes]


def first(station: DraftStation) -> str:
    return ", ".join(strip_words(station, CALM).first)


def aside(station: DraftStation) -> str:
    return ", ".join(strip_words(station, CALM).aside)


def test_the_number_chosen_goes_up_and_down_by_eighths_and_sixteenths() -> None:
    station = after(begun(), Move(right=1), Move(right=1), Move(right=-1, other_step=True))
    assert changes(station)[0] == "neck v, piece front, depth 8 3/16 in"
    assert station.work.drafted.pieces["front"].edges["neck"].points[0].tolist() == [0, 8.1875]
    station = after(station, ChangeStep(), Move(right=1))
    assert changes(station)[0].endswith("depth 8 1/4 in")
    assert station.work.drafted.pieces["front facing"].seam_line.max(axis=0)[1] > 10.2


def test_the_choice_stops_at_every_number_and_goes_round() -> None:
    station, seen = begun(), []
    for _ in range(6):
        seen.append((station.work.stop.number, station.work.stop.field))
        station = station.after(Move(away=-1))
    assert seen == [(0, "depth"), (1, "by"), (2, "depth"), (2, "below_point"), (3, "depth"), (0, "depth")]
    assert station.history.before == ()


def test_a_change_is_switched_off_and_on_again() -> None:
    off = begun().after(SwitchChange())
    assert off.work.pattern.changes[0].off
    assert "TOO SMALL for the head" in first(off)
    assert "does not go over a head" in aside(off)
    assert any("(off)" in row.text for row in list_rows(off.work))
    on = off.after(SwitchChange())
    assert on.work.pattern == OVERTOP
    assert "goes over the head" in first(on)


def test_in_a_version_it_is_switched_there_alone() -> None:
    station = begun(version="low back").after(SwitchChange())
    assert station.work.pattern.changes == OVERTOP.changes
    assert station.work.pattern.version("low back") is not None
    assert [version.without for version in station.work.pattern.versions] == [(0,), (0, 1)]
    assert sum("(not in this version)" in row.text for row in list_rows(station.work)) == 2


def test_a_number_is_typed_with_its_fraction() -> None:
    station = typed(begun().after(Accept()), "7 3/4")
    assert station.bindings == TYPING_NUMBER
    assert first(station) == "depth 8 in, now: 7 3/4_"
    station = after(station, Accept())
    assert changes(station)[0] == "neck v, piece front, depth 7 3/4"
    assert station.question is None


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "that is no length"),
        ("0", "a depth of more than nothing"),
        ("40 in", "leaves no body at the centre"),
    ],
)
def test_a_number_that_cannot_be_is_refused_and_asked_for_again(text: str, sentence: str) -> None:
    station = typed(begun().after(Accept()), text).after(Accept())
    assert sentence in station.notice
    assert station.question is not None
    assert station.work.pattern == OVERTOP
    assert after(station, Cancel()).question is None


def test_a_step_that_cannot_be_is_refused_with_the_cutters_sentence() -> None:
    deep = typed(begun().after(Accept()), "23.5 in").after(Accept())
    refused = after(deep, *[Move(right=1)] * 12)
    assert refused.notice.endswith("below it; make the facing shorter")
    assert "make the facing shorter" in aside(refused)
    assert len(refused.history.before) == 1


def test_a_change_is_added_from_those_that_may_be() -> None:
    station = after(begun(), Move(away=-1), AddChange())
    assert station.bindings == TYPING_CHANGE
    assert station.question is not None
    offered = station.question.offers
    assert "lower neck 1/2 in, piece front" in offered
    assert not any(text.startswith("facing") for text in offered)  # both are there already
    while station.question is not None and not station.question.text.startswith("lower neck"):
        station = station.after(Offer())
    station = after(station, *[Undo()] * len(", piece front"))
    station = typed(station, ", piece back").after(Accept())
    assert isinstance(station.work.pattern.changes[2], LowerNeck)
    assert [version.without for version in station.work.pattern.versions] == [(0,), (1,)]
    assert station.work.stop.number == 2
    assert after(station, Undo()).work.pattern == OVERTOP


def test_a_change_is_written_anew() -> None:
    station = begun().after(Rewrite())
    station = typed(station, ", width 4 in").after(Accept())
    made = station.work.pattern.changes[0]
    assert isinstance(made, VNeck)
    assert made.width is not None
    refused = typed(begun().after(Rewrite()), ", slope 3").after(Accept())
    assert 'neck has no "slope 3"' in refused.notice


def test_a_change_is_taken_out_and_moved() -> None:
    station = after(begun(), Move(away=-1), Remove())
    assert station.work.pattern == without_change(OVERTOP, 1)
    moved = after(begun(), Move(away=-1, other_step=True))
    assert moved.work.stop.number == 1
    assert changes(moved)[:2] == changes(begun())[1::-1]
    refused = after(moved, *[Move(away=-1, other_step=True)] * 2)  # beyond the facing of that neck
    assert refused.work.stop.number in (1, 2, 3)


def test_a_pattern_without_changes_says_how_to_add_one() -> None:
    plain = replace(OVERTOP, changes=(), versions=(), joins=OVERTOP.joins[:2])
    station = after(begun(plain), Move(away=1), SwitchChange())
    assert station.notice == "there is no change yet: a adds one"
    assert any("a adds one" in row.text for row in list_rows(station.work))
    assert after(station, AddChange(), Accept()).work.pattern.changes


def test_a_traced_point_is_pulled_and_everything_follows_it() -> None:
    station = begun()
    station = after(station, at(station, UNDERARM), TakeUp(), at(station, (11.5, 12.8)))
    front = station.shown.drafted.pieces["front"]
    assert front.seam_line[:, 0].max() > 13
    assert np.hypot(*(front.seam_line - (11.5, 12.8)).T).min() < 1e-6
    assert "curve point in hand, side 1" in first(station)
    assert aside(station).startswith("front/side 9/16 in shorter than back/side, ")
    assert station.work.pattern == OVERTOP
    left = station.after(PutDown())
    assert left.work.pattern != OVERTOP
    assert left.work.pattern.changes == OVERTOP.changes
    assert after(left, Undo()).work.pattern == OVERTOP
    assert after(station, Undo()).held is None


def test_what_lies_far_from_a_pulled_point_is_not_drafted_again() -> None:
    station = begun()
    pulled = after(station, at(station, UNDERARM), TakeUp(), at(station, (11.5, 12.8)))
    now, before = pulled.shown.drafted.pieces, station.work.drafted.pieces
    assert [name for name in now if now[name] is before[name]] == ["back", "front facing", "back facing"]
    shoulder = after(station, at(station, SHOULDER), TakeUp(), at(station, (3.7, 0.1)))
    assert shoulder.shown.drafted.pieces["front facing"] is not before["front facing"]


def test_a_point_pulled_too_far_stays_where_it_last_could_be() -> None:
    station = begun()
    far = after(
        station, at(station, UNDERARM), TakeUp(), at(station, (11.5, 12.8)), at(station, (-3.0, 12.6))
    )
    assert "across the centre line" in far.notice
    assert far.held is not None
    left = far.after(PutDown())
    assert np.hypot(*(left.work.drafted.pieces["front"].seam_line - (11.5, 12.8)).T).min() < 1e-6


def test_a_mouse_that_is_not_moved_shows_no_cross() -> None:
    names = [
        {layer.name for layer in one.scene(CALM)} for one in (begun(), begun().after(Aim(at_px=(90, 3))))
    ]
    assert names[1] - names[0] == {"cross"}


def test_points_are_put_in_taken_away_smoothed_and_straightened() -> None:
    station = begun().after(ChangeTool())
    assert station.bindings == POINTS
    side = (11.5, 2.7)
    more = after(station, at(station, (9.5, 2.2)), Insert())
    assert len(more.work.points.piece.edges[1].path) == 5
    fewer = after(more, at(more, side), TakeUp(), Remove())
    assert len(fewer.work.points.piece.edges[1].path) == 4
    assert len(after(more, at(more, side), Straighten()).work.points.piece.edges[1].path) == 2
    assert after(more, at(more, side), Smooth()).work.pattern != more.work.pattern
    assert station.after(Remove()).notice == "take the point up first: enter"
    assert after(station, at(station, (40.0, 12.0)), TakeUp()).notice == "no traced point is near the cross"


def test_a_facing_has_no_traced_points() -> None:
    station = after(begun(), Show(number=3), ChangeTool(), TakeUp())
    assert station.notice == "front facing is made by a change; pull its garment piece instead"


def test_the_piece_is_moved_and_the_whole_move_is_one_thing_to_undo() -> None:
    station = after(begun(), ChangeTool(), ChangeTool())
    assert station.bindings == PLACING
    start = station.work.laid.placement
    moved = after(station, Move(right=1), Move(right=1), Turn(anticlockwise=1), Mirror())
    assert moved.work.laid.placement.mirrored
    assert moved.work.laid.placement != start
    assert moved.work.pattern is OVERTOP
    back = moved.after(Undo())
    assert back.work.laid.placement == start
    assert back.after(Redo()).work.laid.placement == moved.work.laid.placement
    assert after(station, Show(number=3), Open()).work.laid.placement.opened


def test_pieces_stay_where_they_lie_while_they_are_drafted_anew() -> None:
    lying = after(begun(), ChangeTool(), ChangeTool(), Move(right=1), ChangeTool())
    place = lying.work.laid.placement
    station = after(lying, Move(right=1), SwitchChange(), Move(away=-1), Move(away=-1), SwitchChange())
    assert station.work.laid.placement == place
    assert list(station.work.drafted.pieces) == ["front", "back", "back facing"]
    assert [piece.name for piece in station.work.laid.ground.pieces] == ["front", "back", "back facing"]
    facing = after(station, Show(number=3), Move(away=-1), Move(away=-1), SwitchChange())
    assert facing.work.piece.name == "back"  # the facing shown is no more


def test_the_words_stay_put_while_the_piece_changes_about_them() -> None:
    station = begun()
    assert after(station, Move(right=1)).work.worded is station.work.worded
    assert after(station, Flip(by=1)).work.worded.name == "back"
    shallow = typed(after(station, Flip(by=2), Accept()), "4 in").after(Accept())
    assert shallow.work.piece.name == shallow.work.worded.name == "front facing"


DOABLE = st.lists(
    st.sampled_from(
        [
            Move(right=1),
            Move(right=-1, other_step=True),
            Move(away=1),
            Move(away=-1, other_step=True),
            SwitchChange(),
            Remove(),
            Flip(by=1),
            ChangeSide(),
            at(begun(), UNDERARM),
            at(begun(), SHOULDER),
            TakeUp(),
            PutDown(),
        ]
    ),
    max_size=8,
)


@settings(max_examples=40)
@given(actions=DOABLE)
def test_undo_of_do_is_identity(actions: list[Action]) -> None:
    station = after(begun(), *actions, PutDown())
    back = after(station, *[Undo()] * len(station.history.before))
    assert back.work.pattern == OVERTOP
    forth = after(back, *[Redo()] * len(station.history.before))
    assert forth.work.pattern == station.work.pattern
    assert back.after(Undo()).notice == "nothing to undo"


def test_the_strip_is_short_when_frozen_or_helping() -> None:
    assert strip_words(begun(), Controls(frozen=True)).first == ("FROZEN", "front")
    assert [layer.name for layer in begun().scene(Controls(helping=True))] == ["help", "strip"]
    assert "preview, not true to size" in strip_words(begun(), Controls(preview=True)).aside


def test_each_way_of_holding_the_keys_has_every_shared_one() -> None:
    for bindings in (CHANGES, POINTS, PLACING):
        shown = [binding.says for binding in bindings]
        assert len(set(shown)) == len(shown)
        assert {Undo(), Redo(), ChangeTool(), Freeze(), Help()} <= {
            action for binding in bindings for action in binding.actions
        }
        keys = [key for binding in bindings for key in binding.keys]
        assert len(set(keys)) == len(keys)


def test_the_light_can_be_put_out_and_held_also_while_something_is_typed() -> None:
    for bindings in (TYPING_NUMBER, TYPING_CHANGE):
        keys = {action: binding.keys for binding in bindings for action in binding.actions}
        assert {Blank(), Freeze(), Help(), Cancel(), Undo()} <= keys.keys()
        signs = {sign for binding in bindings for sign in binding.signs}
        assert not signs & {key for names in keys.values() for key in names}
    assert typed_by(TYPING_CHANGE, "/") == Type(text="/")


@pytest.fixture
def file(tmp_path: Path) -> KeptFile:
    path = tmp_path / "overtop.yaml"
    path.write_bytes(example("harbour overtop").read_bytes())
    return KeptFile.of(path)


def session_of(file: KeptFile) -> DraftSession:
    return DraftSession(begun(file.pattern), file)


def test_every_change_is_in_the_file_before_it_is_seen(file: KeptFile) -> None:
    text, session = file.path.read_bytes(), session_of(file)
    session.take(Move(right=1))
    assert read_pattern(file.path) == session.station.work.pattern
    assert file.path.read_text() == text.decode().replace("depth: 8 in}", "depth: 8 1/8 in}")
    session.take(Remove())
    session.take(Undo())
    session.take(Undo())
    assert file.path.read_bytes() == text


def test_a_file_changed_by_another_program_is_left_alone_and_said(file: KeptFile) -> None:
    session = session_of(file)
    session.take(Move(right=1))
    theirs = file.path.read_text().replace("8 1/8 in", "7 in")
    file.path.write_text(theirs)
    for action in (Move(right=1), Undo()):
        session.take(action)
        assert file.path.read_text() == theirs
        assert "overtop.yaml was changed by another program" in session.station.notice
    assert changes(session.station)[0].endswith("depth 8 1/8 in")


def test_a_change_that_does_not_reach_the_disk_is_not_made(
    file: KeptFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_: Path, __: Path) -> Path:
        raise OSError(28, "No space left on device")

    session = session_of(file)
    monkeypatch.setattr(Path, "replace", full)
    session.take(SwitchChange())
    assert "cannot be written (No space left on device)" in session.station.notice
    assert session.station.work.pattern == file.pattern
    assert session.station.tool is Tool.CHANGES


def test_both_depths_of_a_v_are_said_where_the_piece_lies_opened() -> None:
    station = after(begun(), ChangeTool(), ChangeTool(), Open())
    assert station.work.laid.placement == replace(begun().work.laid.placement, opened=True)
    assert "V stitched 8 in, cut 6 3/4 in deep" in first(station)


def test_scenes_draw_in_every_state() -> None:
    states: list[Callable[[DraftStation], DraftStation]] = [
        lambda one: one,
        lambda one: after(one, ChangeSide()),
        lambda one: after(one, at(one, UNDERARM), TakeUp()),
        lambda one: after(one, AddChange()),
        lambda one: after(one, Show(number=4), ChangeTool()),
        lambda one: after(one, ChangeTool(), ChangeTool(), Open()),
    ]
    for state in states:
        layers = state(begun()).scene(CALM)
        assert all(layer.draw() for layer in layers)
        assert len({layer.name for layer in layers}) == len(layers)
