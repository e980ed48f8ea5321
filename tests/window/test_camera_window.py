"""Aligning by camera in a real window: recorded frames, slow light, a saved table file held against the truth."""

import json
import time
from pathlib import Path

import numpy as np
import pytest

from calibration.cameras.watch import FRAMES, Look
from calibration.photos.photo import sight
from calibration.sheets.sheet import RULER_IN
from calibration.solving.from_photos import solved
from calibration.table.saved import Alignment
from calibration.table.table_file import load_alignment, load_table, save_alignment
from projector.lighting.canvas import frame
from projector.session import Session
from projector.stations.camera import CameraStation
from tests.bench.drift import projector_moved
from tests.unit.calibration.recorded import (
    PAPER,
    SCREEN_PX,
    SHEETS,
    developed,
    light,
    light_in,
    moved,
    record_pictures,
    record_video,
    table,
    targets,
)
from tests.window.desk import SCREEN_NAME, Desk, Pixels, Program

LOOK_EVERY_S = 0.1


def shown(station: CameraStation) -> Pixels:
    session = Session(station)
    return frame((layer.draw() for layer in session.scene()), SCREEN_PX)


def levels_until_the_end(desk: Desk, program: Program) -> list[float]:
    """Light of a square that is lit, 0 to 1, as often as the display can be looked at."""
    row, column = np.argwhere(targets().frame() == 255)[0]
    levels = []
    while program.process.poll() is None:
        levels.append((desk.pixels()[row, column, 0] / 255) ** 2.2)
        time.sleep(LOOK_EVERY_S)
    return levels


def test_recorded_frames_make_a_table_file_that_is_true(desk: Desk, tmp_path: Path) -> None:
    truth, path = table(), tmp_path / "table.yaml"
    # a sheet comes late, the camera is pushed, and then all is still
    late = [developed(light(missing=3), seed) for seed in range(2)]
    pushed = [developed(moved(light(), 4.0), seed) for seed in range(10, 13)]
    still = [developed(light(), seed) for seed in range(20, 20 + FRAMES)]
    recorded = record_video(tmp_path / "frames.avi", [*late, *pushed, *still])
    ruler, tape = truth.printed_length(RULER_IN), truth.tape(2, 3, to_nearest_in=1 / 32)
    options = ("--sheets", str(SHEETS), "--printed-ruler", f"{ruler:.4f}in", "--tape", f"2-3={tape:.5f}in")
    lit = CameraStation.begun(targets()).lit(1.0)
    seen = shown(lit.saw(Look(sheets=(1, 2), light=True)))
    with desk.program("align", "--camera", recorded, "--table", path, "--setup", "loft", *options) as program:
        program.focus()
        desk.wait_for(lambda pixels: np.array_equal(pixels, seen), "that sheet 3 is missing")
        levels = levels_until_the_end(desk, program)
        code, said, complained = program.end()
    assert (code, complained) == (0, "")
    assert "size checked" in said
    falls = np.diff(levels)
    assert (falls <= 0).all()  # from full light on it only goes, and slowly: no flash
    alignment = load_alignment(path, "loft")
    assert (alignment.sheets, alignment.paper, alignment.photos) == (SHEETS, PAPER.name, 1)
    assert alignment.screen_name == SCREEN_NAME
    errors_in = np.hypot(*truth.light_errors_in(alignment.map).T)
    assert np.sqrt((errors_in**2).mean()) < 0.015
    assert np.quantile(errors_in, 0.95) <= alignment.p95_in


@pytest.fixture(scope="module")
def alignment() -> Alignment:
    """By one frame."""
    seen = sight(developed(light(), 99), PAPER, SHEETS, targets())
    taped = {(2, 3): table().tape(2, 3)}
    return solved([seen], PAPER, SCREEN_PX, table().printed_length(RULER_IN), taped).alignment


@pytest.fixture
def aligned(tmp_path: Path, alignment: Alignment) -> Path:
    """A table file that holds it."""
    path = tmp_path / "table.yaml"
    save_alignment(path, alignment)
    return path


def test_a_table_that_nobody_touched_is_found_so_by_camera(desk: Desk, tmp_path: Path, aligned: Path) -> None:
    recorded = record_video(tmp_path / "frames.avi", (developed(light(), seed) for seed in range(FRAMES)))
    with desk.program("check", "--table", aligned, "--camera", recorded) as program:
        code, said, complained = program.end()
    assert (code, complained) == (0, "")
    assert said.startswith(f"{aligned}: Nothing has moved")
    (test,) = load_table(aligned).setup().drift_tests
    assert not test.moved


def test_light_that_moved_is_found_by_camera_and_aligned_again(
    desk: Desk, tmp_path: Path, aligned: Path
) -> None:
    world = projector_moved(table(), 4, 0.25)
    seen = light_in(world)
    frames = (developed(seen, seed) for seed in range(FRAMES))
    recorded = record_video(tmp_path / "frames.avi", frames)
    options = ("--camera", recorded, "--realign", "--json")
    with desk.program("check", "--table", aligned, *options) as program:
        code, said, complained = program.end()
    assert (code, complained) == (0, "")
    told = json.loads(said)
    assert (told["moved"], told["cause"], told["realigned"]) == (True, "light", True)
    errors_in = np.hypot(*world.light_errors_in(load_alignment(aligned).map).T)
    assert np.sqrt((errors_in**2).mean()) < 0.015


def test_a_recording_that_ends_too_early_is_said_on_the_table_and_at_the_end(
    desk: Desk, tmp_path: Path
) -> None:
    recorded = record_pictures(tmp_path, [developed(light(), seed) for seed in range(3)])
    reason = f"{recorded}: the recorded frames end after 3; more are needed: record longer"
    options = ("--table", tmp_path / "table.yaml", "--sheets", str(SHEETS))
    with desk.program("align", "--camera", recorded, *options) as program:
        program.focus()
        dark = CameraStation.begun(targets()).saw(Look(sheets=(1, 2, 3), light=True, frames=1)).failed(reason)
        desk.wait_for(lambda pixels: np.array_equal(pixels, shown(dark)), "why there is no alignment")
        desk.keys("q")
        code, said, complained = program.end()
    assert (code, said) == (1, "")
    assert complained == f"chalkbeam align: {reason}\n"
    assert not (tmp_path / "table.yaml").exists()


def test_a_missing_camera_is_a_sentence_before_any_light(desk: Desk, tmp_path: Path) -> None:
    with desk.program("align", "--camera", "93", "--table", tmp_path / "table.yaml") as program:
        code, _, said = program.end()
    assert code == 1
    assert said == (
        "chalkbeam align: camera 93 does not answer; plug it in, close other programs that use it, or try "
        "another number (the first camera is 0)\n"
    )


def test_leaving_early_keeps_nothing(desk: Desk, tmp_path: Path) -> None:
    recorded = record_pictures(tmp_path, [developed(light(missing=3), 1)] * 4)
    options = ("--table", tmp_path / "table.yaml", "--sheets", str(SHEETS))
    with desk.program("align", "--camera", recorded, *options) as program:
        program.focus()
        desk.keys("q")
        code, _, said = program.end()
    assert code == 1
    assert said == "chalkbeam align: left before all was seen; nothing is kept of it\n"
