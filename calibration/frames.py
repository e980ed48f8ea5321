"""The frames that points are measured in, as distinct types, so that a swap does not type-check.

All are `float64` arrays of shape (n, 2).

- `TableInches`: on the table. Origin at the centre of sheet 1's page, x right and y up the page.
- `SheetInches`: on one printed sheet. Origin at the centre of its page, x right, y up.
- `ScreenPixels`: on the projector's own pixels. (0, 0) is the centre of the top-left pixel, v down.
- `CameraPixels`: on a photo, with the same convention.
"""

from collections.abc import Sequence
from typing import NewType

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Gray = npt.NDArray[np.uint8]
Levels = Gray | Array  # grey levels, 0 to 255; an average of frames has parts of them

TableInches = NewType("TableInches", Array)
SheetInches = NewType("SheetInches", Array)
ScreenPixels = NewType("ScreenPixels", Array)
CameraPixels = NewType("CameraPixels", Array)

Points = Array | Sequence[Sequence[float]]


def as_points(points: Points) -> Array:
    """The points as a `float64` array of shape (n, 2), each coordinate finite; ValueError otherwise.

    >>> as_points([[1, 2]])
    array([[1., 2.]])
    """
    array = np.asarray(points, dtype=np.float64)
    if array.size == 0:
        return array.reshape(0, 2)
    if array.ndim != 2 or array.shape[1] != 2:
        raise ValueError(f"points must have shape (n, 2), found {array.shape}")
    if not np.isfinite(array).all():
        raise ValueError("points must be finite")
    return array
