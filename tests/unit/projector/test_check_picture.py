"""`check --forecast` and `check --picture` as a person runs them."""

from pathlib import Path

import cv2
import pytest

from projector.command_line import main
from tests.unit.projector.commands import a_table, check_refusal, result
from tests.unit.projector.forecasts import a_graded_alignment


def test_the_picture_is_written_and_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table, picture = a_table(tmp_path, a_graded_alignment()), tmp_path / "forecast.png"
    code, out, err = result(capsys, "check", "--table", table, "--picture", picture)
    assert (code, err) == (0, "")
    assert out == f"{picture}: how true the light is where, by {table}\n"
    stored = cv2.imread(str(picture))
    assert stored is not None
    assert stored.shape[1] == 1600


def test_a_folder_that_is_not_there_is_one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = a_table(tmp_path, a_graded_alignment())
    where = tmp_path / "none" / "forecast.png"
    check_refusal(
        capsys, tmp_path, ("check", "--table", table, "--picture", where), "No such file or directory"
    )


def test_a_window_of_another_size_than_any_set_up_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = a_table(tmp_path, a_graded_alignment())
    asked = ("check", "--table", table, "--forecast", "--window", "1280x720")
    check_refusal(capsys, tmp_path, asked, "the screen is 1280x720")


def test_a_set_up_that_is_not_in_the_file_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = a_table(tmp_path, a_graded_alignment())
    asked = ("check", "--table", table, "--setup", "attic", "--picture", tmp_path / "p.png")
    check_refusal(capsys, tmp_path, asked, 'found no set-up "attic"')


def test_its_help_says_that_it_stands_alone(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["check", "--help"])
    assert "the same written as a picture; without --forecast" in " ".join(capsys.readouterr().out.split())
