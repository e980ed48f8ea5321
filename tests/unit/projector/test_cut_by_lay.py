"""Cutting by a lay: the pieces where it has them, all going with the cloth."""

from argparse import Namespace
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from patterns.files.reader import read_pattern
from patterns.laying.lay import Lay
from patterns.measures import Unit
from projector.actions import ChangeStep, Freeze, Mirror, Move, Turn, Undo
from projector.cloth.cloth_place import ClothPlace
from projector.cloth.ground import Ground
from projector.cutting.piece_words import lying_states, piece_labels
from projector.cutting.words import count_words
from projector.errors import ProjectorError
from projector.laying.for_cutting import copies_of, kept_lay, resumed_by_lay, with_lay
from projector.laying.lay_file import lay_path, read_lay, write_lay
from projector.lighting.lit_area import lit_area
from projector.scene import Controls
from projector.stations.cut import CutStation
from tests.unit.patterns.build import saved
from tests.unit.projector.lay_stations import TOP_AND_POCKET, a_lay
from tests.unit.projector.samples import a_map, an_alignment

CLOTH = ClothPlace(x_in=3, y_in=-2, turn_deg=30)


def a_cut(lay: Lay) -> CutStation:
    alignment = an_alignment(a_map())
    ground = Ground(pieces=lay.pieces, alignment=alignment, lit=lit_area(alignment.map))
    return resumed_by_lay(ground, lay, with_lay(None, lay, CLOTH))


def check_all_lie_by(station: CutStation, lay: Lay) -> None:
    cloth = station.work.cloth
    for placement, one in zip(station.placements, lay.placed, strict=True):
        half = placement.placed(one.piece.cut_line)
        assert np.allclose(half, cloth.on_table(one.placement.placed(one.piece.cut_line)))


def test_each_piece_lies_where_the_lay_has_it_on_the_cloth(tmp_path: Path) -> None:
    lay = a_lay(tmp_path)
    station = a_cut(lay)
    assert station.work.cloth == CLOTH
    assert [copy.piece for copy in station.work.copies] == ["front", "pocket"]
    check_all_lie_by(station, lay)


def test_a_piece_that_is_moved_takes_the_cloth_and_all_pieces_along(tmp_path: Path) -> None:
    lay = a_lay(tmp_path)
    station = a_cut(lay)
    before = station.outline_in
    for action in (Move(right=1), Turn(anticlockwise=1), Move(away=-1, other_step=True)):
        station = station.after(action)
        check_all_lie_by(station, lay)
    assert station.work.cloth.turn_deg == pytest.approx(35)
    assert not np.allclose(station.outline_in, before)
    assert [copy.place for copy in station.work.copies] == [one.placement for one in lay.placed]
    assert station.after(ChangeStep()).work.lies == station.work.lies
    back = station.after(Undo()).after(Undo()).after(Undo())
    assert back.work.cloth == CLOTH
    assert "the lay says how it lies" in station.after(Mirror()).notice


def test_what_was_done_stays_done_when_the_lay_is_another(tmp_path: Path) -> None:
    lay = a_lay(tmp_path)
    done = copies_of(lay, CLOTH).work.ticked(1, ("cut",))
    other = replace(lay, placed=lay.placed[::-1])
    again = with_lay(replace(done, begun=True, at=1), other, CLOTH)
    assert [(copy.piece, copy.ticked) for copy in again.copies] == [("pocket", ("cut",)), ("front", ())]
    assert (again.begun, again.at, again.is_lay) == (True, 0, True)
    assert with_lay(replace(done, at=1), lay, CLOTH).at == 1


def test_a_lay_that_has_changed_since_cutting_began_is_told(tmp_path: Path) -> None:
    lay = a_lay(tmp_path)
    begun = replace(a_cut(lay).after(Freeze()).work, crosses_in=None)
    ground = a_cut(lay).ground
    assert resumed_by_lay(ground, lay, with_lay(begun, lay, CLOTH)).changed == ""
    first, second = lay.placed
    moved = replace(second, placement=replace(second.placement, x_in=second.placement.x_in + 1 / 16))
    other = replace(lay, placed=(first, moved))
    by_the_lay_verb = with_lay(begun, other, CLOTH)
    told = resumed_by_lay(ground, other, by_the_lay_verb)
    assert told.changed == "THE LAY OR ITS PATTERN HAS CHANGED"
    assert told.strip_words(Controls()).first[0] == told.changed
    assert resumed_by_lay(ground, lay, told.work).changed == "THE LAY OR ITS PATTERN HAS CHANGED"


