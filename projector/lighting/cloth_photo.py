"""The tones of a cloth from a photo in which a part of it lies in a bright window of the projector's light.

One photo shows both, so that whatever the camera makes of the light it makes of both alike.
"""

from typing import Final

import cv2
import numpy as np
import numpy.typing as npt

from calibration.frames import Array
from projector.errors import ProjectorError
from projector.lighting.contrast import ClothTones, relative_luminance
from projector.lighting.look import RAMP

WINDOW: Final = (1 / 3, 1 / 2)  # of the screen's width and height
LEAST_PX: Final = 200  # of the photo's shorter side
LONGEST_PX: Final = 640  # brought down to: the mean of many pixels has no noise
SOFT: Final = 0.04  # of the longer side: a print is blurred away before light and dark part are told
LEAST_PART: Final = 0.06  # of the photo
LEAST_STEP: Final = 1.25  # between the two parts
TONES: Final = np.linspace(5, 95, 19)  # percentiles: what is rarer is a thread or a glint
BURNT: Final = 0.98
DARKEST: Final = 1e-4

Rgb = npt.NDArray[np.uint8]


def window_frame(screen_px: tuple[int, int]) -> Rgb:
    """(h, w, 3) a window of full light in the middle of a dark screen."""
    width, height = screen_px
    frame = np.zeros((height, width, 3), np.uint8)
    half = round(width * WINDOW[0] / 2), round(height * WINDOW[1] / 2)
    middle = width // 2, height // 2
    frame[middle[1] - half[1] : middle[1] + half[1], middle[0] - half[0] : middle[0] + half[0]] = RAMP[-1]
    return frame


def tones_of(photo: Rgb) -> ClothTones:
    """The cloth's tones from (h, w, 3) red, green, blue; ProjectorError where no bright window is told.

    Tones of the lit and the unlit part go together by rank: it is the same cloth.
    """
    luminance = _reduced(photo)
    lit, unlit = _parts(luminance)
    bright, dark = np.percentile(luminance[lit], TONES), np.percentile(luminance[unlit], TONES)
    return ClothTones(unlit=tuple(dark.tolist()), lit=tuple(np.maximum(bright, dark).tolist()))


def is_burnt(tones: ClothTones) -> bool:
    """Whether the lit cloth is as white as the photo can be, so that it may be brighter than it shows."""
    return tones.lit[-1] > BURNT


def _reduced(photo: Rgb) -> Array:
    height, width = photo.shape[:2]
    if min(height, width) < LEAST_PX:
        raise ProjectorError(
            f"the photo has {width}x{height} pixels, and {LEAST_PX} at least are needed each way; "
            "take it nearer, or do not make it smaller"
        )
    scale = min(1.0, LONGEST_PX / max(height, width))
    size = max(1, round(width * scale)), max(1, round(height * scale))
    luminance = relative_luminance(photo).astype(np.float32)
    return np.asarray(cv2.resize(luminance, size, interpolation=cv2.INTER_AREA), dtype=np.float64)


def _parts(luminance: Array) -> tuple[npt.NDArray[np.bool_], npt.NDArray[np.bool_]]:
    """Where the cloth is lit and where it is not, both clear of the window's edge.

    Otsu's threshold (1979) on the logarithm of the blurred luminance.
    """
    sigma = SOFT * max(luminance.shape)
    soft = np.log(np.asarray(cv2.GaussianBlur(luminance, (0, 0), sigma)) + DARKEST)
    span = float(np.ptp(soft))
    levels = np.rint(255 * (soft - soft.min()) / max(span, 1e-9)).astype(np.uint8)
    _, above = cv2.threshold(levels, 0, 1, cv2.THRESH_BINARY | cv2.THRESH_OTSU)
    near = np.ones((2 * round(1.5 * sigma) + 1,) * 2, np.uint8)
    lit = cv2.erode(above, near, borderValue=1) > 0
    unlit = cv2.dilate(above, near, borderValue=0) == 0
    least = LEAST_PART * luminance.size
    if min(lit.sum(), unlit.sum()) < least or soft[lit].mean() - soft[unlit].mean() < np.log(LEAST_STEP):
        raise ProjectorError(
            "found no bright window on the cloth; show the frame of --cloth-frame, darken the room, and take the "
            "photo so that it is filled with cloth, about half of it in the window"
        )
    return lit, unlit
