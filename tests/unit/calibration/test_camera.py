"""Recorded frames through the real capture call, and each way in which a camera may fail."""

from collections.abc import Callable
from pathlib import Path

import cv2
import numpy as np
import pytest

from calibration.cameras.camera import WANTED_PX, Camera, ask_for_size
from calibration.errors import AlignmentError
from calibration.frames import Gray
from tests.unit.calibration.recorded import record_pictures, record_video


def noise(seed: int, size_px: tuple[int, int] = (960, 540)) -> Gray:
    return np.random.default_rng(seed).integers(0, 256, size_px[::-1], dtype=np.uint8)


def video(folder: Path, frames: list[Gray]) -> Path:
    return record_video(folder / "frames.avi", frames)


RECORDERS = pytest.mark.parametrize("record", [video, record_pictures], ids=["FFV1", "PNG"])


def refusal(source: int | str, frames: int = 1) -> str:
    def taken() -> None:
        with Camera(source) as camera:
            for _ in range(frames):
                camera.frame()

    with pytest.raises(AlignmentError) as refused:
        taken()
    return str(refused.value)


@RECORDERS
def test_recorded_frames_come_back_to_the_last_bit(
    record: Callable[[Path, list[Gray]], Path], tmp_path: Path
) -> None:
    frames = [noise(seed) for seed in range(3)]
    with Camera(str(record(tmp_path, frames))) as camera:
        for frame in frames:
            np.testing.assert_array_equal(camera.frame(), frame)


@RECORDERS
def test_a_picture_has_the_colours_of_a_recorded_frame_or_its_greys(
    record: Callable[[Path, list[Gray]], Path], tmp_path: Path
) -> None:
    with Camera(str(record(tmp_path, [noise(1)]))) as camera:
        np.testing.assert_array_equal(camera.picture(), np.repeat(noise(1)[..., None], 3, axis=2))
    coloured = np.random.default_rng(2).integers(0, 256, (540, 960, 3), dtype=np.uint8)
    cv2.imwrite(str(tmp_path / "c_000.png"), coloured[..., ::-1])
    with Camera(str(tmp_path / "c_%03d.png")) as camera:
        np.testing.assert_array_equal(camera.picture(), coloured)
        with pytest.raises(AlignmentError, match="the recorded frames end after 1"):
            camera.picture()


@RECORDERS
def test_frames_that_end_too_early_are_said_to(
    record: Callable[[Path, list[Gray]], Path], tmp_path: Path
) -> None:
    path = record(tmp_path, [noise(seed) for seed in range(2)])
    assert refusal(str(path), frames=3) == (
        f"{path}: the recorded frames end after 2; more are needed: record longer"
    )


def test_a_camera_that_is_not_there(capfd: pytest.CaptureFixture[str]) -> None:
    assert refusal(93) == (
        "camera 93 does not answer; plug it in, close other programs that use it, or try another number "
        "(the first camera is 0)"
    )
    assert capfd.readouterr().err == ""


@pytest.mark.parametrize("name", ["none.avi", "none_%03d.png", "junk.avi"])
def test_frames_that_cannot_be_read(name: str, tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "junk.avi").write_bytes(b"no video" * 100)
    assert refusal(str(tmp_path / name)) == (
        f"{tmp_path / name}: no recorded frames can be read there; name a video without loss (FFV1) or "
        "numbered pictures such as f_%03d.png"
    )
    assert capfd.readouterr().err == ""


def test_black_pictures(tmp_path: Path) -> None:
    black = np.zeros((540, 960), np.uint8)
    path = video(tmp_path, [black] * 40)
    assert refusal(str(path), frames=40) == (
        f"{path} gives only black pictures; open its shutter or take its cap off, and let this program use "
        "the camera in the system's settings"
    )


def test_a_camera_may_wake_up_in_the_dark(tmp_path: Path) -> None:
    frames = [np.zeros((540, 960), np.uint8)] * 25 + [noise(1)] + [np.zeros((540, 960), np.uint8)] * 25
    with Camera(str(video(tmp_path, frames))) as camera:
        for _ in frames:
            camera.frame()


def test_small_pictures(tmp_path: Path) -> None:
    path = video(tmp_path, [noise(1, (640, 480))])
    assert refusal(str(path)) == (
        f"{path} gives pictures of 640x480; 960x540 or more are needed: choose a larger picture in its "
        "settings, or take another camera"
    )


class Driver:
    """A camera's driver, which answers with the nearest size it has in the form that is set."""

    def __init__(self, plain: tuple[int, int], packed: tuple[int, int]) -> None:
        self.sizes = {0.0: plain, float(cv2.VideoWriter.fourcc(*"MJPG")): packed}
        self.held: dict[int, float] = {cv2.CAP_PROP_FOURCC: 0.0}

    def get(self, propId: int) -> float:  # noqa: N803
        width, height = self.sizes[self.held[cv2.CAP_PROP_FOURCC]]
        asked = self.held.get(cv2.CAP_PROP_FRAME_WIDTH) == WANTED_PX[0]
        sizes = {
            cv2.CAP_PROP_FRAME_WIDTH: width if asked else 640,
            cv2.CAP_PROP_FRAME_HEIGHT: height if asked else 480,
        }
        return float(sizes.get(propId, self.held.get(propId, 0.0)))

    def set(self, propId: int, value: float) -> bool:  # noqa: N803
        self.held[propId] = float(value)
        return True


@pytest.mark.parametrize(
    ("plain", "packed", "got"),
    [
        ((3840, 2160), (3840, 2160), (3840, 2160)),
        ((1920, 1080), (3840, 2160), (1920, 1080)),
        ((640, 480), (1920, 1080), (1920, 1080)),
        ((1280, 720), (1280, 720), (1280, 720)),
    ],
    ids=["all of it", "large enough without packing", "only packed", "no difference"],
)
def test_the_largest_picture_is_asked_for(
    plain: tuple[int, int], packed: tuple[int, int], got: tuple[int, int]
) -> None:
    driver = Driver(plain, packed)
    assert ask_for_size(driver) == got
    assert (driver.held[cv2.CAP_PROP_FOURCC] != 0) == (got == packed != plain)
    assert driver.held[cv2.CAP_PROP_BUFFERSIZE] == 1
