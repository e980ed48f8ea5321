"""A file kept up with a pattern that changes: its own text, never another program's written over."""

from dataclasses import replace
from pathlib import Path

import pytest

from patterns import PatternError, read_pattern
from patterns.changes import VNeck
from patterns.changes.change_list import with_change, without_change
from patterns.files.kept_file import KeptFile
from patterns.measures import Length
from tests.unit.patterns.test_editing import COMMENTED

DEEPER = VNeck(piece="front", depth=Length(spelling="6 1/2"))


@pytest.fixture
def coat(tmp_path: Path) -> Path:
    path = tmp_path / "coat.yaml"
    path.write_bytes(COMMENTED.encode("utf-8"))
    return path


def test_a_change_and_its_undoing_leave_every_byte(coat: Path) -> None:
    first = KeptFile.of(coat)
    second = first.keep(without_change(replace(first.pattern, versions=()), 0))
    assert "as the wardrobe asked" not in coat.read_text()
    assert "taken from the lining" in coat.read_text()
    third = second.keep(first.pattern)
    assert coat.read_bytes() == COMMENTED.encode("utf-8")
    third.keep(with_change(first.pattern, 0, DEEPER))
    assert coat.read_text() == COMMENTED.replace("depth: 6}", "depth: 6 1/2}")
    assert read_pattern(coat).changes == (DEEPER,)


def test_what_another_program_wrote_is_not_written_over(coat: Path) -> None:
    file = KeptFile.of(coat)
    coat.write_text(COMMENTED.replace("let out twice", "let out three times"))
    with pytest.raises(PatternError, match=r"coat.yaml was changed by another program meanwhile"):
        file.keep(with_change(file.pattern, 0, DEEPER))
    assert "let out three times" in coat.read_text()
    assert "depth: 6}" in coat.read_text()


def test_a_file_taken_away_is_not_made_again(coat: Path) -> None:
    file = KeptFile.of(coat)
    coat.unlink()
    with pytest.raises(PatternError, match="no such file"):
        file.keep(with_change(file.pattern, 0, DEEPER))
    assert not coat.exists()


def test_the_same_pattern_is_not_written_again(coat: Path) -> None:
    file = KeptFile.of(coat)
    coat.chmod(0o444)
    assert file.keep(file.pattern) is file
