"""The table file: what is written is read, and damage is named."""

import os
import stat
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from calibration import Alignment, AlignmentError, load_alignment, load_map, save_alignment
from calibration.table.setups import PastAlignment, Setup, TableFile
from calibration.table.table_file import copy_path, load_table, restore_table, save_table
from calibration.trust.closed_loop import LoopTest
from calibration.trust.drift import DriftTest
from calibration.trust.ruler_test import RulerTest
from calibration.trust.surface import Surface
from tests.unit.calibration.test_kept_camera import CAMERA
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
    cameras=(CAMERA,),
)


def test_what_is_written_is_read(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    save_alignment(path, ALIGNMENT)
    assert load_alignment(path) == ALIGNMENT
    assert load_map(str(path)) == MAP
    assert [p.name for p in tmp_path.iterdir()] == ["table.yaml"]


def test_a_file_that_knows_of_no_cameras_reads_without_them(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    save_alignment(path, ALIGNMENT)
    text = path.read_text(encoding="utf-8")
    path.write_text(text[: text.index("    cameras:")] + text[text.index("  past:") :], encoding="utf-8")
    assert load_alignment(path) == replace(ALIGNMENT, cameras=())


WHEN = datetime.fromisoformat("2026-11-27T08:15:00+01:00")
TESTED = Setup(
    alignment=ALIGNMENT,
    ruler_tests=(
        RulerTest(
            tested_on=WHEN,
            lengths=((36.0, 36.03125), (24.0, 24.0)),
            diagonals=((30.0, 30.0), (30.0, 30.0625)),
        ),
    ),
    loop_tests=(LoopTest(looked_on=WHEN, marks=12, rms_in=0.01, p95_in=0.02, most_in=0.03, by="eye"),),
    drift_tests=(DriftTest(looked_on=WHEN, moved_in=0.125, what="The projector has moved.", moved=True),),
    surface=Surface(height_in=0.25, lens_in=(2.0, -30.5, 71.0), corrected=True),
    past=(
        PastAlignment(aligned_on=WHEN, p95_in=0.05, verdict="Good to 1/16 in.", sheets=3, photos=2, marks=99),
    ),
)


def test_drift_tests_of_before_a_look_could_be_unsure_are_sure(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    save_table(path, TableFile(setups=(TESTED,)))
    text = path.read_text(encoding="utf-8")
    assert "    sure: true\n" in text
    path.write_text(text.replace("    sure: true\n", ""), encoding="utf-8")
    assert load_table(path).setups == (TESTED,)


def test_set_ups_with_all_that_is_known_of_them_are_read_as_written(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    other = Setup(alignment=replace(ALIGNMENT, name="Dachboden, große Leuchte", mat=None, sheet_places=()))
    table = TableFile(setups=(TESTED, other))
    save_table(path, table)
    assert load_table(path) == table


def test_a_new_alignment_goes_into_the_set_up_of_its_name_and_the_old_into_its_past(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    attic = Setup(alignment=replace(ALIGNMENT, name="attic"))
    save_table(path, TableFile(setups=(TESTED, attic)))
    newer = replace(ALIGNMENT, aligned_on=WHEN, p95_in=0.01)
    save_alignment(path, newer)
    table, attic_now = load_table(path).setups
    assert attic_now == attic
    assert table == Setup(alignment=newer, past=(PastAlignment.of(ALIGNMENT), *TESTED.past))
    assert load_alignment(path, name="attic") == attic.alignment
    assert load_map(path, "attic") == attic.alignment.map


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
        ("mat:\n    - 1.0", "mat:\n    - x", "damaged at 'mat', which should be 3 numbers"),
        ("- 26.0\n", "- x\n", "damaged at 'screen from table', which should be 3 by 3 numbers"),
        ("unit: 960.0", "unit: 0", "damaged at 'unit', which should be more than 0"),
        (
            "- 58.0\n",
            "- -58.0\n",
            "set-up 'table': damaged: a camera has a focal length and is above the table",
        ),
        ("focal length: 1450.0", "focal length: long", "damaged at 'focal length', which should be a number"),
        (
            "chalkbeam table: 2",
            "chalkbeam table: 0",
            "'chalkbeam table', which should be a version from 1 to 2",
        ),
        ("chalkbeam table: 2", "chalkbeam table: two", "'chalkbeam table', which should be a whole number"),
        ("set-ups:", "sets:", "damaged at 'set-ups', which should be a list of groups of fields"),
        ("name: table", "name: 5", "damaged at 'name', which should be text"),
        ("name: table", "name: ''", "is no name for a set-up; give 1 to 40 letters"),
        (
            "  alignment:",
            "  fit:",
            "set-up 'table': damaged at 'alignment', which should be a group of fields",
        ),
        (
            "past:\n  - ",
            "past: much\n  sheds:\n  - ",
            "damaged at 'past', which should be a list of groups of",
        ),
        (
            "tested on: '2026",
            "tested on: 'in 2026",
            "damaged at 'tested on', which should be a date and time",
        ),
        (
            "lengths:\n    - - 36.0",
            "lengths:\n    - - x",
            "damaged at 'lengths', which should be 2 by 2 numbers",
        ),
        (
            "      - 36.03125",
            "      - 63.0",
            "set-up 'table': damaged: line 1 is 36 in of light, but the tape",
        ),
        ("by: eye", "by: ear", "damaged at 'by', which should be photo or eye"),
        ("p95: 0.02", "p95: 2.0", "set-up 'table': damaged: misses are 0 or more and none over the most"),
        ("moved by: 0.125", "moved by: far", "damaged at 'moved by', which should be a number"),
        (
            "height: 0.25",
            "height: 250.0",
            "set-up 'table': damaged: The cutting surface is said to be 250 in",
        ),
        ("chalkbeam table: 2", "other: 2", "not a table file"),
        ("verdict:", "verdict: [", "damaged, it does not read as YAML"),
    ],
)
def test_damage_is_named(find: str, put: str, says: str, tmp_path: Path) -> None:
    path = damaged(tmp_path / "table.yaml", find, put)
    with pytest.raises(AlignmentError) as error:
        load_table(path)
    assert says in str(error.value)
    assert str(error.value).startswith(f"{path}: ")
    assert str(error.value).endswith(("move the file away and align again", "name the file that align wrote"))


def damaged(path: Path, find: str, put: str) -> Path:
    if not path.exists():
        save_table(path, TableFile(setups=(TESTED,)))
    text = path.read_text(encoding="utf-8")
    assert find in text
    path.write_text(text.replace(find, put, 1), encoding="utf-8")
    return path


def test_two_set_ups_of_one_name_are_damage(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    save_table(path, TableFile(setups=(TESTED, TESTED)))
    with pytest.raises(AlignmentError, match="'set-ups', which should be one or more, each of its own name"):
        load_table(path)


def test_a_date_without_a_zone_is_local(tmp_path: Path) -> None:
    path = damaged(tmp_path / "table.yaml", "'2026-11-25T09:30:00+00:00'", "2026-11-25 09:30:00")
    (setup,) = load_table(path).setups
    assert setup.alignment.aligned_on == datetime(2026, 11, 25, 9, 30).astimezone()


def test_the_file_before_the_last_writing_is_kept_as_a_good_copy(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    save_alignment(path, ALIGNMENT)
    assert not copy_path(path).exists()
    first = path.read_bytes()
    save_alignment(path, replace(ALIGNMENT, p95_in=0.01))
    assert copy_path(path).name == "table.good.yaml"
    assert copy_path(path).read_bytes() == first


def test_a_damaged_file_is_not_written_over_and_its_copy_is_offered_and_comes_back(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    save_alignment(path, ALIGNMENT)
    save_alignment(path, replace(ALIGNMENT, p95_in=0.01))
    damaged(path, "rms: 0.004", "rms: ~")
    found = path.read_bytes()
    offer = (
        f"{path}: set-up 'table': damaged at 'rms', which should be a number; its last good copy, aligned "
        f"2026-11-25 09:30, comes back with: chalkbeam check --table {path} --restore"
    )
    for attempt in (lambda: load_table(path), lambda: save_alignment(path, ALIGNMENT)):
        with pytest.raises(AlignmentError) as error:
            attempt()
        assert str(error.value) == offer
    with pytest.raises(AlignmentError, match="damaged at 'rms'"):
        save_table(path, TableFile(setups=(TESTED,)))
    assert path.read_bytes() == found
    assert restore_table(path) == ALIGNMENT.aligned_on
    assert load_alignment(path) == ALIGNMENT
    assert copy_path(path).read_bytes() == path.read_bytes()


def test_a_lost_file_is_offered_its_copy(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    save_alignment(path, ALIGNMENT)
    save_alignment(path, ALIGNMENT)
    path.unlink()
    with pytest.raises(AlignmentError, match=r"cannot be read .*; its last good copy, aligned 2026-11-25"):
        load_table(path)
    restore_table(path)
    assert load_alignment(path) == ALIGNMENT


def test_a_copy_restored_over_a_good_file_changes_places_with_it(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    save_alignment(path, ALIGNMENT)
    save_alignment(path, replace(ALIGNMENT, p95_in=0.01))
    for p95_in in (0.03, 0.01, 0.03):
        restore_table(path)
        assert load_alignment(path).p95_in == p95_in


def test_a_damaged_copy_is_neither_offered_nor_put_back(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    with pytest.raises(AlignmentError, match=r"found no last good copy \(table\.good\.yaml\) beside it"):
        restore_table(path)
    copy_path(path).write_text("chalkbeam table: [", encoding="utf-8")
    damaged(path, "rms: 0.004", "rms: ~")
    with pytest.raises(AlignmentError, match="; move the file away and align again"):
        load_table(path)
    with pytest.raises(AlignmentError, match=r"table\.good\.yaml: damaged, it does not read as YAML"):
        restore_table(path)


def test_a_file_of_a_newer_program_is_refused_and_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    save_alignment(path, ALIGNMENT)
    save_alignment(path, ALIGNMENT)
    damaged(path, "chalkbeam table: 2", "chalkbeam table: 3")
    found = path.read_bytes()
    for attempt in (
        lambda: load_table(path),
        lambda: save_alignment(path, ALIGNMENT),
        lambda: save_table(path, TableFile(setups=(TESTED,))),
        lambda: restore_table(path),
    ):
        with pytest.raises(AlignmentError) as error:
            attempt()
        assert str(error.value) == (
            f"{path}: table file version 3; this program reads version 2 and older: update the program, or "
            "align into another file"
        )
    assert path.read_bytes() == found


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
