"""Versions at the drafting station, the piece that a chosen change works on, and strips that are cut beside."""

import re
from dataclasses import replace

import pytest

from patterns.changes.change_list import with_change_added, without_change
from patterns.changes.said_change import said_change
from patterns.measures import Unit
from projector.actions import Accept, AddChange, ChangeVersion, Move, Redo, SwitchChange, Undo
from projector.drafting.offers import offers
from projector.drafting.words import list_rows
from projector.scene import Controls
from projector.stations.draft import DraftStation
from projector.words.unbroken import spaced
from tests.unit.projector.drafts import OVERTOP, after, aside, begun, first, typed

BOUND = said_change("binding back/neck, width 1/4 in", Unit.IN)


def rows(station: DraftStation) -> list[str]:
    return [spaced(row.text) for row in list_rows(station.work)]


def title(station: DraftStation) -> str:
    return rows(station)[0]


def test_v_goes_from_version_to_version_and_round_to_all_changes() -> None:
    station = begun()
    assert title(station) == "Harbour overtop, all changes"
    fronts, titles = [station.work.drafted.pieces["front"]], []
    for _ in range(3):
        station = station.after(ChangeVersion())
        fronts.append(station.work.drafted.pieces["front"])
        titles.append(title(station).removeprefix("Harbour overtop, "))
    assert titles == ["version round neck", "version low back", "all changes"]
    assert fronts[1] is not fronts[0]
    assert fronts[2] is fronts[3] is fronts[0]  # the V again, not drafted anew
    assert not station.history.before  # another version is looked at: there is nothing to undo
    assert station.work.pattern is OVERTOP


def test_what_a_version_leaves_out_is_said_and_switched_in_that_version() -> None:
    station = begun().after(ChangeVersion())
    assert [row for row in rows(station) if row.endswith("(not in this version)")] == [rows(station)[1]]
    switched = station.after(SwitchChange())
    assert not any(row.endswith("(not in this version)") for row in rows(switched))
    assert switched.work.pattern.versions[0].without == ()
    back = switched.after(Undo())
    assert (back.work.pattern, back.work.version) == (OVERTOP, "round neck")
    assert back.after(Redo()).work.pattern == switched.work.pattern


def test_undoing_goes_back_to_the_version_in_which_it_was_done() -> None:
    station = after(begun(), ChangeVersion(), SwitchChange(), ChangeVersion())
    assert station.work.version == "low back"
    assert station.after(Undo()).work.version == "round neck"


def test_a_pattern_without_versions_says_so() -> None:
    station = begun(replace(OVERTOP, versions=())).after(ChangeVersion())
    assert aside(station).startswith("the pattern has no versions")
    assert title(station) == "Harbour overtop"


@pytest.mark.parametrize(
    ("down", "piece"), [(0, "front"), (1, "back"), (2, "front facing"), (4, "back facing")]
)
def test_the_piece_that_the_chosen_change_works_on_is_lit(down: int, piece: str) -> None:
    assert after(begun(), *[Move(away=-1)] * down).work.piece.name == piece


def test_a_change_that_is_added_for_another_piece_lights_it() -> None:
    station = begun().after(AddChange())
    station = after(station, *[Undo()] * len(station.question.text if station.question else ""))
    station = typed(station, "lower neck 1/4 in, piece back")
    assert station.question is not None
    assert station.after(Accept()).work.piece.name == "back"


@pytest.mark.parametrize(
    ("down", "words"),
    [(0, "neck v, depth 8 in"), (1, "raise neck 3/4 in"), (3, "facing front, below point 2 in")],
)
def test_the_number_at_hand_says_whose_it_is(down: int, words: str) -> None:
    assert words in first(after(begun(), *[Move(away=-1)] * down))


def test_strips_are_said_below_the_title() -> None:
    bound = replace(OVERTOP, changes=(*OVERTOP.changes[:3], BOUND), versions=(), joins=OVERTOP.joins[:2])
    strip = bound.drafted().strips[0]
    assert strip.length_in == pytest.approx(2 * bound.drafted().pieces["back"].edges["neck"].length_in + 1)
    assert rows(begun(bound))[1] == "binding of back/neck: cut 1 in wide, 9 1/16 in long"
    assert begun(bound).scene(Controls())


def test_each_kind_of_change_that_may_be_added_is_undone_and_done_again() -> None:
    plain = replace(OVERTOP, changes=(), versions=(), joins=OVERTOP.joins[:2])
    station = begun(plain)
    kinds = set()
    for text in offers(station.work, 0):
        change = said_change(text, plain.unit)
        added = station.after(AddChange())
        added = after(added, *[Undo()] * len(added.question.text if added.question else ""))
        done = typed(added, text).after(Accept())
        if done.question is not None:  # refused: this garment has nothing to true up, or to average
            continue
        kinds.add(type(change))
        assert done.work.pattern == with_change_added(plain, 0, change)
        undone = done.after(Undo())
        assert undone.work.pattern == plain
        assert undone.after(Redo()).work.pattern == done.work.pattern
        assert without_change(done.work.pattern, 0) == plain
    assert len(kinds) >= 20


@pytest.mark.parametrize(("unit", "mark"), [(Unit.MM, 5), (Unit.CM, 0.5)])
def test_what_may_be_added_begins_on_a_mark_of_the_patterns_own_tape(unit: Unit, mark: float) -> None:
    station = begun(replace(OVERTOP, unit=unit))
    lengths = [
        float(number)
        for text in offers(station.work, 0)
        for number in re.findall(rf"([\d.]+) {unit.value}", text)
    ]
    assert len(lengths) > 12
    assert [length for length in lengths if length % mark] == []
