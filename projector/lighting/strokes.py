"""What the canvas draws: lines, letters and still pictures in projector pixels.

Many short paths are held as one array of points and where each path ends, because a call for each dash
would cost more than the drawing.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from calibration.frames import Array, Gray, ScreenPixels

N = TypeVar("N", bound=np.generic)
Ends = npt.NDArray[np.intp]
Plane = npt.NDArray[np.complex128]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stroke:
    """Open paths of one width and one brightness; `light` is linear, 0 dark to 1 brightest.

    `ends` has the index past the last point of each path in `points`; the middle `core_px` of the width stay dark.
    `light` says which part gives way to which, and `gain` times as much of it is shown.
    """

    points: ScreenPixels
    ends: Ends
    width_px: float
    light: float
    core_px: float = 0.0
    gain: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Patch:
    """Filled letters with their holes (inside by the even-odd rule); arrays and lights as for a stroke."""

    points: ScreenPixels
    ends: Ends
    letter_px: float
    light: float
    gain: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Picture:
    """Linear light (h, w), 0 to 255, shown pixel by pixel from the screen's top left pixel on."""

    pixels: Gray

    @property
    def points(self) -> ScreenPixels:
        """(2, 2) centres of its first and its last pixel."""
        height, width = self.pixels.shape
        return ScreenPixels(np.array([(0.0, 0.0), (width - 1.0, height - 1.0)]))


Drawing = tuple[Stroke | Patch | Picture, ...]


def in_gain(drawing: Drawing, gain_of: Callable[[float], float]) -> Drawing:
    """The drawing with lines and letters shown in so many times their light; a picture stays as it is."""
    return tuple(
        part if isinstance(part, Picture) else replace(part, gain=gain_of(part.light)) for part in drawing
    )


def in_plane(points: Array) -> Plane:
    """(n,) points (n, 2) as complex numbers, x + iy: numpy is several times slower along rows of two."""
    return np.ascontiguousarray(points, np.float64).view(np.complex128)[:, 0]


def in_rows(points: Plane) -> Array:
    """Inverse of `in_plane`."""
    return np.ascontiguousarray(points).view(np.float64).reshape(-1, 2)


def split(points: npt.NDArray[N], ends: Ends) -> list[npt.NDArray[N]]:
    """Each path's own points, as views."""
    return [points[a:b] for a, b in zip([0, *ends[:-1].tolist()], ends.tolist(), strict=True)]


def joined(paths: Sequence[Array]) -> tuple[Array, Ends]:
    """Inverse of `split`."""
    if not paths:
        return np.zeros((0, 2)), np.zeros(0, np.intp)
    return np.concatenate(paths), np.cumsum([len(path) for path in paths])
