"""Cutting by page keys: what each press does, what a frozen light allows."""

import random
from dataclasses import replace

import pytest

from patterns import example, read_pattern
from projector.actions import (
    Back,
    Blank,
    ChangeLayers,
    Flip,
    Freeze,
    Mirror,
    Move,
    Next,
    OpenAll,
    Redo,
    Show,
    Stand,
    Undo,
    Untick,
)
from projector.cloth.cloth_place import ClothPlace
from projector.cloth.ground import Ground
from projector.cutting.bindings import ASKING, CUTTING, LAYING
from projector.cutting.stage import Stage
from projector.cutting.steps import steps_of
from projector.lighting.lit_area import lit_area
from projector.scene import Controls
from projector.session import Session
from projector.stations.cut import CutStation
from tests.unit.projector.cut_stations import ANY, GROUND, START, after, aside, first, listed
from tests.unit.projector.samples import a_map, an_alignment, pieces

ORDER = ("front", "pocket", "pocket", "écharpe à nœud")


def test_page_down_alone_lays_cuts_and_marks_everything_in_order() -> None:
    station, seen, shown = START, [], []
    for _ in range(20):
        seen.append((station.stage, station.piece.name, station.step.name if station.step else ""))
        shown.append(next((words for words in aside(station) if words.startswith("page down")), ""))
        station = after(Next(), station=station)
    laying = [(Stage.LAYING, name, "cut") for name in ORDER]
    cutting = [
        (Stage.CUTTING, "front", "cut"),
        (Stage.CUTTING, "front", "notches"),
        (Stage.CUTTING, "front", "V point"),
        *[(Stage.CUTTING, name, "cut") for name in ORDER[1:]],
    ]
    done = (Stage.CUTTING, "écharpe à nœud", "")
    steps = [*laying, *cutting]
    assert seen == [*steps, *[done] * (20 - len(steps))]
    assert first(station).startswith("FROZEN | ALL IS CUT")
    assert shown[: len(steps) + 1] == [
        "page down: pocket",
        "page down: pocket",
        "page down: écharpe à nœud",
        "page down: begin cutting",
        "page down: it is cut",
        "page down: notches are clipped",
        "page down: the V point is tacked, lift it",
        "page down: it is cut, lift it",
        "page down: it is cut, lift it",
        "page down: it is cut, lift it",
        "",
    ]


def test_the_steps_of_a_piece_are_cutting_and_its_marks_in_words() -> None:
    assert [step.does for step in steps_of(pieces()["front"])] == [
        "cut along the solid line",
        "clip the notches: side, overarm double",
        "tack the V point",
    ]
    assert [step.name for step in steps_of(pieces()["pocket"])] == ["cut"]
    side = pieces()["front"].notches[0]
    several = replace(pieces()["front"], notches=(side, replace(side, count=3)), clips=())
    assert steps_of(several)[1].does == "clip the notches: side single + triple"


def test_what_is_left_is_counted_down_with_the_copies_of_a_pair() -> None:
    station = after(Freeze())
    assert "0 of 4 done, then pocket" in aside(station)
    assert listed(station) == [
        "> front",
        "cut along the solid line",
        "clip the notches: side, overarm double",
        "tack the V point",
        "pocket 1 of 2, left",
        "pocket 2 of 2, right, mirrored",
        "écharpe à nœud",
        "ruler test today",
        "b: light off, or on",
        "page up: the piece before",
        "x: not done after all",
        "tab: tape measure, seam gauge",
    ]
    left = after(Next(), Next(), Next(), station=station)
    assert first(left) == "FROZEN | pocket | 1 of 2 | left, not mirrored | cut along the solid line"
    assert "1 of 4 done, then pocket" in aside(left)
    assert listed(left)[:4] == [
        "front: done",
        "> pocket 1 of 2, left",
        "cut along the solid line",
        "pocket 2 of 2, right, mirrored",
    ]
    right = after(Next(), station=left)
    assert first(right) == "FROZEN | pocket | 2 of 2 | right, MIRRORED | cut along the solid line"
    assert "2 of 4 done, then écharpe à nœud" in aside(right)
    assert listed(after(Show(number=1), Untick(), station=right))[:4] == [
        "> front",
        "cut: done",
        "notches: done",
        "tack the V point",
    ]


