"""`tape`: a piece held against a tape measure, through the command line."""

import json
from pathlib import Path

import pytest

from patterns import example
from projector.command_line import main
from tests.unit.patterns.build import HALF_TOP, saved

OVERTOP = str(example("harbour overtop"))


def test_what_was_taped_stands_beside_what_was_captured(capsys: pytest.CaptureFixture[str]) -> None:
    """The neck is drawn 3 1/2 in wide and the centre 21.85 in long; 1/8 in is what a tape can tell."""
    taped = [
        "--taped",
        "neck width 3 1/2 in",
        "--taped",
        "centre length 21 1/2",
        "--taped",
        "half bust 274 mm at 12 in",
    ]
    assert main(["tape", OVERTOP, *taped]) == 0
    head, neck, centre, bust, *looks = capsys.readouterr().out.splitlines()
    assert head.split() == ["captured", "taped"]
    assert neck.split(maxsplit=2) == ["neck", "width", "3 1/2 in     3 1/2 in   agrees"]
    assert centre.endswith("21 7/8 in    21 1/2 in   3/8 in more")
    assert bust.split() == ["half", "bust", "at", "12", "in", "274", "mm", "274", "mm", "agrees"]
    assert looks == [
        "look: centre length: captured 21 7/8 in, taped 21 1/2 in, 3/8 in more than the tape; measure again, then "
        "pull the outline to where it belongs"
    ]


def test_the_numbers_are_in_the_json(capsys: pytest.CaptureFixture[str]) -> None:
    taped = ["--taped", "girth 43 3/4 in at 20 in", "--taped", "neck depth 2 in"]
    assert main(["tape", OVERTOP, "--piece", "back", *taped, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["piece"] == "back"
    girth, neck = told["taped"]
    assert girth["what"] == "girth at 20 in"
    assert girth["captured_in"] == pytest.approx(43.75, abs=0.1)
    assert neck["difference_in"] == pytest.approx(0.25)
    assert len(told["warnings"]) == 1


def test_with_nothing_taped_all_that_was_captured_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tape", OVERTOP]) == 0
    first, *lines = capsys.readouterr().out.splitlines()
    assert first == "front of Harbour overtop, as it lies folded, on its seam line:"
    told = {line[:24].strip(): line[24:].strip() for line in lines}
    assert told["neck width"] == "3 1/2 in"
    assert told["sleeve opening"] == "6 in"
    assert "girth at 25 in" in told
    assert main(["tape", OVERTOP, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["captured_in"]["centre length"] == pytest.approx(21.85)


def test_a_bare_number_is_of_the_pattern_s_unit(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = saved(tmp_path, HALF_TOP.replace("pieces:", "unit: cm\npieces:"))
    assert main(["tape", str(path), "--taped", "hem width 10"]) == 0
    assert "10 cm        10 cm   agrees" in capsys.readouterr().out
    assert main(["tape", str(path), "--taped", "hem width 10 in"]) == 0
    assert "3 15/16 in        10 in   6 1/16 in less" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        (["--piece", "cuff"], "has no piece cuff; it has front: name one with --piece"),
        (["--taped", "sleeve opening 6 in"], "front has no sleeve hem to be measured; name its edges first"),
        (["--taped", "girth 40 in at 12 in"], "a girth goes round front and back, and there is front alone"),
        (["--taped", "half bust 9 in at 30 in"], "no line runs from the centre to the side"),
    ],
)
def test_what_is_not_there_is_said(
    tmp_path: Path, asked: list[str], sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["tape", str(saved(tmp_path, HALF_TOP)), *asked]) == 1
    said = capsys.readouterr()
    assert sentence in said.err
    assert not said.out


@pytest.mark.parametrize("typed", ["waist 30 in", "half bust 19 in", "hem width", "hem width -3 in"])
def test_what_cannot_be_read_is_a_mistake_of_usage(typed: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["tape", OVERTOP, "--taped", typed])
    assert ended.value.code == 2
    assert "argument --taped: " in capsys.readouterr().err
