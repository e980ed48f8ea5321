"""Frames of a camera, or recorded by one: both come through OpenCV's own capture call."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from types import TracebackType
from typing import Protocol, Self

# Whatever a driver has to say about a device that is not there, our own sentence says better.
os.environ.setdefault("OPENCV_FFMPEG_LOGLEVEL", "-8")  # AV_LOG_QUIET of libavutil's log.h

import cv2
import numpy as np
import numpy.typing as npt

from calibration.errors import AlignmentError
from calibration.frames import Gray
from calibration.photos.photo import LEAST_PHOTO_PX

Picture = npt.NDArray[np.uint8]

WANTED_PX = (3840, 2160)  # drivers answer with the nearest that the camera has
_ENOUGH_PX = (1920, 1080)
_PACKED = cv2.VideoWriter.fourcc(*"MJPG")  # over USB 2 many cameras have their full size only so
_BLACK = 3  # grey level that no pixel of a switched-off picture passes; a dark room's noise does
_MOST_BLACK = 30  # frames: a second of them, while a camera wakes up


class Capture(Protocol):
    """What is used of `cv2.VideoCapture`."""

    def get(self, propId: int) -> float:  # noqa: N803
        """A property's value."""

    def set(self, propId: int, value: float) -> bool:  # noqa: N803
        """Ask for a value; whether the driver took note."""


class Camera:
    """An open camera by its number, or recorded frames by their path, to be closed after use.

    A path is a video without loss, such as FFV1, or a numbered sequence of pictures, such as `f_%03d.png`.
    Raises AlignmentError where nothing answers.
    """

    def __init__(self, source: int | str) -> None:
        self.name = f"camera {source}" if isinstance(source, int) else str(source)
        self._recorded = isinstance(source, str)
        self._frames = 0
        self._black = 0
        with _quietly():
            self._capture = cv2.VideoCapture(source)
        if not self._capture.isOpened():
            raise AlignmentError(self._silence())
        if not self._recorded:
            ask_for_size(self._capture)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._capture.release()

    def frame(self) -> Gray:
        """The next frame as grey values (h, w); waits for it.

        Raises AlignmentError where none comes, where all are black, or where they are too small to read.
        """
        frame = self._next()
        grey = cv2.cvtColor(frame, cv2.COLOR_BGR2GRAY) if frame.ndim == 3 else frame
        return self._checked(np.asarray(grey, np.uint8))

    def picture(self) -> Picture:
        """The next frame in red, green and blue (h, w, 3); waits for it, and raises as `frame` does."""
        frame = self._next()
        of_grey = cv2.COLOR_GRAY2RGB if frame.ndim == 2 else cv2.COLOR_BGR2RGB
        colours = np.asarray(cv2.cvtColor(frame, of_grey), np.uint8)
        self._checked(np.asarray(cv2.cvtColor(colours, cv2.COLOR_RGB2GRAY), np.uint8))
        return colours

    def _next(self) -> Picture:
        taken, frame = self._capture.read()
        if not taken or frame is None:
            raise AlignmentError(self._stopped() if self._frames else self._silence())
        self._frames += 1
        return np.asarray(frame, np.uint8)

    def _checked(self, grey: Gray) -> Gray:
        self._check_size(grey)
        self._check_black(grey)
        return grey

    def _check_size(self, grey: Gray) -> None:
        height, width = grey.shape
        if max(width, height) < LEAST_PHOTO_PX[0] or min(width, height) < LEAST_PHOTO_PX[1]:
            raise AlignmentError(
                f"{self.name} gives pictures of {width}x{height}; {LEAST_PHOTO_PX[0]}x{LEAST_PHOTO_PX[1]} or "
                "more are needed: choose a larger picture in its settings, or take another camera"
            )

    def _check_black(self, grey: Gray) -> None:
        self._black = self._black + 1 if grey.max() <= _BLACK else 0
        if self._black >= _MOST_BLACK:
            raise AlignmentError(
                f"{self.name} gives only black pictures; open its shutter or take its cap off, and let this "
                "program use the camera in the system's settings"
            )

    def _silence(self) -> str:
        if self._recorded:
            return (
                f"{self.name}: no recorded frames can be read there; name a video without loss (FFV1) or "
                "numbered pictures such as f_%03d.png"
            )
        return (
            f"{self.name} does not answer; plug it in, close other programs that use it, or try another "
            "number (the first camera is 0)"
        )

    def _stopped(self) -> str:
        if self._recorded:
            return (
                f"{self.name}: the recorded frames end after {self._frames}; more are needed: record longer"
            )
        return f"{self.name} stopped after {self._frames} frames; check its cable, plug it in again and start anew"


def ask_for_size(capture: Capture) -> tuple[int, int]:
    """Set the largest picture (width, height) that the camera has, up to `WANTED_PX`, and only fresh ones."""
    capture.set(cv2.CAP_PROP_BUFFERSIZE, 1)
    size = _asked(capture)
    if size[0] < _ENOUGH_PX[0] or size[1] < _ENOUGH_PX[1]:
        plain = capture.get(cv2.CAP_PROP_FOURCC)
        capture.set(cv2.CAP_PROP_FOURCC, _PACKED)
        packed = _asked(capture)
        if packed[0] * packed[1] > size[0] * size[1]:
            return packed
        capture.set(cv2.CAP_PROP_FOURCC, plain)
        size = _asked(capture)
    return size


def _asked(capture: Capture) -> tuple[int, int]:
    capture.set(cv2.CAP_PROP_FRAME_WIDTH, WANTED_PX[0])
    capture.set(cv2.CAP_PROP_FRAME_HEIGHT, WANTED_PX[1])
    return round(capture.get(cv2.CAP_PROP_FRAME_WIDTH)), round(capture.get(cv2.CAP_PROP_FRAME_HEIGHT))


@contextmanager
def _quietly() -> Iterator[None]:
    """OpenCV's own log is still within."""
    level = cv2.utils.logging.getLogLevel()
    cv2.utils.logging.setLogLevel(cv2.utils.logging.LOG_LEVEL_SILENT)
    try:
        yield
    finally:
        cv2.utils.logging.setLogLevel(level)
