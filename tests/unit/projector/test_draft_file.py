"""The pattern file is kept up with the drafting, or left alone."""

from dataclasses import replace
from pathlib import Path

import pytest

from patterns import example, read_pattern
from patterns.changes import VNeck
from patterns.errors import PatternError
from patterns.files.kept_file import KeptFile
from patterns.measures import Length
from projector.actions import (
    Accept,
    Action,
    Move,
    Remove,
    SwitchChange,
    Type,
    Undo,
)
from projector.drafting.opening import opened
from projector.drafting.words import Tool
from projector.stations.draft import DraftStation
from projector.verbs.draft_window import DraftSession
from tests.unit.projector.drafts import GROUND, begun, changes


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


def test_a_change_that_cannot_be_made_is_opened_switched_off_and_mended_at_the_table(file: KeptFile) -> None:
    file.path.write_text(file.path.read_text().replace("depth: 8 in}", "depth: 30 in}"))
    text, faulty = file.path.read_bytes(), KeptFile.of(file.path)
    with pytest.raises(PatternError):
        begun(faulty.pattern)
    work, notice = opened(faulty.pattern, None, GROUND.under)
    assert notice.startswith("neck v, piece front, depth 30 in cannot be made: ")
    assert notice.endswith("; it is off here: change it, then o switches it on")
    session = DraftSession(replace(DraftStation.begun(GROUND, work), notice=notice), faulty)
    assert (work.stop.number, work.change.off) == (0, True)
    session.take(SwitchChange())
    assert "leaves no body at the centre" in session.station.notice
    assert file.path.read_bytes() == text
    typed: list[Action] = [Type(text=sign) for sign in "8 in"]
    for action in (Accept(), *typed, Accept(), SwitchChange()):
        session.take(action)
    assert read_pattern(file.path) == file.pattern
    assert file.path.read_bytes() == text.replace(b"30 in", b"8 in")


def test_what_is_not_one_changes_fault_is_refused_as_before(file: KeptFile) -> None:
    with pytest.raises(PatternError, match="summer"):
        opened(file.pattern, "summer", GROUND.under)
    assert opened(file.pattern, None, GROUND.under)[1] == ""
    neck = file.pattern.changes[0]
    assert isinstance(neck, VNeck)
    deep = replace(neck, depth=Length(spelling="30 in"))
    both = replace(file.pattern, changes=(deep, *file.pattern.changes[1:], deep))
    with pytest.raises(PatternError):
        opened(both, None, GROUND.under)