def test_page_up_shows_what_was_and_page_down_goes_back_to_where_the_work_stands() -> None:
    station = after(Freeze(), Next(), Next(), Next(), Next())
    assert station.shown == 2
    back = after(Back(), Back(), station=station)
    assert (back.piece.name, back.step) == ("front", None)
    assert first(back) == "FROZEN | front | half, on the fold | done"
    assert "page down: back to where the work stands" in aside(back)
    assert back.work == station.work
    assert after(Next(), station=back).shown == 2
    assert after(Stand(), station=back).shown == 2
    assert after(Next(), station=back).work == station.work
    assert "this is the first piece" in aside(after(Back(), station=back))


def test_only_untick_takes_a_tick_back_and_the_last_first() -> None:
    station = after(Freeze(), Next(), Next())
    assert station.copy.ticked == ("cut", "notches")
    for action in (*ANY, Freeze()):
        if not isinstance(action, Untick):
            ticked = [copy.ticked for copy in after(action, action, station=station).work.copies]
            assert all(set(("cut", "notches")[: len(one)]) <= set(one) for one in ticked), action
            assert {"cut", "notches"} <= set(ticked[0]), action
    assert after(Untick(), station=station).copy.ticked == ("cut",)
    assert after(Untick(), Untick(), station=station).copy.ticked == ()
    assert "nothing is ticked off here" in aside(after(*[Untick()] * 3, station=station))


def test_no_action_moves_the_light_from_the_beginning_of_cutting_till_it_is_freed() -> None:
    choice = random.Random(7)
    for _ in range(20):
        session = Session(after(Move(right=1), Mirror(), Freeze()))
        lies, main = session.station.lies, session.station.scene(Controls())[0].key
        for action in choice.choices(ANY, k=60):
            session.take(action)
            assert session.frozen
            assert session.station.lies == lies, action
        if session.blank:
            session.take(Blank())
        session.take(Show(number=1))
        assert session.scene()[0].key == main
        session.take(Freeze())
        session.take(Move(right=1))
        assert session.station.lies != lies


def test_a_freed_light_is_frozen_again_by_page_down_over_the_piece_that_was_laid() -> None:
    freed = after(Freeze(), Next(), Freeze())
    assert freed.stage is Stage.LAYING
    assert "page down: freeze, go on" in aside(freed)
    laid = after(Move(right=1), Next(), station=freed)
    assert laid.stage is Stage.CUTTING
    assert laid.copy.ticked == ("cut",)
    assert laid.placement.x_in == START.placement.x_in + 0.5


def test_cautions_are_said_when_they_matter_and_no_longer() -> None:
    begun = after(Freeze())
    assert "b puts the light out before you lean in" in aside(begun)
    cut = after(Next(), station=begun)
    assert "close the blade" in aside(cut)
    assert "b puts the light out before you lean in" not in aside(cut)
    assert "close the blade" not in aside(after(Next(), station=cut))
    assert "close the blade" in aside(after(Show(number=3), Next(), station=begun))


def test_a_pair_that_lies_the_same_way_round_is_no_pair() -> None:
    assert not [words for words in aside(after(Show(number=2))) if "PAIR" in words]
    assert "NO PAIR: 0 left, 2 right" in aside(after(Show(number=2), Mirror()))


def test_a_pair_that_is_cut_through_two_layers_is_one_copy_that_gives_both_hands() -> None:
    left, right = after(Show(number=2)).work.copies[1:3]
    both = replace(START.work, copies=(replace(left, gives=2),))
    station = replace(START, work=both, ground=replace(GROUND, pieces=(pieces()["pocket"],)))
    assert (
        first(station) == "pocket | cut 2 mirrored | 2 at once, through both layers | left and right at once"
    )
    assert not [words for words in aside(station) if "PAIR" in words]
    assert listed(station)[0] == "> pocket, 2 at once"
    assert right.gives == 1


