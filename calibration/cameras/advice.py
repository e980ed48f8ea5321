"""What to change about a camera or the room before its picture is measured in.

Limits from practice pictures of 1920 x 1080 (simulated): with white at 100 of 255 corners were still within
0.03 px, at 75 they drowned in noise; with a seventh of the white burnt out nothing was lost, with two thirds
no corner was clear; a blur that `edge_blur_px` calls 2.1 took sheets' corners from 0.012 to 0.02 px.
"""

from typing import Final

import cv2
import numpy as np

from calibration.frames import Gray
from calibration.photos.photo_faults import LOOKED_AT_PX, SOFT_PX, edge_blur_px

_WHITE_PERCENTILE, _BLACK_PERCENTILE = 95, 5
_LEAST_WHITE: Final = 90
_LEAST_CONTRAST: Final = 40
_BURNT: Final = 253
_MOST_BURNT: Final = 0.3  # of the brighter half


def advice(frame: Gray) -> str:
    """What is wrong with a frame (h, w) and what to do about it; empty where it will do.

    >>> advice(np.zeros((600, 1000), np.uint8))
    'too dark: white is 0 of 255; raise the exposure, or let the projector shine brighter'
    """
    scale = min(1.0, LOOKED_AT_PX / max(frame.shape))
    size = (round(frame.shape[1] * scale), round(frame.shape[0] * scale))
    small: Gray = np.asarray(cv2.resize(frame, size, interpolation=cv2.INTER_AREA), dtype=np.uint8)
    black, white = np.percentile(small, [_BLACK_PERCENTILE, _WHITE_PERCENTILE])
    if white < _LEAST_WHITE:
        return (
            f"too dark: white is {white:.0f} of 255; raise the exposure, or let the projector shine brighter"
        )
    burnt = float((small[small >= (black + white) / 2] >= _BURNT).mean())
    if burnt > _MOST_BURNT:
        return f"too bright: {burnt:.0%} of the white is burnt out; lower the exposure, or dim the room"
    if white - black < _LEAST_CONTRAST:
        return (
            f"too even: white and black are {white - black:.0f} of 255 apart; dim the room, and let the camera "
            "see the table"
        )
    if edge_blur_px(small, white - black) > SOFT_PX:
        return "blurred: focus the camera on the table, and keep it still"
    return ""
