"""Where a cross starts while the map is not known yet: marks fill most of the screen, then follow the first."""

from collections.abc import Sequence
from typing import Final

import cv2
import numpy as np

from calibration.errors import AlignmentError
from calibration.frames import Array
from calibration.hand.marks import HandCross, HandMark
from calibration.solving.joint_model import picture_units

_FILL: Final = 0.8  # of the screen that the marks are guessed to take, before any is placed


def early_guess(
    mark: HandMark, marks: Sequence[HandMark], own: Sequence[HandCross], screen_px: tuple[int, int]
) -> Array:
    """(1, 2) half widths for a mark of sheet 1, all of whose marks are given, from its crosses placed so far.

    Raises AlignmentError where the crosses lie on a line.
    """
    known = np.array([each.at_in for each in marks])
    low, high = known.min(axis=0), known.max(axis=0)
    half_screen = np.array((1.0, screen_px[1] / screen_px[0]))
    zoom = 2 * _FILL * float((half_screen / (high - low)).min())

    def upright(table_in: Array) -> Array:
        return np.asarray((table_in - (low + high) / 2) * (zoom, -zoom), dtype=np.float64)

    guess = upright(np.array([mark.at_in]))
    if not own:
        return guess
    source = upright(np.array([cross.mark.at_in for cross in own]))
    image = picture_units(np.array([cross.at_px for cross in own]), screen_px)
    if len(own) == 1:
        return guess + image - source
    estimate = cv2.estimateAffine2D if len(own) > 2 else cv2.estimateAffinePartial2D
    matrix, _ = estimate(source, image)
    if matrix is None:
        raise AlignmentError("The marks placed lie on one line; undo, and place marks that enclose an area")
    return np.asarray(guess @ matrix[:, :2].T + matrix[:, 2], dtype=np.float64)


def spare_place(sheet: int, screen_px: tuple[int, int]) -> Array:
    """(1, 2) half widths of the middle of a corner of the screen in turn: where a further sheet is likely to lie."""
    width, height = screen_px
    corner = (sheet - 2) % 4
    at = (width * (0.2 if corner in (0, 3) else 0.8), height * (0.25 if corner < 2 else 0.75))
    return picture_units(np.array([at]), screen_px)
