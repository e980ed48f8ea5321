"""Words in the middle or at the edge of the screen, for when no map of the table can be relied on.

Measured in pixels: without a map nothing is known of inches.
"""

from collections.abc import Sequence
from typing import Final

from calibration.frames import ScreenPixels
from projector.lighting.letters import words_outline, words_width
from projector.lighting.strokes import Drawing, Patch
from projector.words.strip_rows import BETWEEN
from projector.words.unbroken import unbroken

LETTER_SHARE: Final = 1 / 36  # of the screen's height
WIDEST: Final = 0.9  # of the screen's width
SPACING: Final = 1.8
GAP: Final = 2.0  # letter heights between two columns


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
    first = middle * height - (len(lines) - 1) / 2 * letter * SPACING
    drawing = []
    for number, line in enumerate(lines):
        down = first + number * letter * SPACING
        if upside_down:
            down = 2 * middle * height - down
        drawing.append(line_light(line, (width / 2, down), letter, brightness, upside_down))
    return tuple(part for part in drawing if len(part.points))


def columns_light(
    rows: Sequence[tuple[str, str]],
    screen_px: tuple[int, int],
    lights: tuple[float, float],
    *,
    upside_down: bool,
) -> Drawing:
    """Two columns in the middle of the screen, the left one set to the right, each with its own light."""
    width, height = screen_px
    wide = [max(words_width(row[column]) for row in rows) for column in (0, 1)]
    letter = min(height * LETTER_SHARE, WIDEST * width / (wide[0] + GAP + wide[1]))
    axis = (wide[0] - wide[1]) / 2 * letter
    way = -1.0 if upside_down else 1.0
    drawing = []
    for number, (left, right) in enumerate(rows):
        down = way * (number - (len(rows) - 1) / 2) * letter * SPACING
        for text, offset, light in (
            (left, axis - (GAP + words_width(left)) / 2 * letter, lights[0]),
            (right, axis + (GAP + words_width(right)) / 2 * letter, lights[1]),
        ):
            at = (width / 2 + way * offset, height / 2 + down)
            drawing.append(line_light(text, at, letter, light, upside_down))
    return tuple(drawing)


def line_light(
    text: str, at_px: tuple[float, float], letter_px: float, light: float, upside_down: bool
) -> Patch:
    """One line of words about a place, in letters of that height."""
    outline = words_outline(text)
    way = -1.0 if upside_down else 1.0
    points = outline.points * (way * letter_px, -way * letter_px) + at_px
    return Patch(points=ScreenPixels(points), ends=outline.ends, letter_px=letter_px, light=light)


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


def side_by_side(phrases: Sequence[str], width: float) -> list[str]:
    """The phrases in as few lines of so many letter heights as may be; only one that is wider than a line is broken."""
    lines: list[str] = []
    for phrase in phrases:
        longer = f"{lines[-1]}{BETWEEN}{phrase}" if lines else phrase
        if lines and words_width(longer) <= width:
            lines[-1] = longer
        else:
            lines += wrapped(unbroken(phrase), width)
    return lines
