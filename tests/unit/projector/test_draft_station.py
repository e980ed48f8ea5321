"""What drafting on the table shows, and what each action does."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patterns.changes import LowerNeck, VNeck
from patterns.changes.change_list import without_change
from projector.actions import (
    Accept,
    Action,
    AddChange,
    Blank,
    Cancel,
    ChangeSide,
    ChangeStep,
    ChangeTool,
    ChangeVersion,
    Flip,
    Freeze,
    Help,
    Move,
    Offer,
    Open,
    PutDown,
    Redo,
    Remove,
    Rewrite,
    Show,
    SwitchChange,
    TakeUp,
    Type,
    Undo,
)
from projector.bindings import typed_by
from projector.drafting.bindings import CHANGES, PLACING, POINTS, TYPING_CHANGE, TYPING_NUMBER
from projector.drafting.words import list_rows, strip_words
from projector.scene import Controls
from projector.stations.draft import DraftStation
from projector.words.strip import lay_strip
from tests.unit.projector.drafts import (
    CALM,
    LIT,
    OVERTOP,
    SHOULDER,
    UNDERARM,
    after,
    aside,
    at,
    begun,
    changes,
    first,
    in_small_light,
    typed,
)


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
    assert aside(off).startswith("LOOK: 23 7/16 in are needed; a V in front 6 7/8 in deep would do")
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
    station = after(begun(), Move(away=-1), Show(number=1), AddChange())
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
    names = [layer.name for layer in begun().scene(Controls(helping=True))]
    assert names[-3:] == ["help", "strip 0", "strip 1"]
    assert not [name for name in names if name.startswith("line ")]
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


def test_a_question_and_a_notice_are_a_sentence_each_however_long() -> None:
    asked = typed(begun().after(Rewrite()), ", and more than fits a row")
    assert asked.question is not None
    assert strip_words(asked, CALM).first == (asked.question.words,)
    refused = typed(begun().after(Accept()), "40 in").after(Accept())
    assert refused.notice in strip_words(refused, CALM).aside
    assert ": " in refused.notice


def test_a_page_of_keys_that_takes_the_light_is_not_overprinted() -> None:
    helping = Controls(helping=True)
    assert [layer.name for layer in in_small_light(0.75).scene(helping)] == ["help"]
    assert any(layer.name == "strip 0" for layer in begun().scene(helping))


def test_a_notice_stands_in_place_of_the_rest_and_the_letters_keep_their_height() -> None:
    calm = begun(replace(OVERTOP, versions=())).after(SwitchChange())
    told = calm.after(ChangeVersion())
    assert told.notice.startswith("the pattern has no versions")
    assert strip_words(told, CALM).aside == (told.notice, "h: keys")
    assert "TOO SMALL for the head" in first(told)
    lies, calm_words, told_words = calm.work.laid.outline_in, strip_words(calm, CALM), strip_words(told, CALM)
    laid = [lay_strip(words, LIT, calm.person, lies) for words in (calm_words, told_words)]
    assert laid[1].rows[0].height_in >= laid[0].rows[0].height_in
    assert aside(told.after(Move(away=-1))).startswith("LOOK: ")
