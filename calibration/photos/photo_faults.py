"""What is wrong with a photo in which no mark can be read."""

import math
from collections.abc import Sequence

import cv2
import numpy as np

from calibration.frames import Levels

LOOKED_AT_PX = 1600
_DARK = 45  # grey level that the brightest hundredth stays under
_BURNT = 250
_BURNT_SHARE = 0.5
_LEAST_CONTRAST = 40
SOFT_PX = 2.2  # blur of the sharpest edges; a module of a small mark is little wider


def what_is_wrong(photo: Levels) -> str:
    """A sentence for a photo without marks: too dark, burnt out, blurred, or no sheet in it."""
    scale = min(1.0, LOOKED_AT_PX / max(photo.shape))
    small = np.asarray(
        cv2.resize(photo, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA), dtype=np.uint8
    )
    dark, bright = np.percentile(small, [1, 99])
    if bright < _DARK:
        return f"the photo is too dark: it reaches {bright:.0f} of 255; expose it longer and retake it"
    if (small >= _BURNT).mean() > _BURNT_SHARE:
        return "the photo is burnt out: most of it is plain white; expose it less and retake it"
    soft = edge_blur_px(small, bright - dark) > SOFT_PX and _sharpest_px(small) > SOFT_PX
    if bright - dark >= _LEAST_CONTRAST and soft:
        return "the photo is blurred: nothing in it is sharp; focus on the table, hold still and retake it"
    return "no sheet is seen; lay the printed sheets in the light, get them all into the photo and retake it"


def sheets_are(numbers: Sequence[int]) -> str:
    """Subject and verb of a sentence about sheets.

    >>> sheets_are([2]), sheets_are([2, 3, 5])
    ('sheet 2 is', 'sheets 2, 3 and 5 are')
    """
    *others, last = (str(number) for number in numbers)
    return f"sheets {', '.join(others)} and {last} are" if others else f"sheet {last} is"


def edge_blur_px(photo: Levels, contrast: float) -> float:
    """The Gaussian blur of the steepest edges, were they as high as the photo's contrast."""
    smooth = cv2.GaussianBlur(photo, (0, 0), 1.0).astype(np.float32)
    across, down = (
        cv2.Sobel(smooth, cv2.CV_32F, 1, 0, scale=1 / 8),
        cv2.Sobel(smooth, cv2.CV_32F, 0, 1, scale=1 / 8),
    )
    steepest = float(np.percentile(np.hypot(across, down), 99.9))
    return contrast / (max(steepest, 1e-6) * math.sqrt(2 * math.pi))


def _sharpest_px(photo: Levels) -> float:
    """The Gaussian blur of the steepest edges by how much more blur flattens them, whatever their height."""
    steep = [
        float(
            np.percentile(np.hypot(*np.gradient(cv2.GaussianBlur(photo.astype(np.float32), (0, 0), s))), 99.9)
        )
        for s in (1.0, 2.0)
    ]
    ratio = min(max(steep[0] / max(steep[1], 1e-6), 1.001), 1.999)
    return math.sqrt((4 - ratio**2) / (ratio**2 - 1))
