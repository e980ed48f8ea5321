"""Room for words on the table: within the light, clear of what lies there, as near to the person as may be."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import Final

import cv2
import numpy as np
import numpy.typing as npt

from calibration.frames import Array

CELL_IN: Final = 0.25
ROUNDING: Final = 1  # a cell that is only touched counts as taken

Box = tuple[float, float, float, float]  # left, near, right, far: inches to the right and away


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FreeRoom:
    """`sums` has how many cells are taken to the left of and nearer than each crossing of the cells' lines."""

    low_in: Array
    sums: npt.NDArray[np.int32]

    def nearest(self, width_in: float, height_in: float, across_in: float) -> tuple[float, float] | None:
        """Left and near end of the free box of that size that is nearest; of those, whose middle is at `across_in`.

        None where there is no such box.
        """
        columns, rows = ceil(width_in / CELL_IN) + ROUNDING, ceil(height_in / CELL_IN) + ROUNDING
        if rows >= len(self.sums) or columns >= len(self.sums[0]):
            return None
        sums = self.sums
        within = (
            sums[rows:, columns:] - sums[rows:, :-columns] - sums[:-rows, columns:] + sums[:-rows, :-columns]
        )
        free = within == 0
        by_row = free.any(axis=1)
        if not by_row.any():
            return None
        row = int(by_row.argmax())
        lefts = self.low_in[0] + CELL_IN * (np.flatnonzero(free[row]) + ROUNDING / 2)
        left = lefts[np.abs(lefts + width_in / 2 - across_in).argmin()]
        return float(left), float(self.low_in[1] + CELL_IN * (row + ROUNDING / 2))


def room_within(
    border: Array, edge_in: float, areas: Sequence[Array], lines: Sequence[Array], clear_in: float
) -> FreeRoom:
    """What a border, (n, 2) as the person sees it, leaves free of closed areas and of lines.

    Words keep `edge_in` from the border, and `clear_in` from the rest.
    """
    low = border.min(axis=0) - CELL_IN
    columns, rows = (int(n) for n in np.ceil((border.max(axis=0) + CELL_IN - low) / CELL_IN))
    taken = np.zeros((rows, columns), np.uint8)
    for area in areas:
        cv2.fillPoly(taken, [_cells(area, low)], 1)
    for line in lines:
        cv2.polylines(taken, [_cells(line, low)], False, 1)
    taken = np.asarray(cv2.dilate(taken, _within(clear_in)), dtype=np.uint8)
    beyond = np.ones_like(taken)
    cv2.fillPoly(beyond, [_cells(border, low)], 0)
    beyond = np.asarray(cv2.dilate(beyond, _within(edge_in), borderValue=1), dtype=np.uint8)
    sums = np.asarray(cv2.integral(np.maximum(taken, beyond)), dtype=np.int32)
    return FreeRoom(low_in=low, sums=sums)


def boxed(box: Box) -> Array:
    """(4, 2) corners of a box."""
    left, near, right, far = box
    return np.array([(left, near), (right, near), (right, far), (left, far)])


def _cells(points: Array, low: Array) -> npt.NDArray[np.int32]:
    """The cells that points lie in; far ones are drawn in, since OpenCV errs far outside."""
    cells: npt.NDArray[np.int32] = np.floor((np.clip(points, low - 200, low + 500) - low) / CELL_IN).astype(
        np.int32
    )
    return cells


def _within(distance_in: float) -> npt.NDArray[np.uint8]:
    """All cells so near that some point of theirs may be."""
    return np.ones((2 * (ceil(distance_in / CELL_IN) + ROUNDING) + 1,) * 2, np.uint8)
