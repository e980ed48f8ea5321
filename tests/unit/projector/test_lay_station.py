"""The lay on the table: pages, moves under the rules' eyes, undo, the cloth brought by marks."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely

from patterns import example, read_pattern
from patterns.laying.buying import Buying
from patterns.laying.cloth import Cloth, Flaw, Repeat
from patterns.laying.folding import Fold, Folding
from patterns.laying.matching import match_point_of
from patterns.laying.repeat_lines import repeat_lines
from patterns.laying.rules import violations
from patterns.planning.plan import Effort, plan
from projector.actions import (
    Accept,
    Aim,
    ChangeSide,
    ChangeStep,
    ChangeTool,
    Drag,
    Flip,
    Grab,
    Home,
    Mirror,
    Move,
    Open,
    Redo,
    Show,
    Turn,
    Undo,
)
from projector.laying.broken import place_of
from projector.laying.cloth_signs import whole_words
from projector.laying.left_free import left_free
from projector.laying.tool import Tool
from projector.laying.words import strip_words
from projector.laying.work import Page
from projector.lighting.letters import words_width
from projector.scene import Controls
from projector.stations.lay import LayStation
from projector.words.strip import Strip
from tests.unit.projector.lay_stations import a_station


@pytest.fixture
def station(tmp_path: Path) -> LayStation:
    return a_station(tmp_path)


def drawn(station: LayStation) -> list[str]:
    return [layer.name for layer in station.scene(Controls()) if layer.draw()]


def test_it_begins_with_how_to_fold_and_goes_on_piece_by_piece(station: LayStation) -> None:
    assert station.work.pages == (Page(stage=1), Page(stage=1, piece=0), Page(stage=1, piece=1))
    words = strip_words(station, Controls())
    assert words.first[:2] == ("partly folded", "Fold the right selvedge over")
    assert "until it lies 14 in from the fold" in words.first
    assert "page down: front" in words.aside
    assert drawn(station) == ["fold", "whole", "strip"]
    front = station.after(Flip(by=1))
    assert strip_words(front, Controls()).first == ("1 of 2", "front", "half, on the fold")
    assert drawn(front) == ["cloth", "others", "piece", "strip"]
    assert front.after(Flip(by=1)).after(Flip(by=1)).page == Page(stage=1)
    assert station.after(Show(number=2)).page.piece == 1
    assert station.after(Show(number=3)).notice == "there is no piece 3"


@pytest.mark.parametrize("side", range(4))
def test_the_words_lie_clear_of_the_cloths_lines_and_of_what_lies_on_it(
    station: LayStation, side: int
) -> None:
    for _ in range(side):
        station = station.after(ChangeSide())
    for _ in station.work.pages:
        (words,) = [layer for layer in station.scene(Controls()) if layer.name == "strip"]
        assert isinstance(words.key, tuple)
        strip: Strip = words.key[0]
        room = shapely.box(*strip.taken_in)
        kept_off = [shapely.LineString(station.person.seen(line)) for line in left_free(station)]
        assert len(kept_off) > 3
        assert min(room.distance(line) for line in kept_off) > 0.4
        folds = station.work.folded(1).folds
        ends = station.work.cloth.on_table(np.array(folds[0].ends_in))
        assert room.distance(shapely.LineString(station.person.seen(ends))) > 0.4
        station = station.after(Flip(by=1))


@pytest.mark.parametrize("side", range(4))
def test_the_size_of_what_stays_whole_lies_within_it(station: LayStation, side: int) -> None:
    for _ in range(side):
        station = station.after(ChangeSide())
    overtop = read_pattern(example("harbour overtop")).drafted()
    narrow = plan(overtop, Cloth(bought_width_in=45), Fold.PARTIAL, effort=Effort(rounds=3))
    work, person = replace(station.work, lay=narrow), station.person
    (label,) = whole_words(work.lay, work.folded(1), work.cloth, station.ground.say, person)
    half = words_width(label.text) * label.height_in / 2
    ends = work.cloth.on_cloth(np.array([label.at - half * label.along, label.at + half * label.along]))
    remnant = Buying.of(work.lay).remnant
    room = shapely.box(remnant.left_in, remnant.bottom_in, remnant.right_in, remnant.top_in)
    assert any(part.covers(shapely.LineString(ends)) for part in work.folded(1).lying(room))


def test_stripes_and_flaws_are_shown_where_the_cloth_has_them(station: LayStation) -> None:
    lay = station.work.lay
    flawed = replace(
        lay.cloth,
        repeat=Repeat(along_in=6, across_in=9),
        flaws=(Flaw(left_in=40, bottom_in=2, right_in=42, top_in=3),),
    )
    folding = replace(lay.folding, cloth=flawed)
    minded = LayStation.begun(station.ground, replace(station.work, lay=replace(lay, folding=folding)))
    assert drawn(minded) == ["fold", "minded", "whole", "strip"]
    assert "minded" in drawn(minded.after(Flip(by=1)))
    lines = repeat_lines(minded.work.lay, minded.work.folded(1))
    x, y = match_point_of(lay.placed[0].piece, lay.terms)
    at = shapely.Point(lay.placed[0].placement.placed(np.array([(x, y)]))[0])
    through = [line for line in lines if shapely.LineString(line).distance(at) < 1e-9]
    assert len(through) == 2
    levels = sorted(line[0, 1] for line in lines if line[0, 1] == line[1, 1])
    assert np.diff(levels) == pytest.approx(6)


def test_what_is_folded_anew_has_a_page_of_its_own(station: LayStation) -> None:
    lay = station.work.lay
    folding = Folding(fold=Fold.REFOLDED, cloth=lay.cloth, right_in=14)
    anew = replace(lay, folding=folding, placed=(lay.placed[0], replace(lay.placed[1], stage=2)))
    again = LayStation.begun(station.ground, replace(station.work, lay=anew))
    assert [page.stage for page in again.work.pages] == [1, 1, 2, 2]
    words = strip_words(again.after(Flip(by=2)), Controls())
    assert words.first[:2] == ("fold anew", "Open what is left and lay it flat again")
    assert again.work.folded(2).box_in[2] == 45
    (hole,) = again.work.gone_in(2)
    assert np.allclose(hole, again.work.cloth.on_table(lay.placed[0].parts_in[0]))
    assert again.work.gone_in(1) == ()
    assert "gone" not in drawn(again.after(Show(number=1)).after(Flip(by=-1)))
    assert "gone" in drawn(again.after(Show(number=2)).after(Flip(by=-1)))


def test_a_half_keeps_to_its_fold_whichever_way_it_is_pushed(station: LayStation) -> None:
    front = station.after(Flip(by=1))
    line = front.work.lay.placed[0].fold_line
    assert line is not None
    for action in (Move(right=1), Move(away=1), Move(right=1, other_step=True), Turn(anticlockwise=1)):
        front = front.after(action)
        assert not [one for one in front.broken if "fold edge" in one.sentence]
        edge = front.work.lay.placed[0].placement.placed(front.work.lay.placed[0].piece.cut_line[[0, -1]])
        assert edge[:, 0] == pytest.approx(line.at_in)
    assert violations(front.work.lay) == ()
    refused = front.after(Mirror())
    assert "which mirrors it by itself" in refused.notice
    assert refused.work is front.work


def test_a_broken_rule_is_named_with_a_sign_where_it_is_broken(station: LayStation) -> None:
    pocket = station.after(Show(number=2))
    assert pocket.broken == ()
    while not pocket.broken:
        pocket = pocket.after(Move(right=1))  # towards the fold, on to cloth that lies double
    assert "on to cloth that lies double" in pocket.broken[0].sentence
    assert "sign 0" in drawn(pocket)
    assert any("NOT SO: pocket reaches" in phrase for phrase in strip_words(pocket, Controls()).aside)
    folded = pocket.work.folded(1)
    at = place_of(pocket.broken[0], pocket.work.lay, folded)
    ((left, _, right, _),) = folded.double_in
    assert left <= at[0] <= right
    assert shapely.Polygon(pocket.work.lay.placed[1].outline_in).contains(shapely.Point(at))
    assert any("pocket reaches" in str(one) for one in pocket.after(Flip(by=1)).broken)  # with how to fold


def test_overlapping_pieces_have_the_sign_where_they_overlap(station: LayStation) -> None:
    lay = station.work.lay
    on_top = replace(lay.placed[1], placement=replace(lay.placed[1].placement, x_in=16.0, y_in=12.0))
    broken = replace(station.work, lay=replace(lay, placed=(lay.placed[0], on_top)))
    shown = LayStation.begun(station.ground, broken).after(Flip(by=2))
    overlap = next(one for one in shown.broken if "overlap" in one.sentence)
    at = shapely.Point(place_of(overlap, broken.lay, broken.folded(1)))
    assert all(shapely.Polygon(one.outline_in).contains(at) for one in broken.lay.placed)


def test_moves_are_undone_and_redone_a_drag_as_one(station: LayStation) -> None:
    pocket = station.after(Show(number=2))
    start = pocket.work
    moved = pocket.after(Grab())
    for x in (900, 920, 950):
        moved = moved.after(Drag(from_px=(x, 500), to_px=(x + 20, 510)))
    assert moved.work is not start
    opened = moved.after(Open()).after(Turn(anticlockwise=1)).after(Mirror())
    assert opened.work.lay.placed[1].fold_line is not None
    back = opened.after(Undo()).after(Undo()).after(Undo())
    assert back.work is moved.work
    assert back.after(Undo()).work is start
    assert back.after(Undo()).after(Undo()).notice == "nothing to undo"
    assert back.after(Undo()).after(Redo()).work is moved.work


def test_undo_outlives_the_station_where_all_lies_as_it_was_left(tmp_path: Path) -> None:
    left = a_station(tmp_path).after(Show(number=2)).after(Move(right=1)).after(Move(right=-1))
    anew = a_station(tmp_path)  # drafted again
    assert anew.work.lay is not left.work.lay
    again = anew.remembering(left)
    assert again.after(Undo()).work is left.after(Undo()).work
    assert anew.remembering(left.after(Undo())).history is anew.history


def test_steps_are_of_the_table_and_fine_or_coarse(station: LayStation) -> None:
    pocket = station.after(Show(number=2))
    before = pocket.outline_in
    for action, step in ((Move(right=1), 0.5), (Move(right=1, other_step=True), 1 / 32)):
        after = pocket.after(action).outline_in
        assert np.allclose(pocket.person.seen(after - before), [step, 0])
    fine = pocket.after(ChangeStep())
    assert np.allclose(fine.person.seen(fine.after(Move(away=1)).outline_in - before), [0, 1 / 32])


def test_two_marks_on_the_fold_bring_the_cloth_on_to_it(station: LayStation) -> None:
    marking = station.after(ChangeTool())
    assert marking.tool is Tool.MARKS
    place = station.ground.lit.projector_map.screen_from_table
    start, far = (3.0, -2.0), (14.0, 6.0)
    for at in (start, far):
        u, v = place(np.array([at]))[0].tolist()
        marking = marking.after(Aim(at_px=(u, v))).after(Accept())
    assert marking.notice == ""
    assert marking.marks_in == ()
    cloth = marking.work.cloth
    (fold,) = marking.work.folded(1).folds
    ends = cloth.on_table(np.array(fold.ends_in))
    assert ends[0] == pytest.approx(start, abs=1e-6)
    along = (ends[1] - ends[0]) / np.hypot(*(ends[1] - ends[0]))
    assert along == pytest.approx(np.array([11, 8]) / np.hypot(11, 8))
    assert np.allclose(marking.outline_in, cloth.on_table(cloth.on_cloth(marking.outline_in)))
    assert marking.work.lay is station.work.lay  # every piece goes with the cloth
    assert marking.after(Undo()).work == station.work


def test_marks_too_near_one_another_are_refused(station: LayStation) -> None:
    marking = station.after(ChangeTool()).after(Accept()).after(Accept())
    assert "the marks are 0 in apart: set the second at least 4 in away" in marking.notice
    assert marking.work is station.work


def test_the_cloth_is_slid_and_turned_and_brought_to_the_light(station: LayStation) -> None:
    assert station.tool is Tool.CLOTH  # where no piece is shown
    slid = station.after(Move(right=1)).after(Turn(anticlockwise=1))
    assert slid.work.lay is station.work.lay
    assert slid.work.cloth.turn_deg == pytest.approx(station.work.cloth.turn_deg + 5)
    pocket = slid.after(Show(number=2)).after(Home())
    middle = shapely.Polygon(pocket.outline_in).centroid
    assert (middle.x, middle.y) == pytest.approx(tuple(station.ground.lit.centre_in))


def test_the_keys_are_those_of_the_tool(station: LayStation) -> None:
    pocket = station.after(Show(number=2))
    shown = [pocket]
    for _ in range(3):
        shown.append(shown[-1].after(ChangeTool()))
    assert [one.tool for one in shown] == [Tool.PIECE, Tool.CLOTH, Tool.MARKS, Tool.PIECE]
    assert len({one.bindings for one in shown}) == 3
    for one in shown[:3]:
        assert {"help", "strip"} == {layer.name for layer in one.scene(Controls(helping=True))}
