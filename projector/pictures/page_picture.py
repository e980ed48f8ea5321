"""A page as pixels, in the letters that the light has too."""

from collections.abc import Iterator
from typing import Final

import numpy as np

from calibration.frames import Array
from patterns.paper.page import Page, PageArea, PageItem, PageLines, PageWords
from projector.lighting.dashes import dashed
from projector.lighting.ink import Filled, Ink, Lines, Pixels, Rgb, page
from projector.lighting.letters import words_outline, words_width
from projector.lighting.strokes import joined, split

WALL_PPI: Final = 200.0  # small words are still plain in print


def page_pixels(drawn: Page, ppi: float = WALL_PPI) -> Pixels:
    """(h, w, 3) red, green, blue, so many pixels an inch of the page."""
    width, height = (round(side * ppi) for side in drawn.size_in)
    return page((width, height), [ink for item in drawn.items for ink in _inks(item, ppi)])


def _inks(item: PageItem, ppi: float) -> Iterator[Ink]:
    match item:
        case PageLines():
            paths = split(*dashed(*joined(item.paths), item.dash_in)) if item.dash_in else item.paths
            yield Lines(
                paths=[_pixels(path, ppi) for path in paths],
                width_px=item.width_in * ppi,
                colour=_grey(item.shade),
            )
        case PageArea():
            yield Filled(contours=[_pixels(item.outline, ppi)], colour=_grey(item.shade))
        case PageWords():
            yield _written(item, ppi)


def _written(words: PageWords, ppi: float) -> Filled:
    label = words.label
    outline = words_outline(label.text)
    right, up = label.height_in * label.along
    start = label.along * words_width(label.text) * label.height_in / 2 if words.starts_there else np.zeros(2)
    points = outline.points @ np.array([[right, up], [-up, right]]) + label.at + start
    contours = split(_pixels(points, ppi), outline.ends)
    return Filled(contours=contours, colour=_grey(words.shade))


def _pixels(points_in: Array, ppi: float) -> Array:
    pixels: Array = np.asarray(points_in) * (ppi, -ppi)
    return pixels


def _grey(shade: float) -> Rgb:
    level = round(255 * shade)
    return (level, level, level)
