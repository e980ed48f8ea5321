"""Drafted pieces as one SVG at true size in millimetres, each kind of line of each piece in a group of its own.

SVG 2: width and height in mm, with a viewBox as large, make one user unit a millimetre (section 8.6), and `data-`
attributes are free to use (section 5.9.2): `svg_in.py` knows its own files by them.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import chain, count
from types import MappingProxyType
from typing import Final

import numpy as np

from patterns.curves import Array, Curve
from patterns.cutting.marks import LineKind
from patterns.exchange.marked import MarkedPiece, Spread
from patterns.measures import Length, Unit
from patterns.paper import svg
from patterns.parts import Kind

MM_IN_AN_INCH: Final = 25.4
FINE_MM, STRONG_MM = 0.25, 0.5
UNIT_SAID, PIECE_SAID, CUT_SAID = "data-unit", "data-piece", "data-cut"
EDGE_SAID, KIND_SAID, ALLOWANCE_SAID = "data-edge", "data-kind", "data-allowance"
_STYLES: Final[Mapping[LineKind, Mapping[str, str]]] = MappingProxyType(
    {
        LineKind.CUT: {"stroke-width": f"{STRONG_MM}"},
        LineKind.SEAM: {"stroke-width": f"{FINE_MM}", "stroke-dasharray": "6 3"},
        LineKind.FOLD: {"stroke-width": f"{STRONG_MM}", "stroke-dasharray": "18 3 3 3"},
        LineKind.CENTRE: {"stroke-width": f"{FINE_MM}", "stroke-dasharray": "18 3 3 3"},
        LineKind.NOTCH: {"stroke-width": f"{STRONG_MM}"},
        LineKind.CLIP: {"stroke-width": f"{2 * STRONG_MM}"},
    }
)
_PLAIN: Final[Mapping[str, str]] = MappingProxyType({"stroke-width": f"{FINE_MM}"})
_OTHER_SIDE: Final = (-1.0, 1.0)


def spread_svg(sheet: Spread, unit: Unit) -> str:
    """The whole file; allowances are written in `unit`, the pattern's own."""
    width, height = (svg.number(side * MM_IN_AN_INCH) for side in sheet.size_in)
    page = svg.element(
        "svg",
        xmlns="http://www.w3.org/2000/svg",
        width=f"{width}mm",
        height=f"{height}mm",
        viewBox=f"0 0 {width} {height}",
        **{UNIT_SAID: unit.value},
    )
    page.append(svg.element("title", text=sheet.name))
    taken: set[str] = set()
    for marked in sheet.pieces:
        page.append(_piece(marked, _plain_name(marked.piece.name, taken), unit))
    return svg.text_of(page)


def _plain_name(name: str, taken: set[str]) -> str:
    """A name that may stand in an SVG as an id, of its own among those `taken`, which it joins.

    >>> taken = {"front"}
    >>> _plain_name("front facing", taken), _plain_name("Front", taken), _plain_name("2nd", taken)
    ('front-facing', 'Front-2', 'piece-2nd')
    """
    plain = re.sub(r"\W+", "-", name).strip("-")
    plain = plain if plain[:1].isalpha() else f"piece-{plain}"
    stems = chain([plain], (f"{plain}-{number}" for number in count(2)))
    found = next(stem for stem in stems if stem.casefold() not in taken)
    taken.add(found.casefold())
    return found


def _piece(marked: MarkedPiece, name: str, unit: Unit) -> svg.Element:
    """The group of a piece, drawn in its own millimetres: x from the centre line, y down."""
    x, y = (svg.number(at * MM_IN_AN_INCH) for at in (marked.placement.x_in, -marked.placement.y_in))
    said = {PIECE_SAID: marked.piece.name, CUT_SAID: str(marked.piece.cut)}
    group = svg.element("g", id=name, transform=f"translate({x} {y})", **said)
    group.append(svg.element("title", text=marked.piece.name))
    for kind in dict.fromkeys(line.kind for line in marked.lines):
        plain = kind.value.replace(" ", "-")
        style = {"class": plain, **svg.LINES, **_STYLES.get(kind, _PLAIN)}
        lines = svg.group(group, f"{name}-{plain}", style)
        lines.extend(_lines(marked, kind, unit))
    words = svg.group(group, f"{name}-words", {"class": "words", **svg.WORDS})
    origin = np.array([marked.placement.x_in, marked.placement.y_in])
    for label in marked.all_words:
        at, height_mm = (label.at - origin) * MM_IN_AN_INCH, label.height_in * MM_IN_AN_INCH
        words.append(svg.words(replace(label, at=at, height_in=height_mm)))
    return group


def _lines(marked: MarkedPiece, kind: LineKind, unit: Unit) -> Iterator[svg.Element]:
    """All lines of one kind; seams and notches edge by edge, so that each can say whose it is."""
    if kind is LineKind.SEAM:
        yield from _seams(marked, unit)
    elif kind is LineKind.NOTCH:
        yield from _notches(marked)
    else:
        fold = marked.piece.fold
        names_fold = fold is not None and kind in (LineKind.FOLD, LineKind.CENTRE)
        said = {EDGE_SAID: fold.name, KIND_SAID: fold.kind.value} if fold is not None and names_fold else {}
        for line in marked.lines:
            if line.kind is kind:
                yield svg.path(_in_mm(marked.placement.lifted(line.points)), closed=line.closed, **said)


def _seams(marked: MarkedPiece, unit: Unit) -> Iterator[svg.Element]:
    edges = [edge for edge in marked.piece.edges.values() if edge.kind is not Kind.FOLD]
    for edge in edges:
        allowance = " + ".join(Length.of(part, unit).words for part in edge.folds_in)
        said = {EDGE_SAID: edge.name, KIND_SAID: edge.kind.value, ALLOWANCE_SAID: allowance}
        yield svg.element("path", d=_course(edge.curve.beziers), **said)
    if marked.opened:
        yield from (svg.element("path", d=_course(edge.curve.beziers * _OTHER_SIDE)) for edge in edges)


def _notches(marked: MarkedPiece) -> Iterator[svg.Element]:
    halves = (None, _OTHER_SIDE) if marked.opened else (None,)
    for notch in marked.piece.notches:
        for half in halves:
            clips = [clip if half is None else clip * half for clip in notch.clips]
            said = {EDGE_SAID: notch.edge} if half is None else {}
            yield svg.element("path", d=" ".join(_steps(_in_mm(clip)) for clip in clips), **said)


def _course(beziers: Array) -> str:
    """The very curve, a straight part of it as a line."""
    steps = [_steps(_in_mm(beziers[:1, 0]))]
    for piece in beziers:
        straight = Curve(piece[None]).is_straight
        points = " ".join(_place(point) for point in _in_mm(piece[3:] if straight else piece[1:]))
        steps.append(f"{'L' if straight else 'C'} {points}")
    return " ".join(steps)


def _steps(points_mm: Array) -> str:
    return f"M {' L '.join(map(_place, points_mm))}"


def _place(point_mm: Array) -> str:
    return " ".join(map(svg.number, point_mm))


def _in_mm(points_in: Array) -> Array:
    return points_in * MM_IN_AN_INCH
