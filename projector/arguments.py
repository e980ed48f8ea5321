"""What is typed after a verb, as values; a mistake in it is a mistake of usage."""

import re
from argparse import ArgumentTypeError

from projector.lighting.limits import (
    LEAST_LINE_IN,
    LEAST_TEXT_IN,
    LIMIT_WORDS,
    MOST_LINE_IN,
    MOST_TEXT_IN,
)

SIZE = re.compile(r"(\d{1,6})\s*[xX]\s*(\d{1,6})")
LENGTHS = re.compile(r"(?P<first>.+?)\s*[xX]\s*(?P<second>.+)")
TAPE = re.compile(r"(\d)\s*-\s*(\d)\s*=\s*(.+)")
LEAST_PX = (320, 200)
MOST_PX = 16_384
MOST_SHEETS = 7


def pixels(text: str) -> tuple[int, int]:
    """Width and height of a screen.

    >>> pixels("1920x1080")
    (1920, 1080)
    """
    match = SIZE.fullmatch(text.strip())
    if match is None:
        raise ArgumentTypeError(f'"{text}" is not a size in pixels such as 1920x1080')
    width, height = int(match[1]), int(match[2])
    if not (LEAST_PX[0] <= width <= MOST_PX and LEAST_PX[1] <= height <= MOST_PX):
        raise ArgumentTypeError(f"{width}x{height} is not the size of a screen; it is 320x200 to 16384x16384")
    return width, height


def length_in(text: str) -> float:
    """Inches of a length as people write it, such as "1 1/4 in" or 15mm."""
    from patterns.errors import PatternError
    from patterns.measures import inches

    try:
        return inches(text)
    except PatternError as error:
        raise ArgumentTypeError(str(error)) from error


def positive_in(text: str) -> float:
    """Inches of a length that is more than nothing."""
    value = length_in(text)
    if value <= 0:
        raise ArgumentTypeError(f'"{text}" is no length to measure by; it must be more than nothing')
    return value


def line_wide_in(text: str) -> float:
    """Inches that a cut line may be wide."""
    return _within(
        positive_in(text), text, LEAST_LINE_IN, MOST_LINE_IN, f"a line is {LIMIT_WORDS['line']} wide"
    )


def text_high_in(text: str) -> float:
    """Inches that words on the table may be high."""
    return _within(
        positive_in(text), text, LEAST_TEXT_IN, MOST_TEXT_IN, f"words are {LIMIT_WORDS['text']} high"
    )


def _within(value: float, text: str, least: float, most: float, limits: str) -> float:
    if not least <= value <= most:
        raise ArgumentTypeError(f'found "{text}"; {limits}')
    return value


def place_in(text: str) -> tuple[float, float]:
    """x and y in inches, from "x,y"."""
    parts = text.split(",")
    if len(parts) != 2:
        raise ArgumentTypeError(f'"{text}" is not a place such as "4 in, -2 1/2 in"')
    return length_in(parts[0].strip()), length_in(parts[1].strip())


def edge_out(text: str) -> tuple[str, float]:
    """The name of an edge and the inches it is moved out by, from "hem: 1/2 in".

    >>> edge_out("sleeve hem: 1 1/4 in")
    ('sleeve hem', 1.25)
    """
    edge, colon, length = text.rpartition(":")
    if not colon or not edge.strip():
        raise ArgumentTypeError(f'"{text}" is not an edge and a length such as "hem: 1/2 in"')
    return edge.strip(), positive_in(length.strip())


def edge_in(text: str) -> tuple[str, float]:
    """The same for an edge that is moved in: its inches are negative."""
    edge, length = edge_out(text)
    return edge, -length


def lens_in(text: str) -> tuple[float, float, float]:
    """x and y in inches of the point under a lens, and how high above the table it is, from "x,y,height"."""
    parts = text.split(",")
    if len(parts) != 3:
        raise ArgumentTypeError(f'"{text}" is not a place and a height such as "2 in, -30 in, 72 in"')
    return length_in(parts[0].strip()), length_in(parts[1].strip()), positive_in(parts[2].strip())


def area_in(text: str) -> tuple[float, float]:
    """Width and height in inches, from "36x24in" or "90 x 60 cm": a unit at the end counts for both."""
    match = LENGTHS.fullmatch(text.strip())
    if match is None:
        raise ArgumentTypeError(f'"{text}" is not a width and height such as 36x24in')
    unit = re.search(r"[a-z\"]+\.?$", match["second"].strip())
    first = (
        match["first"] if unit is None or re.search(r"[a-z\"]", match["first"]) else match["first"] + unit[0]
    )
    return positive_in(first), positive_in(match["second"])


def tape(text: str) -> tuple[tuple[int, int], float]:
    """Two sheets and the measured inches between their centre crosses, from "1-3=48 1/4 in"."""
    match = TAPE.fullmatch(text.strip())
    if match is None or match[1] == match[2]:
        raise ArgumentTypeError(f'"{text}" is not a measured distance such as "1-3=48 1/4 in"')
    first, second = sorted((int(match[1]), int(match[2])))
    return (first, second), positive_in(match[3])


def sheet_count(text: str) -> int:
    """How many sheets."""
    if not text.isdecimal() or not 1 <= int(text) <= MOST_SHEETS:
        raise ArgumentTypeError(f"found {text}; there are 1 to {MOST_SHEETS} sheets")
    return int(text)


def display_number(text: str) -> int:
    """Which display."""
    if not text.isdecimal():
        raise ArgumentTypeError(f"found {text}; displays are numbered from 0")
    return int(text)


def step_number(text: str) -> int:
    """Which step of a card."""
    if not text.isdecimal() or int(text) < 1:
        raise ArgumentTypeError(f"found {text}; steps are numbered from 1")
    return int(text)


def camera(text: str) -> int | str:
    """The number of a camera, or the path of frames that one has recorded.

    >>> camera("0"), camera("frames/f_%03d.png")
    (0, 'frames/f_%03d.png')
    """
    if text.isdecimal():
        return int(text)
    if not text.strip() or text.lstrip("-").isdecimal():
        raise ArgumentTypeError(f'"{text}" is no camera; they are numbered from 0')
    return text


def turn_deg(text: str) -> float:
    """A finite number of degrees."""
    try:
        value = float(text)
    except ValueError as error:
        raise ArgumentTypeError(f'"{text}" is not a number of degrees') from error
    if not abs(value) <= 360_000:
        raise ArgumentTypeError(f'"{text}" is not a number of degrees that a piece can be turned by')
    return value
