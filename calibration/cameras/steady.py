"""Frames of a camera that nobody moves, averaged: noise falls with the root of their number."""

from dataclasses import dataclass, replace
from typing import Final, Self

import cv2
import numpy as np
import numpy.typing as npt

from calibration.frames import Array, CameraPixels, Gray

_Sum = npt.NDArray[np.float32]

STILL_PX: Final = 0.15  # half the marks: adds a hundredth to a blur of 0.8 px
_STRAYING_PX: Final = 0.6  # one mark in twenty, where something lies over it or only a part moves
_STRAYING_SHARE: Final = 0.05
_DIMMING: Final = 0.08  # of the mean grey: an exposure that is still settling, a person in the light
_WINDOW_PX: Final = (15, 15)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SteadyFrames:
    """Frames that agree with the `first`: their sum (h, w) and number; `marks_px` (n, 2) are watched."""

    first: Gray
    marks_px: CameraPixels
    total: _Sum
    frames: int

    @classmethod
    def begun(cls, frame: Gray, marks_px: CameraPixels) -> Self:
        """A first frame, and the places in it, rich in contrast, by which others are compared."""
        return cls(first=frame, marks_px=marks_px, total=frame.astype(np.float32), frames=1)

    @property
    def mean(self) -> Array:
        """The average frame, (h, w), in grey levels and parts of them."""
        return self.total.astype(np.float64) / self.frames

    def agrees(self, frame: Gray) -> bool:
        """Whether nothing has moved since the first frame by more than a part of a pixel, nor been covered."""
        if frame.shape != self.first.shape:
            return False
        before, after = float(self.first.mean()), float(frame.mean())
        if abs(after - before) > _DIMMING * before:
            return False
        moved = self._moved_px(frame)
        return bool(np.median(moved) <= STILL_PX and np.quantile(moved, 1 - _STRAYING_SHARE) <= _STRAYING_PX)

    def with_frame(self, frame: Gray) -> Self:
        """One more frame that agrees."""
        return replace(self, total=self.total + frame, frames=self.frames + 1)

    def _moved_px(self, frame: Gray) -> Array:
        """How far each mark has moved (n,); infinite where it is lost. Optical flow after Lucas and Kanade (1981)."""
        before = self.marks_px.astype(np.float32).reshape(-1, 1, 2)
        after, found, _ = cv2.calcOpticalFlowPyrLK(
            self.first, frame, before, before.copy(), winSize=_WINDOW_PX
        )
        moved = np.linalg.norm((after - before).reshape(-1, 2), axis=1)
        return np.where(found.ravel() == 1, moved, np.inf)
