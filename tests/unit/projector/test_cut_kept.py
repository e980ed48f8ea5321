"""What is shown at the cutting table is on disk before: else it is not shown."""

import os
from pathlib import Path

import pytest

from projector.actions import Freeze, Move, Next, Undo
from projector.cloth.ground import Ground
from projector.cutting.kept import CutSession, KeptWork
from projector.cutting.stage import Stage
from projector.lighting.lit_area import lit_area
from projector.places import read_work
from projector.scene import Controls
from projector.stations.cut import CutStation
from tests.unit.projector.samples import an_alignment, pieces

ALIGNMENT = an_alignment()
GROUND = Ground(pieces=tuple(pieces().values()), alignment=ALIGNMENT, lit=lit_area(ALIGNMENT.map))


def begun(folder: Path) -> CutSession:
    kept = KeptWork(path=folder / "table.places.json", setup="sail loft", pattern="blouse")
    return CutSession(kept.resumed(CutStation.begun(GROUND)), kept)


def test_every_change_is_in_the_file_as_soon_as_it_is_shown(tmp_path: Path) -> None:
    session = begun(tmp_path)
    for action in (Move(right=1), Freeze(), Next(), Next(), Next(), Freeze(), Undo()):
        session.take(action)
        assert read_work(tmp_path / "table.places.json", "sail loft", "blouse") == session.station.work, (
            action
        )
    again = begun(tmp_path).station
    assert again.work == session.station.work
    assert again.stage is Stage.ASKING
    assert again.piece.name == "pocket"


def test_what_cannot_be_kept_is_not_done_and_the_reason_is_said_in_few_words(tmp_path: Path) -> None:
    folder = tmp_path / "cloth"
    folder.mkdir()
    session = begun(folder)
    session.take(Freeze())
    folder.rename(tmp_path / "gone")
    session.take(Next())
    assert "cut" not in session.station.copy.ticked
    said = "NOT DONE: table.places.json cannot be written (No such file or directory)"
    assert session.station.strip_words(Controls()).first == (said,)
    (tmp_path / "gone").rename(folder)
    session.take(Next())
    assert "cut" in session.station.copy.ticked


def test_it_is_on_the_disk_itself_before_it_has_its_name_and_then_the_name_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = begun(tmp_path)
    done: list[str] = []
    real_fsync, real_replace = os.fsync, Path.replace

    def fsync(number: int) -> None:
        done.append("settled")
        real_fsync(number)

    def replace(part: Path, to: Path) -> Path:
        done.append("named")
        return real_replace(part, to)

    monkeypatch.setattr(os, "fsync", fsync)
    monkeypatch.setattr(Path, "replace", replace)
    session.take(Freeze())
    assert done == ["settled", "named", "settled"]


def test_of_two_windows_on_the_same_work_the_one_left_behind_writes_nothing_over(tmp_path: Path) -> None:
    one, other = begun(tmp_path), begun(tmp_path)
    one.take(Freeze())
    one.take(Next())
    other.take(Freeze())
    assert other.station.strip_words(Controls()).first == (
        "NOT DONE: this work went on in another window; q leaves this one",
    )
    assert read_work(tmp_path / "table.places.json", "sail loft", "blouse") == one.station.work
    one.take(Next())
    assert len(one.station.copy.ticked) == 2