def test_copies_are_cut_through_two_layers_at_once_where_that_is_asked_for() -> None:
    both = after(Show(number=2), Flip(by=1), ChangeLayers())
    assert (both.piece.name, both.shown) == ("pocket", 1)
    assert first(both) == "pocket | cut 2 mirrored | 2 at once, through both layers | left and right at once"
    assert not [words for words in aside(both) if "PAIR" in words]
    assert "2 of 3" in aside(both)
    assert after(Flip(by=1), station=both).piece.name == "écharpe à nœud"
    assert after(Flip(by=1), Back(), station=both).shown == 1
    frozen = after(Freeze(), station=both)
    assert "0 of 3 done, then écharpe à nœud" in aside(frozen)
    assert listed(frozen)[:4] == [
        "front",
        "> pocket, 2 at once",
        "cut along the solid line",
        "écharpe à nœud",
    ]
    cut = after(*[Next()] * 5, station=frozen)
    assert first(cut).startswith("FROZEN | ALL IS CUT")
    assert "3 of 3 done" in aside(cut)
    assert "some of pocket is cut already" in aside(
        after(Freeze(), Show(number=2), ChangeLayers(), station=cut)
    )


def test_layers_are_undone_kept_and_refused_for_a_single_copy() -> None:
    both = after(Show(number=2), ChangeLayers())
    assert after(ChangeLayers(), station=both).work == after(Show(number=2)).work
    assert START.resumed(both.work).work == both.work
    assert "only one is cut of front" in aside(after(ChangeLayers()))
    assert [copy.gives for copy in both.work.copies] == [1, 2, 0, 1]


def test_all_pieces_are_opened_for_a_single_layer_and_folded_again() -> None:
    opened = after(OpenAll())
    assert [placement.opened for placement in opened.placements] == [True, False, False, False]
    assert after(OpenAll(), station=opened).work.lies == START.work.lies
    assert after(Undo(), station=opened).work.lies == START.work.lies
    assert first(opened) == "front | cut 1 on fold | opened full | not mirrored"


def test_undoing_a_move_takes_no_tick_back_and_a_tick_is_no_move() -> None:
    station = after(Move(right=1), Freeze(), Next(), Freeze(), Undo())
    assert station.placement == START.placement
    assert station.copy.ticked == ("cut",)
    assert after(Redo(), station=station).placement == after(Move(right=1)).placement
    assert "nothing to undo" in aside(after(Undo(), station=station))


def test_a_piece_asked_for_out_of_turn_is_cut_next_and_the_rest_comes_after() -> None:
    station = after(Freeze(), Show(number=3), Next())
    assert station.work.copies[3].ticked == ("cut",)
    assert station.piece.name == "front"
    station = after(*[Next()] * 3, Show(number=2), station=station)
    assert station.copy.number == 1
    assert after(Next(), Show(number=2), station=station).copy.number == 2


def test_pieces_go_with_the_cloth() -> None:
    lies = START.work.lies
    moved = START.lying(replace(lies, cloth=ClothPlace(x_in=2.0, y_in=-1.0, turn_deg=30.0)))
    for before, now in zip(START.placements, moved.placements, strict=True):
        assert now.turn_deg == pytest.approx(before.turn_deg + 30.0)
    there = moved.work.cloth.on_table(START.outline_in)
    assert moved.outline_in == pytest.approx(there)
    stepped = after(Move(right=1), station=moved)
    assert stepped.placement.x_in == pytest.approx(moved.placement.x_in + 0.5)
    assert stepped.work.cloth == moved.work.cloth
    assert stepped.placements[1:] == moved.placements[1:]


@pytest.mark.parametrize("bindings", [LAYING, CUTTING, ASKING])
def test_a_remote_with_two_keys_and_one_with_blank_and_start_is_enough(bindings: tuple[object, ...]) -> None:
    keys = {key for binding in bindings for key in getattr(binding, "keys", ())}
    assert {"page down", "page up", "b", ".", "f5", "escape"} <= keys


def test_the_strip_stays_at_its_edge_while_a_piece_is_cut_whatever_it_says() -> None:
    drawn, alignment = read_pattern(example("harbour overtop")).drafted(), an_alignment(a_map(sigma=0.2))
    session = Session(
        CutStation.begun(
            Ground(pieces=tuple(drawn.pieces.values()), alignment=alignment, lit=lit_area(alignment.map))
        )
    )
    session.take(Freeze())
    near_in: dict[str, list[float]] = {}
    while session.station.step is not None:
        (strip,) = [layer.key for layer in session.scene() if layer.name == "strip"]
        assert isinstance(strip, tuple)
        _, near, _, far = strip[0].box_in
        assert far - near < 5
        near_in.setdefault(session.station.piece.name, []).append(near)
        session.take(Next())
    assert len(near_in) == 4
    assert max(max(near) - min(near) for near in near_in.values()) < 1
