"""`check --surface`: the shift on a raised surface is told, kept, and allowed for if wanted."""

import json
from pathlib import Path

import pytest

from calibration.table.table_file import load_table
from tests.unit.calibration.test_surface import an_eye, its_map
from tests.unit.projector.commands import a_table, check_refusal, result
from tests.unit.projector.samples import an_alignment

LENS = ("--lens", "0 in,4 in,70 in")


def test_a_measured_lens_tells_the_shift(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = a_table(tmp_path)
    code, out, _ = result(capsys, "check", "--table", table, "--surface", "1/4 in", *LENS, "--json")
    numbers = json.loads(out)
    assert (code, numbers["lens_in"], numbers["lens_measured"]) == (0, [0, 4, 70], True)
    assert numbers["shift_in"] == pytest.approx(0.25 * 35 / 69.75, rel=0.1)  # t d / (h - t) at the far end
    surface = load_table(table).setup().surface
    assert (surface.height_in, surface.lens_in, surface.corrected) == (0.25, (0, 4, 70), False)
    in_force = load_table(table).setup().in_force()
    assert in_force.p95_in == surface.claim_in(in_force.map, an_alignment().p95_in) > 0.1


def test_a_wanted_correction_is_in_force(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = a_table(tmp_path)
    plain = load_table(table).setup().in_force().map
    code, out, _ = result(capsys, "check", "--table", table, "--surface", "1/4 in", *LENS, "--correct")
    assert code == 0
    assert "shifts the light by up to 0.1" in out
    assert "allowed for in what is drawn" in out
    raised = load_table(table).setup().in_force().map
    foot = plain.screen_from_table([[0, 4]])
    assert raised.screen_from_table([[0, 4]]) == pytest.approx(foot, abs=1e-6)
    assert raised.screen_from_table([[20, 4]])[0, 0] > plain.screen_from_table([[20, 4]])[0, 0] + 1


def test_a_lens_that_the_map_does_not_tell_is_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = a_table(tmp_path, an_alignment(its_map(an_eye(0.0, 0.0), sigma_in=0.01)))
    code, out, _ = result(capsys, "check", "--table", table, "--surface", "1/4 in")
    assert code == 0
    assert "almost square to the table, which tells little; measure and give --lens" in out
    assert "not allowed for: add --correct" in out
    arguments = ("check", "--table", table, "--surface", "1 in", "--correct")
    check_refusal(capsys, tmp_path, arguments, "measure it, and give --lens")


def test_none_takes_it_away(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = a_table(tmp_path)
    result(capsys, "check", "--table", table, "--surface", "1/4 in", *LENS)
    code, out, _ = result(capsys, "check", "--table", table, "--surface", "0")
    assert (code, "nothing is shifted" in out) == (0, True)
    assert load_table(table).setup().surface.height_in == 0


def test_a_height_out_of_reach_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ("check", "--table", a_table(tmp_path), "--surface", "20 in")
    check_refusal(capsys, tmp_path, arguments, "said to be 20 in above the aligned table; up to 12 in")


def test_a_drift_photo_needs_the_paper(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ("check", "--table", a_table(tmp_path), "--photo", tmp_path / "none.jpg")
    check_refusal(capsys, tmp_path, arguments, "does not say what paper the sheets are; name it with --paper")
