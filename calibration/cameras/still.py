"""One picture of what lies still before a camera: frames in which nothing moves, averaged."""

from collections.abc import Callable
from typing import Final, Protocol

import cv2
import numpy as np
import numpy.typing as npt

from calibration.cameras.advice import advice
from calibration.cameras.steady import SteadyFrames
from calibration.cameras.watch import FRAMES, MOVED
from calibration.errors import AlignmentError
from calibration.frames import CameraPixels, Gray

Picture = npt.NDArray[np.uint8]

PATIENCE: Final = 300  # frames: ten seconds of most cameras
_MOST_MARKS: Final = 200
_LEAST_MARKS: Final = 20
_MARK_QUALITY: Final = 0.02
_MARKS_APART_PX: Final = 20.0


class Pictures(Protocol):
    """Where pictures come from."""

    def picture(self) -> Picture:
        """The next one, (h, w, 3); waits for it, and raises AlignmentError where none comes."""


def still_picture(camera: Pictures, say: Callable[[str], None]) -> Picture:
    """The average (h, w, 3) of FRAMES pictures, one after the other, that show the same; `say` is told of the rest.

    Raises AlignmentError where the camera shows nothing still and well lit in PATIENCE pictures.
    """
    still: SteadyFrames | None = None
    total = np.zeros(())
    trouble = MOVED
    for _ in range(PATIENCE):
        picture = camera.picture()
        grey = np.asarray(cv2.cvtColor(picture, cv2.COLOR_RGB2GRAY), dtype=np.uint8)
        if still is not None and still.agrees(grey):
            still, total = still.with_frame(grey), total + picture
            say(f"{still.frames} of {FRAMES} pictures taken")
        else:
            still, trouble = _begun(grey, moved=still is not None)
            total = picture.astype(np.float64)
            if trouble:
                say(trouble)
        if still is not None and still.frames == FRAMES:
            return np.rint(total / FRAMES).astype(np.uint8)
    raise AlignmentError(
        f"the camera showed nothing still and clear in {PATIENCE} pictures ({trouble or MOVED}); see to that, and "
        "trace again"
    )


def _begun(grey: Gray, *, moved: bool) -> tuple[SteadyFrames | None, str]:
    """The first of the frames to average, none where it will not do, and what is wrong."""
    marks = cv2.goodFeaturesToTrack(grey, _MOST_MARKS, _MARK_QUALITY, _MARKS_APART_PX)
    trouble = advice(grey)
    if marks is None or len(marks) < _LEAST_MARKS:
        trouble = trouble or "too little to see: let the camera see the table"
    if trouble:
        return None, trouble
    begun = SteadyFrames.begun(grey, CameraPixels(np.asarray(marks, dtype=np.float64).reshape(-1, 2)))
    return begun, MOVED if moved else ""
