"""The table file: what is written is read, and damage is named."""

import os
import stat
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from calibration import Alignment, AlignmentError, load_alignment, load_map, save_alignment
from tests.unit.calibration.test_projector_map import MAP

ALIGNMENT = Alignment(
    map=MAP,
    name="table",
    aligned_on=datetime.fromisoformat("2026-11-25T09:30:00+00:00"),
    rms_in=0.004,
    p95_in=0.03,
    verdict="Good to 1/32 in over the lit table; shape and size are both checked.",
    size_checked=True,
    trustworthy=True,
    sheets=2,
    photos=1,
    marks=214,
    turn_deg=1.5,
    shift_in=(0.5, -2.0),
    sheet_places=((0.0, 0.0, 0.0), (20.125, -3.0, 90.0)),
    paper="a4",
    printed_scale=0.9975,
    mat=(1.0, 36.0, 24.0),
)


def test_what_is_written_is_read(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    save_alignment(path, ALIGNMENT)
    assert load_alignment(path) == ALIGNMENT
    assert load_map(str(path)) == MAP
    assert [p.name for p in tmp_path.iterdir()] == ["table.yaml"]


def test_what_an_older_file_does_not_say_of_the_print_is_unknown(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    save_alignment(path, replace(ALIGNMENT, mat=None))
    text = path.read_text()
    path.write_text(
        text.replace("paper: a4\n", "").replace("printed scale: 0.9975\n", "").replace("mat: null\n", "")
    )
    assert load_alignment(path) == replace(ALIGNMENT, paper="", printed_scale=1.0, mat=None)


def test_others_may_read_it_as_any_file(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    save_alignment(path, ALIGNMENT)
    plain = tmp_path / "plain"
    plain.write_text("")
    assert stat.S_IMODE(path.stat().st_mode) == stat.S_IMODE(plain.stat().st_mode)


def test_a_failed_write_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "table.yaml"
    save_alignment(path, ALIGNMENT)

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(AlignmentError, match="cannot be written \\(No space left on device\\)"):
        save_alignment(path, replace(ALIGNMENT, name="other"))
    assert load_alignment(path) == ALIGNMENT
    assert [p.name for p in tmp_path.iterdir()] == ["table.yaml"]


@pytest.mark.parametrize(
    ("find", "put", "says"),
    [
        ("rms: 0.004", "rms: much", "damaged at 'rms', which should be a number"),
        ("rms: 0.004", "rms: .nan", "damaged at 'rms', which should be a number"),
        ("marks: 214", "marks: -1", "damaged at 'marks', which should be a whole number"),
        ("size checked: true", "size checked: maybe", "damaged at 'size checked', which should be true or"),
        ("  width: 1920", "  wide: 1920", "damaged at 'width', which should be a whole number"),
        ("aligned on: '2026", "aligned on: 'once", "damaged at 'aligned on', which should be a date"),
        (
            "printed scale: 0.9975",
            "printed scale: full",
            "damaged at 'printed scale', which should be a number",
        ),
        ("mat:\n", "mat:\n- 2.0\n", "damaged at 'mat', which should be 3 numbers"),
        ("- 26.0", "- x", "damaged at 'screen from table', which should be 3 by 3 numbers"),
        ("unit: 960.0", "unit: 0", "damaged at 'unit', which should be more than 0"),
        ("chalkbeam table: 1", "chalkbeam table: 9", "table file version 9; this program reads version 1"),
        ("chalkbeam table: 1", "other: 1", "not a table file"),
        ("verdict:", "verdict: [", "damaged, it does not read as YAML"),
    ],
)
def test_damage_is_named(find: str, put: str, says: str, tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    save_alignment(path, ALIGNMENT)
    text = path.read_text()
    assert find in text
    path.write_text(text.replace(find, put, 1))
    with pytest.raises(AlignmentError, match=says):
        load_alignment(path)


def test_what_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(AlignmentError, match=r"cannot be read .*; align the table first"):
        load_alignment(tmp_path / "none.yaml")
    with pytest.raises(AlignmentError, match="cannot be written"):
        save_alignment(tmp_path / "none" / "table.yaml", ALIGNMENT)
    (tmp_path / "blob").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(AlignmentError, match="does not read as YAML"):
        load_alignment(tmp_path / "blob")
    (tmp_path / "huge").write_bytes(b"#" * 1_000_001)
    with pytest.raises(AlignmentError, match="1000001 bytes is no table file"):
        load_alignment(tmp_path / "huge")
    (tmp_path / "empty").write_bytes(b"")
    with pytest.raises(AlignmentError, match="not a table file"):
        load_alignment(tmp_path / "empty")
