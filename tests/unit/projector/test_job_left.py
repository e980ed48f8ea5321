"""Where the job was left: kept, read back, and what of it holds for another folder or a pattern that is named."""

import os
from argparse import Namespace
from dataclasses import replace
from pathlib import Path

import pytest

from projector.command_line import parsed
from projector.job.left import Left, keep_left, read_left, write_left
from projector.verbs.open import left_now


@pytest.fixture
def drafting(tmp_path: Path) -> Left:
    (tmp_path / "overtop.yaml").write_text("pattern: overtop\n", encoding="utf-8")
    (tmp_path / "table.yaml").touch()
    return Left(folder=str(tmp_path), pattern="overtop.yaml")


def typed_open(*words: str) -> Namespace:
    """What was typed after `open`."""
    return parsed(("open", *words))[1]


def test_another_folder_opens_on_the_pattern_written_last_by_the_same_light_and_marks(
    drafting: Left, tmp_path: Path
) -> None:
    other = tmp_path / "other"
    other.mkdir()
    for age, name in enumerate(("old.yaml", "new.yaml")):
        (other / name).write_text("pattern: a shirt\n", encoding="utf-8")
        os.utime(other / name, (age, age))
    kept = replace(
        drafting, display=1, paper="a4", mat=("1 in", "36x24 in"), pattern_version="short", step="cut"
    )
    left = left_now(typed_open(str(other)), kept)
    assert left == replace(kept, folder=str(other), pattern="new.yaml", pattern_version=None, step=None)
    assert left_now(typed_open(drafting.folder), kept) == kept
    assert left_now(typed_open(), kept) == kept


def test_a_pattern_file_stands_for_its_folder(drafting: Left, tmp_path: Path) -> None:
    apron = tmp_path / "apron.yaml"
    apron.write_text("pattern: apron\n", encoding="utf-8")
    kept = replace(drafting, pattern_version="short", step="cut")
    asked = left_now(typed_open(str(apron)), kept)
    assert (asked.folder, asked.pattern, asked.pattern_version, asked.step) == (
        str(tmp_path), "apron.yaml", None, None,
    )  # fmt: skip
    assert left_now(typed_open(str(tmp_path / "overtop.yaml")), kept) == kept
    assert left_now(typed_open(str(kept.table_path)), kept) == kept


def test_where_it_was_left_is_read_back(tmp_path: Path) -> None:
    path = tmp_path / "state" / "left.json"
    left = Left(
        folder=str(tmp_path),
        window_px=(1280, 720),
        step="cut",
        mat=("1in", "36x24in"),
        answers=("60 in",),
        side=2,
    )
    write_left(path, left)
    assert read_left(path) == left


def test_where_it_is_left_may_be_kept_nowhere_and_the_work_goes_on(tmp_path: Path) -> None:
    (tmp_path / "home").touch()
    path = tmp_path / "home" / "state" / "left.json"
    assert keep_left(path, Left(folder=str(tmp_path))).startswith(
        f"Where the job is left cannot be kept in {path},"
    )
    assert keep_left(tmp_path / "left.json", Left(folder=str(tmp_path))) == ""


@pytest.mark.parametrize("content", ["", "[]", "{}", '{"version": 99, "folder": "x"}', '{"version": 1}'])
def test_a_file_that_does_not_say_where_it_was_left_is_as_none(tmp_path: Path, content: str) -> None:
    path = tmp_path / "left.json"
    assert read_left(path) is None
    path.write_text(content, encoding="utf-8")
    assert read_left(path) is None
