"""Drawing in SVG at true size: one user unit is an inch, and width and height are given in inches.

SVG 2, section 8.8: so a file prints at its own size wherever it is opened.
"""

import math
from collections.abc import Mapping
from typing import Final
from xml.etree import ElementTree

from patterns.curves import Array
from patterns.cutting.labels import Label

Element = ElementTree.Element
FINE_IN, STRONG_IN = 0.015, 0.03
CAP_PART: Final = 0.72  # of a font's size that its capitals are high, for most typefaces
LETTER_PART: Final = 0.8  # width of a letter with its space, in parts of its height, in the widest typefaces
LINES: Final[Mapping[str, str]] = {"fill": "none", "stroke": "black", "stroke-linejoin": "round"}
WORDS: Final[Mapping[str, str]] = {"fill": "#555", "font-family": "sans-serif", "text-anchor": "middle"}
_DECIMALS: Final = 5


def page(low: Array, high: Array, title: str) -> Element:
    """A drawing from corner to corner, (2,) inches each, y down."""
    width, height = high - low
    svg = element(
        "svg",
        xmlns="http://www.w3.org/2000/svg",
        width=f"{number(width)}in",
        height=f"{number(height)}in",
        viewBox=" ".join(number(value) for value in (*low, width, height)),
    )
    svg.append(element("title", text=title))
    return svg


def group(parent: Element, name: str, style: Mapping[str, str]) -> Element:
    """A group within the parent, empty."""
    made = element("g", id=name, **style)
    parent.append(made)
    return made


def path(points: Array, *, closed: bool, **attributes: str) -> Element:
    """A line through (n, 2) inches, y down."""
    steps = " L ".join(f"{number(x)} {number(y)}" for x, y in points)
    return element("path", d=f"M {steps}{' Z' if closed else ''}", **attributes)


def words(label: Label) -> Element:
    """A label of surface inches, y up."""
    x, y = label.at * (1, -1)
    turn = -math.degrees(math.atan2(label.along[1], label.along[0]))
    placed = f"translate({number(x)} {number(y)}) rotate({number(turn)})"
    size, below = number(label.height_in / CAP_PART), number(label.height_in / 2)
    return element("text", text=label.text, transform=placed, y=below, **{"font-size": size})


def element(tag: str, text: str | None = None, **attributes: str) -> Element:
    """One element with its text."""
    made = Element(tag, attributes)
    made.text = text
    return made


def number(value: float) -> str:
    """The value in figures, to a hundred-thousandth."""
    return f"{value:.{_DECIMALS}f}".rstrip("0").rstrip(".") or "0"


def text_of(svg: Element) -> str:
    """The whole file."""
    return ElementTree.tostring(svg, encoding="unicode", xml_declaration=True) + "\n"
