"""Lines, areas and words in ink on a white page, as pixels: for pictures to look at, not for the table."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
import numpy.typing as npt

from calibration.frames import Array
from projector.lighting.letters import words_outline, words_width
from projector.lighting.strokes import split

FINER: Final = 3  # drawn so many times larger and made smaller: smooth edges at any width
SHIFT: Final = 4  # coordinates to 1/16 of those
WHITE: Final = 255

Rgb = tuple[int, int, int]
Pixels = npt.NDArray[np.uint8]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lines:
    """Open paths (n, 2) in page pixels."""

    paths: Sequence[Array]
    width_px: float
    colour: Rgb


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Filled:
    """Closed contours (n, 2) in page pixels; inside by the even-odd rule, so that a second makes a hole."""

    contours: Sequence[Array]
    colour: Rgb


Ink = Lines | Filled


def words(text: str, left_base_px: tuple[float, float], height_px: float, colour: Rgb) -> Filled:
    """A line of words that begins at a point of its base line; capitals are so high."""
    outline = words_outline(text)
    x, y = left_base_px
    middle = np.array([x + words_width(text) * height_px / 2, y - height_px / 2])
    return Filled(
        contours=split(outline.points * (height_px, -height_px) + middle, outline.ends), colour=colour
    )


def arrow(start_px: Array, end_px: Array, width_px: float, head_px: float, colour: Rgb) -> tuple[Ink, ...]:
    """From one point, (2,), to another, where its tip is; a short one has a small head."""
    along = end_px - start_px
    length = float(np.hypot(*along))
    if length == 0:
        return ()
    forward = along / length
    head = min(head_px, length / 2)
    across = np.array([-forward[1], forward[0]]) * head * 0.4
    neck = end_px - forward * head
    shaft = Lines(paths=[np.array([start_px, neck])], width_px=width_px, colour=colour)
    return (shaft, Filled(contours=[np.array([end_px, neck + across, neck - across])], colour=colour))


def page(size_px: tuple[int, int], inks: Sequence[Ink]) -> Pixels:
    """(h, w, 3) red, green, blue: a white page with the inks on it, later ones on top."""
    width, height = size_px
    fine = np.full((height * FINER, width * FINER, 3), WHITE, np.uint8)
    for ink in inks:
        match ink:
            case Lines():
                # OpenCV draws an even thickness one pixel wider than asked, and an odd one two
                thickness = max(1, 2 * round((ink.width_px * FINER - 1) / 2))
                cv2.polylines(fine, _fine(ink.paths), False, ink.colour, thickness, cv2.LINE_8, SHIFT)
            case Filled():
                cv2.fillPoly(fine, _fine(ink.contours), ink.colour, cv2.LINE_8, SHIFT)
    return np.asarray(cv2.resize(fine, size_px, interpolation=cv2.INTER_AREA), dtype=np.uint8)


def _fine(paths: Sequence[Array]) -> list[npt.NDArray[np.int32]]:
    """Pixel centres are whole numbers on the page and on the larger one."""
    return [np.rint(((path + 0.5) * FINER - 0.5) * 2**SHIFT).astype(np.int32) for path in paths if len(path)]
