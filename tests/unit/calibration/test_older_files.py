"""Table files of earlier versions, as they were written then."""

from datetime import datetime
from pathlib import Path

import pytest

from calibration import AlignmentError, load_alignment, save_alignment
from calibration.table.older_files import VERSION
from calibration.table.setups import PastAlignment
from calibration.table.table_file import copy_path, load_table
from tests.unit.calibration.test_projector_map import MAP

VERSION_1 = """\
chalkbeam table: 1
name: workshop
aligned on: '2026-08-02T17:45:10+01:00'
verdict: Good to 1/32 in over the lit table; shape and size are both checked.
trustworthy: true
size checked: true
rms: 0.011
p95: 0.028
photos: 2
sheets: 5
marks: 412
turn: -1.25
shift:
- 0.0
- 0.5
sheet places:
- [0.0, 0.0, 0.0]
- [20.125, -3.0, 90.0]
screen:
  width: 1920
  height: 1080
screen from table:
- [26.0, 0.4, 950.0]
- [0.2, -25.5, 520.0]
- [0.0001, 0.0003, 1.0]
lens:
  k1: -0.012
  k2: 0.004
  centre:
  - 980.0
  - 1010.0
  unit: 960.0
floor: 0.0
covariance:
- [1.0e-06, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]
- [0, 1.0e-06, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]
- [0, 0, 1.0e-06, 0, 0, 0, 0, 0, 0, 0, 0, 0]
- [0, 0, 0, 1.0e-06, 0, 0, 0, 0, 0, 0, 0, 0]
- [0, 0, 0, 0, 1.0e-06, 0, 0, 0, 0, 0, 0, 0]
- [0, 0, 0, 0, 0, 1.0e-06, 0, 0, 0, 0, 0, 0]
- [0, 0, 0, 0, 0, 0, 1.0e-06, 0, 0, 0, 0, 0]
- [0, 0, 0, 0, 0, 0, 0, 1.0e-06, 0, 0, 0, 0]
- [0, 0, 0, 0, 0, 0, 0, 0, 1.0e-06, 0, 0, 0]
- [0, 0, 0, 0, 0, 0, 0, 0, 0, 1.0e-06, 0, 0]
- [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1.0e-06, 0]
- [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1.0e-06]
"""


def test_a_file_of_version_1_reads_as_one_set_up_without_tests_or_past(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    path.write_text(VERSION_1, encoding="utf-8")
    (setup,) = load_table(path).setups
    alignment = setup.alignment
    assert alignment.map == MAP
    assert alignment.aligned_on == datetime.fromisoformat("2026-08-02T17:45:10+01:00")
    assert (alignment.rms_in, alignment.p95_in, alignment.turn_deg) == (0.011, 0.028, -1.25)
    assert (alignment.sheets, alignment.photos, alignment.marks) == (5, 2, 412)
    assert alignment.shift_in == (0.0, 0.5)
    assert alignment.sheet_places == ((0.0, 0.0, 0.0), (20.125, -3.0, 90.0))
    assert alignment.size_checked
    assert alignment.trustworthy
    assert alignment.verdict.startswith("Good to 1/32 in")
    assert (alignment.paper, alignment.printed_scale, alignment.mat) == ("", 1.0, None)
    assert (setup.ruler_tests, setup.loop_tests, setup.drift_tests, setup.past) == ((), (), (), ())
    assert setup.surface.height_in == 0.0
    assert path.read_text(encoding="utf-8") == VERSION_1


def test_what_it_says_of_the_print_is_kept(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    path.write_text(VERSION_1 + "paper: a4\nprinted scale: 0.9975\nmat: null\n", encoding="utf-8")
    alignment = load_alignment(path)
    assert (alignment.paper, alignment.printed_scale, alignment.mat) == ("a4", 0.9975, None)


def test_it_is_written_anew_by_the_next_alignment_which_takes_its_place(tmp_path: Path) -> None:
    """Whatever it was called: it had no name to be chosen by."""
    path = tmp_path / "table.yaml"
    path.write_text(VERSION_1, encoding="utf-8")
    old = load_alignment(path)
    save_alignment(path, old)
    assert path.read_text(encoding="utf-8").startswith(f"chalkbeam table: {VERSION}\n")
    (setup,) = load_table(path).setups
    assert (setup.name, setup.past) == ("table", (PastAlignment.of(old),))
    assert copy_path(path).read_text(encoding="utf-8") == VERSION_1


@pytest.mark.parametrize(
    ("find", "put", "says"),
    [
        ("rms: 0.011", "rms: much", "damaged at 'rms', which should be a number"),
        ("screen:", "scene:", "damaged at 'screen', which should be a group of fields"),
    ],
)
def test_damage_in_it_is_named(find: str, put: str, says: str, tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    path.write_text(VERSION_1.replace(find, put, 1), encoding="utf-8")
    with pytest.raises(AlignmentError, match=says):
        load_table(path)
