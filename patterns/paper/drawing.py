"""A drafted piece as an SVG at true size, with everything that is marked on it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import product
from types import MappingProxyType
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array
from patterns.cutting.drafted import DraftedEdge, DraftedPiece
from patterns.cutting.labels import LINE_PART, Label, labels_of
from patterns.cutting.marks import LineKind, lines_of
from patterns.cutting.placement import Placement
from patterns.measures import Unit
from patterns.paper import svg
from patterns.paper.svg import FINE_IN, STRONG_IN
from patterns.parts import Kind
from patterns.saying import Say

MARGIN_IN: Final = 0.75
EDGE_WORDS_IN: Final = 0.16  # height of the words beside an edge
EDGE_WORDS_PARTS: Final = (1.0, 0.75, 0.5)  # of that, where other words leave no room for more
EDGE_CLEAR_IN: Final = 0.2  # from the cut line to the middle of words outside it
ROOMY_IN: Final = 0.3  # an allowance that holds the words
PROBE_IN: Final = 0.02
NAME_IN: Final = 0.75  # height of a piece's name, at most
RIGHT_SIDE: Final = "right side up"
CHECKS_IN: Final = {
    Unit.IN: 2.0,
    Unit.CM: 5 / 2.54,
    Unit.MM: 50 / 25.4,
}  # a square to hold a rule against, printed
CHECK_ROOM_IN: Final = 0.5

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


def drawing(piece: DraftedPiece, pattern_name: str, unit: Unit) -> str:
    """The SVG of a piece as it is drafted, half of one that is cut on the fold; lengths are said in `unit`."""
    say, check_in = Say(unit), CHECKS_IN[unit]
    marked = lines_of(piece, Placement())
    low, high = _corners(np.concatenate([line.points for line in marked]) * (1, -1), check_in)
    page = svg.page(low, high, f"{pattern_name}: {piece.name}")
    lines = svg.group(page, "lines", svg.LINES)
    for line in marked:
        style = {"class": line.kind.value.replace(" ", "-"), **_STYLES.get(line.kind, _PLAIN)}
        lines.append(svg.path(line.points * (1, -1), closed=line.closed, **style))
    words = svg.group(page, "words", svg.WORDS)
    here = Placement()
    told = piece_words(piece, here, pattern_name)
    for label in (*told, *edge_words(piece, here, say, told)):
        words.append(svg.words(label))
    _append_check(page, (low[0] + MARGIN_IN, high[1] - MARGIN_IN - check_in), check_in, say)
    return svg.text_of(page)


def piece_words(piece: DraftedPiece, placement: Placement, pattern_name: str) -> tuple[Label, ...]:
    """What a piece is, as it is placed on paper.

    One that lies opened out is not said to be cut on the fold, or it would be cut twice as wide.
    """
    labels = labels_of(piece, placement)
    if placement.opened and piece.fold is not None:
        once = replace(piece.cut, on_fold=False).words
        labels = tuple(
            replace(label, text=once) if label.text == piece.cut.words else label for label in labels
        )
    return tuple(_for_paper(labels, pattern_name))


def edge_words(
    piece: DraftedPiece, placement: Placement, say: Say, off: Sequence[Label]
) -> tuple[Label, ...]:
    """Along each edge which that is, off other words; there is no fold in a piece that lies opened out."""
    labels = list(off)
    for edge in piece.edges.values():
        if edge.kind is not Kind.FOLD or not placement.opened:
            labels.append(_edge_label(piece, edge, placement, say, labels))
    return tuple(labels[len(off) :])


def _corners(points: Array, check_in: float) -> tuple[Array, Array]:
    """Two far corners of a page with the points, and room for the square below."""
    room = (0.0, check_in + CHECK_ROOM_IN)
    low, high = points.min(axis=0) - MARGIN_IN, points.max(axis=0) + MARGIN_IN + room
    high[0] = max(high[0], low[0] + check_in + 2 * MARGIN_IN)
    return low, high


def _for_paper(labels: Sequence[Label], pattern_name: str) -> Iterator[Label]:
    """The words on a piece with its pattern's name, in the room that they have, no larger than paper needs.

    Light is read from across the table: words as large as that would hide what is written along the edges.
    """
    first, last = labels[0], labels[-1]
    widest = max(len(label.text) * label.height_in for label in labels)
    down, at, block = np.array([first.along[1], -first.along[0]]), last.at, list(labels)
    for text in (pattern_name, RIGHT_SIDE):
        height = min(last.height_in, widest / len(text))
        at = at + down * LINE_PART * (block[-1].height_in + height) / 2
        block.append(Label(text=text, at=at, height_in=height, along=first.along))
    deep, deeper = (float((ends[-1].at - ends[0].at) @ down) for ends in (labels, block))
    scale = min(NAME_IN / first.height_in, (deep + last.height_in) / (deeper + last.height_in))
    middle, now = ((ends[0].at + ends[-1].at) / 2 for ends in (labels, block))
    for label in block:
        yield replace(label, at=middle + (label.at - now) * scale, height_in=label.height_in * scale)


def _edge_label(
    piece: DraftedPiece, edge: DraftedEdge, placement: Placement, say: Say, off: Sequence[Label]
) -> Label:
    """The edge's name, length and allowance along its middle, or as near as it is off other words.

    They lie in the allowance, or outside one that is narrow or full of other words.
    """
    outside = edge.allowance_in + EDGE_CLEAR_IN
    aways = (edge.allowance_in / 2, outside) if edge.allowance_in >= ROOMY_IN else (outside,)
    told = "fold" if edge.kind is Kind.FOLD else f"allowance {say.allowance(edge.allowance_in)}"
    text = f"{edge.name}, {say(edge.length_in)}, {told}"
    largest = min(EDGE_WORDS_IN, edge.length_in / (svg.LETTER_PART * len(text)))
    taken = shapely.union_all([_box(label) for label in off])
    for away, height in product(aways, (largest * part for part in EDGE_WORDS_PARTS)):
        half = svg.LETTER_PART * len(text) * height / 2
        for at_in in (edge.length_in / 2, half, edge.length_in - half):
            label = _beside(piece, edge, placement, at_in, away, text, height)
            if not _box(label).intersects(taken):
                return label
    return _beside(piece, edge, placement, edge.length_in / 2, aways[0], text, largest)


def _beside(
    piece: DraftedPiece,
    edge: DraftedEdge,
    placement: Placement,
    at_in: float,
    away_in: float,
    text: str,
    height_in: float,
) -> Label:
    """The words along the edge, their middle at a length on it and so far off it."""
    middle, along = (given(at_in) for given in (edge.curve.point_at, edge.curve.tangent_at))
    along = along if along[0] > 1e-9 or (abs(along[0]) <= 1e-9 and along[1] < 0) else -along
    return Label(
        text=text,
        at=placement.placed((middle + _outward(piece, middle, along) * away_in)[None])[0],
        height_in=height_in,
        along=placement.direction(along),
    )


def _box(label: Label) -> shapely.Polygon:
    """What the words take up, in the widest typefaces."""
    along = label.along * svg.LETTER_PART * len(label.text) * label.height_in / 2
    up = np.array([-label.along[1], label.along[0]]) * label.height_in / 2
    return shapely.Polygon([label.at + a * along + b * up for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))])


def _outward(piece: DraftedPiece, place: Array, along: Array) -> Array:
    """(2,) unit direction off the piece, square to `along`, at a place on its seam line."""
    square = np.array([-along[1], along[0]])
    inside = shapely.Polygon(piece.seam_line).contains(shapely.Point(place + square * PROBE_IN))
    return -square if inside else square


def _append_check(page: svg.Element, corner: tuple[float, float], check_in: float, say: Say) -> None:
    x, y = corner
    check = svg.group(page, "check", {**svg.LINES, "stroke-width": f"{FINE_IN}"})
    side = svg.number(check_in)
    check.append(svg.element("rect", x=svg.number(x), y=svg.number(y), width=side, height=side))
    label = Label(
        text=f"{say(check_in)} square",
        at=np.array([x + check_in / 2, -y - check_in / 2]),
        height_in=EDGE_WORDS_IN,
        along=np.array([1.0, 0.0]),
    )
    svg.group(page, "check words", svg.WORDS).append(svg.words(label))
