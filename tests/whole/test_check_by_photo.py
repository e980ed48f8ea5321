"""Drift and closed loop from photos, by the commands a person types, on a table that a webcam sees."""

import json
from pathlib import Path

import cv2
import numpy as np
import pytest

from calibration.frames import Gray
from calibration.practice.table import Faults, PracticeTable
from calibration.table.setups import Setup, TableFile
from calibration.table.table_file import load_table, save_table
from calibration.trust.closed_loop import CLAIM_TIMES
from calibration.trust.loop_crosses import loop_crosses
from projector.command_line import main
from tests.bench.drift import projector_moved, saved_alignment
from tests.whole.scenes import PAGE_PPI, PAPER, pages, photo, scene

SEED = 1
SHEETS = 5
OFF_IN = 1 / 16


@pytest.fixture(scope="module")
def on() -> PracticeTable:
    return scene(SEED, "webcam", SHEETS, Faults.none())


@pytest.fixture(scope="module")
def table_file(on: PracticeTable, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("check") / "table.yaml"
    save_table(path, TableFile(setups=(Setup(alignment=saved_alignment(on, SEED)),)))
    return path


@pytest.fixture(scope="module")
def frame(table_file: Path) -> Gray:
    path = table_file.with_name("loop.png")
    assert main(["check", "--table", str(table_file), "--loop-frame", str(path)]) == 0
    return np.asarray(cv2.imread(str(path), cv2.IMREAD_GRAYSCALE), dtype=np.uint8)


def kept(folder: Path, picture: Gray) -> str:
    path = folder / "photo.png"
    cv2.imwrite(str(path), picture, [cv2.IMWRITE_PNG_COMPRESSION, 1])
    return str(path)


@pytest.mark.parametrize("off_in", [0.0, OFF_IN])
def test_the_loop_sees_how_far_the_light_is_off(
    off_in: float,
    on: PracticeTable,
    table_file: Path,
    frame: Gray,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    world = projector_moved(on.another_view(8), SEED, off_in) if off_in else on.another_view(8)
    picture = kept(tmp_path, world.photo(frame, pages(SHEETS), PAGE_PPI))
    alignment = load_table(table_file).setup().alignment
    crosses = np.array([cross.table_in[0] for cross in loop_crosses(alignment, PAPER)])
    strays = world.true_table_from_screen(alignment.map.screen_from_table(crosses)) - crosses
    truth_in = float(np.sqrt((strays**2).sum(axis=1).mean()))
    capsys.readouterr()
    assert main(["check", "--table", str(table_file), "--loop-photo", picture, "--json"]) == 0
    result = json.loads(capsys.readouterr().out)
    assert result["marks"] == 4 * SHEETS
    assert result["rms_in"] == pytest.approx(truth_in, abs=0.006)
    assert result["most_in"] == pytest.approx(np.hypot(strays[:, 0], strays[:, 1]).max(), abs=0.01)
    test = load_table(table_file).setup().loop_tests[0]
    assert (test.by, test.rms_in) == ("photo", result["rms_in"])
    assert result["claim_in"] == max(alignment.p95_in, CLAIM_TIMES * test.p95_in)


def test_a_photo_without_crosses_is_refused(
    on: PracticeTable, table_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    white = np.full((1080, 1920), 255, dtype=np.uint8)
    picture = kept(tmp_path, on.photo(white, pages(SHEETS), PAGE_PPI))
    before = table_file.read_bytes()
    assert main(["check", "--table", str(table_file), "--loop-photo", picture]) == 1
    assert capsys.readouterr().err == (
        "chalkbeam check: photo.png: found 0 of 20 crosses of light within 0.25 in of their places; darken the "
        "room, focus, and retake the photo; if the light is farther off, align again\n"
    )
    assert table_file.read_bytes() == before


def test_a_photo_without_sheets_is_refused(
    table_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    picture = kept(tmp_path, np.full((1080, 1920), 90, dtype=np.uint8))
    assert main(["check", "--table", str(table_file), "--loop-photo", picture]) == 1
    assert (
        "None of the aligned sheets of letter paper is seen; show the loop frame" in capsys.readouterr().err
    )


def test_a_moved_projector_is_told_and_aligned_again(
    on: PracticeTable, table_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    world = projector_moved(on.another_view(3), SEED, 0.4)
    picture = kept(tmp_path, photo(world, SHEETS))
    command = ["check", "--table", str(table_file), "--photo", picture]
    capsys.readouterr()
    assert main(command) == 0
    said = capsys.readouterr().out
    assert "The projector has moved, or the table under it: the light falls up to 3/8 in off near the" in said
    assert load_table(table_file).setup().drift_tests[0].moved
    assert main([*command, "--realign", "--json"]) == 0
    result = json.loads(capsys.readouterr().out)
    assert (result["moved"], result["cause"], result["realigned"]) == (True, "light", True)
    assert (result["sure"], result["look_from"]) == (True, "")
    assert result["doubt_in"] < 0.02
    setup = load_table(table_file).setup()
    errors = world.light_errors_in(setup.alignment.map)
    assert np.hypot(errors[:, 0], errors[:, 1]).max() < 0.02
    assert len(setup.past) == 1
    assert not setup.drift_tests
