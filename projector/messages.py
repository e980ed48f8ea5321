"""Words in the middle or at the edge of the screen, for when no map of the table can be relied on.

Measured in pixels: without a map nothing is known of inches.
"""

from collections.abc import Sequence
from typing import Final

import numpy as np

from calibration.frames import ScreenPixels
from projector.letters import words_outline, words_width
from projector.strokes import Drawing, Patch

LETTER_SHARE: Final = 1 / 36  # of the screen's height
WIDEST: Final = 0.9  # of the screen's width
SPACING: Final = 1.8


def message_light(
    text: str,
    screen_px: tuple[int, int],
    brightness: float,
    *,
    middle: float = 0.5,
    upside_down: bool = False,
) -> Drawing:
    """The text in lines that fit the screen, about `middle` of the way down it."""
    width, height = screen_px
    letter = height * LETTER_SHARE
    lines = wrapped(text, WIDEST * width / letter)
    tall = letter * SPACING
    first = middle * height - (len(lines) - 1) / 2 * tall
    way = -1.0 if upside_down else 1.0
    drawing = []
    for number, line in enumerate(lines):
        outline = words_outline(line)
        at = np.array([width / 2, first + number * tall])
        if upside_down:
            at = np.array([width / 2, 2 * middle * height - at[1]])
        points = outline.points * (way * letter, -way * letter) + at
        drawing.append(Patch(points=ScreenPixels(points), ends=outline.ends, light=brightness))
    return tuple(part for part in drawing if len(part.points))


def wrapped(text: str, width: float) -> Sequence[str]:
    """The text broken at spaces and line ends into lines of so many letter heights, where words allow."""
    lines: list[str] = []
    for paragraph in text.splitlines():
        line = ""
        for word in paragraph.split(" "):
            longer = f"{line} {word}" if line else word
            if line and words_width(longer) > width:
                lines.append(line)
                line = word
            else:
                line = longer
        lines.append(line)
    return lines