def test_two_layers_give_two_at_once(tmp_path: Path) -> None:
    lay = a_lay(tmp_path)
    pocket = lay.placed[1]
    pair = replace(pocket.piece, cut=replace(pocket.piece.cut, count=2, mirrored=True))
    double = replace(pocket, piece=pair, fold_line=lay.folding.fold_lines[0])
    station = a_cut(replace(lay, placed=(double,), pieces=(pair,)))
    assert count_words(station) == ["cut 2 mirrored", "2 at once, through both layers"]


def test_the_kept_lay_is_taken_and_may_be_left_out(tmp_path: Path) -> None:
    path = saved(tmp_path, TOP_AND_POCKET)
    drafted = read_pattern(path).drafted()
    typed = Namespace(
        pattern=path, version=None, without_lay=False, at=None, turn=None, mirrored=False, opened=False
    )
    assert kept_lay(typed, drafted) is None
    write_lay(lay_path(path), None, a_lay(tmp_path), Unit.IN)
    found = kept_lay(typed, drafted)
    assert found is not None
    assert [one.piece.name for one in found.placed] == ["front", "pocket"]
    typed.without_lay = True
    assert kept_lay(typed, drafted) is None
    typed.without_lay, typed.turn = False, 0.0
    with pytest.raises(ProjectorError, match="--turn places a piece by itself"):
        kept_lay(typed, drafted)


def test_a_lay_that_the_pattern_has_outgrown_is_told_while_cutting(tmp_path: Path) -> None:
    path = saved(tmp_path, TOP_AND_POCKET)
    write_lay(lay_path(path), None, a_lay(tmp_path), Unit.IN)
    assert a_cut(read_lay(lay_path(path), None, read_pattern(path).drafted())[0]).ground.warnings == ()
    larger = TOP_AND_POCKET.replace("[5, ", "[15, ") + "  tab:" + TOP_AND_POCKET.partition("  pocket:")[2]
    changed, _ = read_lay(lay_path(path), None, read_pattern(saved(tmp_path, larger)).drafted())
    station = a_cut(changed)
    assert "the lay: tab is cut not at all; 1 is wanted" in station.ground.warnings
    assert any(told.startswith("the lay: pocket reaches") for told in station.ground.warnings)
    said = station.strip_words(Controls())
    assert ", ".join(said.first).startswith(f"{station.ground.warnings[0]}, front")
    assert not any("the lay: " in words for words in said.aside)
    frozen = station.after(Freeze()).strip_words(Controls()).first
    assert ", ".join(frozen).startswith(f"FROZEN, {station.ground.warnings[0]}")
    warned = replace(station, ground=replace(station.ground, warnings=(*station.ground.warnings, "MOVED")))
    assert "MOVED" in warned.strip_words(Controls()).aside


def test_a_half_on_the_fold_of_a_lay_says_nothing_of_left_and_right(tmp_path: Path) -> None:
    station = a_cut(a_lay(tmp_path))
    copies = tuple(
        replace(copy, place=replace(copy.place, mirrored=True, opened=False)) for copy in station.work.copies
    )
    half = replace(station, work=replace(station.work, copies=copies))
    assert half.piece.name == "front"
    said = half.strip_words(Controls())
    assert "half, on the fold" in said.first
    assert "irrored" not in " ".join(said.first)
    assert [label.text for label in piece_labels(half)][-1] == "half, on the fold"
    assert lying_states(half) == ("half, on the fold",), "as each of its reaches says"
    pocket = replace(half, shown=1)
    assert "MIRRORED" in pocket.strip_words(Controls()).first
    assert piece_labels(pocket)[-1].text == "mirrored"
    alone = replace(half, work=replace(half.work, is_lay=False))
    assert "MIRRORED" in alone.strip_words(Controls()).first
