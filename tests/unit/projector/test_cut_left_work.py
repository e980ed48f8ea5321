"""Cutting that was left is come back to: what has changed is told, the cloth asked for, all that was cut kept."""

from dataclasses import replace

import pytest

from patterns.cutting.placement import Placement
from projector.actions import Flip, Freeze, Move, Next, Show
from projector.cloth.cloth_place import ClothPlace
from projector.cutting.stage import Stage
from projector.cutting.work import CopyWork, CutWork
from projector.lighting.strokes import Patch, Stroke
from projector.scene import Controls
from tests.unit.projector.cut_stations import ANY, START, after, aside, first


def test_a_change_of_table_or_pattern_since_cutting_began_is_told_first() -> None:
    work = after(Freeze(), Next()).work
    assert first(START.resumed(work)).startswith("does the cloth lie where it lay?")
    changed = START.resumed(replace(work, drawn="other"))
    assert first(changed).startswith("THE PATTERN HAS CHANGED | does the cloth lie where it lay?")
    assert START.resumed(changed.work).changed == ""
    moved = START.resumed(replace(work, aligned="2026-03-05T08:00:00+00:00"))
    assert first(moved).startswith("THE TABLE WAS ALIGNED ANEW | does the cloth")
    both = replace(work, aligned="", drawn="")
    assert START.resumed(both).changed == "THE TABLE WAS ALIGNED ANEW, THE PATTERN HAS CHANGED"
    assert START.resumed(replace(both, begun=False)).changed == ""


def test_what_has_changed_is_told_until_it_is_answered_and_looking_at_pieces_is_no_answer() -> None:
    left = after(Freeze(), Next()).work
    asking = START.resumed(replace(left, aligned="2026-03-05T08:00:00+00:00"))
    looked = after(Flip(by=1), Show(number=3), Show(number=9), station=asking)
    assert looked.shown != asking.shown
    assert first(looked).startswith("THE TABLE WAS ALIGNED ANEW")
    assert looked.work == asking.work, "nothing is kept, so that who comes back is told again"
    going_on = after(Next(), station=looked)
    assert "ALIGNED ANEW" not in " ".join((first(going_on), *aside(going_on)))
    assert going_on.work.at == looked.shown


def test_left_work_asks_whether_the_cloth_has_moved_and_shows_no_cut_line_till_then() -> None:
    left = after(Move(right=2), Freeze(), Next(), Next(), Next())
    asked = START.resumed(left.work)
    assert (asked.stage, asked.piece.name, asked.work) == (Stage.ASKING, "pocket", left.work)
    assert not asked.frozen
    assert first(asked).startswith("does the cloth lie where it lay?")
    assert asked.scene(Controls())[0].key != left.scene(Controls())[0].key
    for drawn in asked.scene(Controls())[0].draw():
        assert isinstance(drawn, Stroke | Patch)
        assert drawn.light < 1.0
    for action in ANY:
        if not isinstance(action, Next):
            assert after(action, station=asked).stage is Stage.ASKING, action
            assert after(action, station=asked).work.lies == left.work.lies, action
    assert after(Next(), station=asked).stage is Stage.CUTTING
    assert after(Next(), station=asked).work == left.work
    assert after(Freeze(), station=asked).stage is Stage.LAYING


def test_a_garment_that_is_all_cut_is_begun_anew_where_it_lies() -> None:
    cut = after(Move(right=1), Freeze(), *[Next()] * 20)
    asked = START.resumed(cut.work)
    assert first(asked) == "everything is cut"
    anew = after(Next(), station=asked)
    assert (anew.stage, anew.shown, anew.work.begun) == (Stage.LAYING, 0, False)
    assert anew.copies.still_to_cut(0) == (1, 2, 3, 0)
    assert anew.work.lies == cut.work.lies


def test_kept_work_fits_a_pattern_that_has_changed_meanwhile() -> None:
    kept = CutWork(
        copies=(
            CopyWork(piece="cuff", number=1, place=Placement()),
            CopyWork(piece="pocket", number=2, place=Placement(x_in=3.0, opened=True), ticked=("cut",)),
        ),
        cloth=ClothPlace(x_in=1.0, turn_deg=90.0),
        begun=True,
        at=1,
    )
    station = START.resumed(kept)
    assert station.shown == 2
    assert station.copy == CopyWork(piece="pocket", number=2, place=Placement(x_in=3.0), ticked=("cut",))
    for mine, fresh in zip(station.placements, START.placements, strict=True):
        if mine != station.placement:
            assert (mine.x_in, mine.y_in, mine.turn_deg) == pytest.approx(
                (fresh.x_in, fresh.y_in, fresh.turn_deg)
            )
    assert START.resumed(replace(kept, at=0)).shown == 0
