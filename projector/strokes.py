"""What the canvas draws: lines and letters in projector pixels.

Many short paths are held as one array of points and where each path ends, because a call for each dash
would cost more than the drawing.
"""

from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from calibration.frames import Array, ScreenPixels

N = TypeVar("N", bound=np.generic)
Ends = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stroke:
    """Open paths of one width and one brightness; `light` is linear, 0 dark to 1 brightest.

    `ends` has the index past the last point of each path in `points`.
    """

    points: ScreenPixels
    ends: Ends
    width_px: float
    light: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Patch:
    """Filled letters with their holes (inside by the even-odd rule); arrays and `light` as for a stroke."""

    points: ScreenPixels
    ends: Ends
    letter_px: float
    light: float


Drawing = tuple[Stroke | Patch, ...]


def split(points: npt.NDArray[N], ends: Ends) -> list[npt.NDArray[N]]:
    """Each path's own points, as views."""
    return [points[a:b] for a, b in zip([0, *ends[:-1].tolist()], ends.tolist(), strict=True)]


def joined(paths: list[Array]) -> tuple[Array, Ends]:
    """Inverse of `split`."""
    if not paths:
        return np.zeros((0, 2)), np.zeros(0, np.intp)
    return np.concatenate(paths), np.cumsum([len(path) for path in paths])
