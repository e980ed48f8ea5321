"""Frames as a webcam records them of the practice table: rendered once without noise, then spoilt as asked."""

from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from pathlib import Path

import cv2
import numpy as np
import numpy.typing as npt

from calibration.frames import Gray
from calibration.practice.shading import GAMMA
from calibration.practice.table import Faults, PracticeTable
from calibration.sheets.sheet import PAPERS, Sheet
from calibration.sheets.targets import Targets

SCREEN_PX = (1920, 1080)
TOP_IN = (80.0, 46.0)
PAPER = PAPERS["letter"]
PAGE_PPI = 150.0
SHEETS = 3
SEED = 5

Light = npt.NDArray[np.float32]


@cache
def targets() -> Targets:
    """As the window shows them, with a row kept dark for words."""
    return Targets(screen_px=SCREEN_PX, sheets=SHEETS, paper=PAPER, dark_rows=1)


@cache
def table() -> PracticeTable:
    """Three sheets under a webcam that neither adds noise nor compresses."""
    made = PracticeTable.random(
        SEED, camera="webcam", sheets=SHEETS, faults=Faults.none(), windows=targets().windows, top_in=TOP_IN
    )
    return replace(made, exposure=replace(made.exposure, shot_noise=0.0, read_noise=0.0, jpeg_quality=None))


@cache
def light(missing: int | None = None) -> Light:
    """What falls on the sensor (h, w), a share of full scale, perhaps with a sheet taken away."""
    return light_in(table() if missing is None else table().without_sheet(missing))


def light_in(world: PracticeTable) -> Light:
    """The same in a world of its own."""
    pages = [Sheet(paper=PAPER, number=number).page(PAGE_PPI) for number in range(1, SHEETS + 1)]
    photo = world.photo(targets().frame(), pages, PAGE_PPI)
    return np.asarray((photo / np.float32(255)) ** GAMMA, dtype=np.float32)


def developed(seen: Light, seed: int, shot_noise: float = 0.018, read_noise: float = 0.00225) -> Gray:
    """A frame of a webcam: noise, gamma, rounding. The noise is that of the practice webcam."""
    rng = np.random.default_rng(seed)
    noise = rng.standard_normal(seen.shape, dtype=np.float32)
    exposed = seen + noise * np.sqrt(read_noise**2 + shot_noise**2 * seen)
    return np.asarray(np.rint(255 * exposed.clip(0, 1) ** (1 / GAMMA)), dtype=np.uint8)


def moved(seen: Light, right_px: float) -> Light:
    """The same from a camera that was pushed."""
    shift = np.array([[1.0, 0.0, right_px], [0.0, 1.0, 0.0]])
    shifted = cv2.warpAffine(
        seen, shift, seen.shape[::-1], flags=cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE
    )
    return np.asarray(shifted.clip(0, 1), dtype=np.float32)


def record_video(path: Path, frames: Iterable[Gray]) -> Path:
    """A video without loss (FFV1)."""
    code = cv2.VideoWriter.fourcc(*"FFV1")
    writer: cv2.VideoWriter | None = None
    for frame in frames:
        if writer is None:
            writer = cv2.VideoWriter(str(path), cv2.CAP_FFMPEG, code, 10.0, frame.shape[::-1], False)
            assert writer.isOpened()
        writer.write(frame)
    assert writer is not None
    writer.release()
    return path


def record_pictures(folder: Path, frames: Iterable[Gray]) -> Path:
    """A numbered sequence of PNG pictures; the path by which it is opened."""
    for number, frame in enumerate(frames):
        cv2.imwrite(str(folder / f"f_{number:03d}.png"), frame, [cv2.IMWRITE_PNG_COMPRESSION, 1])
    return folder / "f_%03d.png"
