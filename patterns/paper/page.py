"""A page of lines, areas and words: the same values are written as SVG here and as pixels for a picture.

Page inches: x to the right, y **up**, from the page's top left corner, so that all of the page has y below 0.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from patterns.curves import Array
from patterns.cutting.labels import Label
from patterns.paper import svg

BLACK: Final = 0.0
QUIET: Final = 0.33
FAINT: Final = 0.62
WHITE: Final = 1.0
_DOWN: Final = (1.0, -1.0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PageLines:
    """Paths, (n, 2) page inches each; `shade` from 0 black to 1 white; `dash_in` alternates drawn and left out."""

    paths: Sequence[Array]
    width_in: float
    shade: float = BLACK
    dash_in: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PageArea:
    """The inside of a closed outline, (n, 2) page inches."""

    outline: Array
    shade: float = WHITE


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PageWords:
    """A label in page inches, about its place or, where it `starts_there`, from it on."""

    label: Label
    shade: float = BLACK
    starts_there: bool = False


PageItem = PageLines | PageArea | PageWords


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Page:
    """Later items lie on top."""

    title: str
    size_in: tuple[float, float]
    items: tuple[PageItem, ...]


def level(text: str, at: tuple[float, float], height_in: float) -> Label:
    """A label that is read from left to right; the middle of its height is at the place."""
    return Label(text=text, at=np.array(at), height_in=height_in, along=np.array([1.0, 0.0]))


def page_svg(page: Page) -> str:
    """The whole file, at true size."""
    drawn = svg.page(np.zeros(2), np.array(page.size_in), page.title)
    for item in page.items:
        match item:
            case PageLines():
                _append_lines(drawn, item)
            case PageArea():
                drawn.append(
                    svg.path(item.outline * _DOWN, closed=True, fill=_grey(item.shade), stroke="none")
                )
            case PageWords():
                anchor = "start" if item.starts_there else "middle"
                text = svg.words(item.label)
                style = {"fill": _grey(item.shade), "stroke": "none", "text-anchor": anchor}
                text.attrib.update({**svg.WORDS, **style})
                drawn.append(text)
    return svg.text_of(drawn)


def _append_lines(drawn: svg.Element, lines: PageLines) -> None:
    style = {**svg.LINES, "stroke": _grey(lines.shade), "stroke-width": svg.number(lines.width_in)}
    if lines.dash_in:
        style["stroke-dasharray"] = " ".join(svg.number(length) for length in lines.dash_in)
    for path in lines.paths:
        drawn.append(svg.path(path * _DOWN, closed=False, **style))


def _grey(shade: float) -> str:
    level_of_255 = round(255 * shade)
    return f"#{level_of_255:02x}{level_of_255:02x}{level_of_255:02x}"
