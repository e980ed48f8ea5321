"""A drafted piece as an SVG at true size, with everything that is marked on it.

One user unit is an inch and the width and height are given in inches (SVG 2, section 8.8), so that the file
prints at its own size wherever it is opened.
"""

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final
from xml.etree import ElementTree

import numpy as np
import shapely

from patterns.curves import Array
from patterns.drafted import DraftedEdge, DraftedPiece
from patterns.labels import Label
from patterns.marks import Line, LineKind, marks_of
from patterns.measures import in_words
from patterns.parts import Kind
from patterns.placement import Placement

MARGIN_IN: Final = 0.75
FINE_IN, STRONG_IN = 0.015, 0.03
EDGE_WORDS_IN: Final = 0.16  # height of the words beside an edge
EDGE_CLEAR_IN: Final = 0.2  # from the cut line to the middle of words outside it
ROOMY_IN: Final = 0.3  # an allowance that holds the words
LETTER_PART: Final = 0.8  # width of a letter with its space, in parts of its height, in the widest typefaces
PROBE_IN: Final = 0.02
CHECK_IN: Final = 2.0  # side of the square to hold a rule against, once printed
CHECK_ROOM_IN: Final = 0.5
CAP_PART: Final = 0.72  # of a font's size that its capitals are high, for most typefaces
_DECIMALS: Final = 5

_STYLES: Final[Mapping[LineKind, Mapping[str, str]]] = MappingProxyType(
    {
        LineKind.CUT: {"stroke-width": f"{STRONG_IN}"},
        LineKind.SEAM: {"stroke-width": f"{FINE_IN}", "stroke-dasharray": "0.25 0.125"},
        LineKind.FOLD: {"stroke-width": f"{STRONG_IN}", "stroke-dasharray": "0.75 0.125 0.125 0.125"},
        LineKind.CLIP: {"stroke-width": f"{2 * STRONG_IN}"},
        LineKind.CENTRE: {"stroke-width": f"{FINE_IN}", "stroke-dasharray": "0.75 0.125 0.125 0.125"},
    }
)
_PLAIN: Final[Mapping[str, str]] = MappingProxyType({"stroke-width": f"{FINE_IN}"})


def drawing(piece: DraftedPiece, pattern_name: str) -> str:
    """The SVG of a piece as it is drafted: half of one that is cut on the fold."""
    marks = marks_of(piece, Placement())
    svg, low, high = _page(np.concatenate([line.points for line in marks.lines]) * (1, -1))
    svg.append(_element("title", text=f"{pattern_name}: {piece.name}"))
    lines = _group(svg, "lines", {"fill": "none", "stroke": "black", "stroke-linejoin": "round"})
    for line in marks.lines:
        lines.append(_path(line))
    words = _group(svg, "words", {"fill": "#555", "font-family": "sans-serif", "text-anchor": "middle"})
    for label in marks.labels:
        words.append(_words(label))
    for edge in piece.edges.values():
        words.append(_words(_edge_label(piece, edge)))
    _append_check(svg, (low[0] + MARGIN_IN, high[1] - MARGIN_IN - CHECK_IN))
    return ElementTree.tostring(svg, encoding="unicode", xml_declaration=True) + "\n"


def _page(points: Array) -> tuple[ElementTree.Element, Array, Array]:
    """An SVG of the points' size and room for the square below, with its two far corners."""
    room = (0.0, CHECK_IN + CHECK_ROOM_IN)
    low, high = points.min(axis=0) - MARGIN_IN, points.max(axis=0) + MARGIN_IN + room
    high[0] = max(high[0], low[0] + CHECK_IN + 2 * MARGIN_IN)
    width, height = high - low
    svg = _element(
        "svg",
        xmlns="http://www.w3.org/2000/svg",
        width=f"{_number(width)}in",
        height=f"{_number(height)}in",
        viewBox=" ".join(_number(value) for value in (*low, width, height)),
    )
    return svg, low, high


def _path(line: Line) -> ElementTree.Element:
    steps = " L ".join(f"{_number(x)} {_number(-y)}" for x, y in line.points)
    close = " Z" if line.closed else ""
    kind = {"class": line.kind.value.replace(" ", "-"), "d": f"M {steps}{close}"}
    return _element("path", **kind, **_STYLES.get(line.kind, _PLAIN))


def _words(label: Label) -> ElementTree.Element:
    x, y = label.at * (1, -1)
    turn = -math.degrees(math.atan2(label.along[1], label.along[0]))
    placed = f"translate({_number(x)} {_number(y)}) rotate({_number(turn)})"
    size = label.height_in / CAP_PART
    below = _number(label.height_in / 2)
    return _element("text", text=label.text, transform=placed, y=below, **{"font-size": _number(size)})


def _edge_label(piece: DraftedPiece, edge: DraftedEdge) -> Label:
    """The edge's name, length and allowance along its middle: in the allowance, or outside a narrow one."""
    middle, along = (given(edge.length_in / 2) for given in (edge.curve.point_at, edge.curve.tangent_at))
    along = along if along[0] > 1e-9 or (abs(along[0]) <= 1e-9 and along[1] < 0) else -along
    room = edge.allowance_in
    away = room / 2 if room >= ROOMY_IN else room + EDGE_CLEAR_IN
    told = "fold" if edge.kind is Kind.FOLD else f"allowance {in_words(room)}"
    text = f"{edge.name}, {in_words(edge.length_in)}, {told}"
    return Label(
        text=text,
        at=(middle + _outward(piece, middle, along) * away) * (1, -1),
        height_in=min(EDGE_WORDS_IN, edge.length_in / (LETTER_PART * len(text))),
        along=along * (1, -1),
    )


def _outward(piece: DraftedPiece, place: Array, along: Array) -> Array:
    """(2,) unit direction off the piece, square to `along`, at a place on its seam line."""
    square = np.array([-along[1], along[0]])
    inside = shapely.Polygon(piece.seam_line).contains(shapely.Point(place + square * PROBE_IN))
    return -square if inside else square


def _append_check(svg: ElementTree.Element, corner: tuple[float, float]) -> None:
    x, y = corner
    check = _group(svg, "check", {"fill": "none", "stroke": "black", "stroke-width": f"{FINE_IN}"})
    side = _number(CHECK_IN)
    check.append(_element("rect", x=_number(x), y=_number(y), width=side, height=side))
    middle = _number(x + CHECK_IN / 2)
    said = {"font-size": "0.2", "font-family": "sans-serif", "text-anchor": "middle", "stroke": "none"}
    svg.append(_element("text", text=f"{in_words(CHECK_IN)} square", x=middle, y=_number(y + 1.07), **said))


def _group(parent: ElementTree.Element, name: str, style: Mapping[str, str]) -> ElementTree.Element:
    group = _element("g", id=name, **style)
    parent.append(group)
    return group


def _element(tag: str, text: str | None = None, **attributes: str) -> ElementTree.Element:
    element = ElementTree.Element(tag, attributes)
    element.text = text
    return element


def _number(value: float) -> str:
    return f"{value:.{_DECIMALS}f}".rstrip("0").rstrip(".") or "0"
