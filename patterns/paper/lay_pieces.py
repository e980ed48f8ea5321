"""The pieces of a lay plan: outline, fold, grain, name, and their numbers in the order of cutting."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from patterns.curves import Array
from patterns.cutting.labels import labels_of
from patterns.cutting.marks import LineKind, lines_of
from patterns.laying.lay import PieceOnCloth
from patterns.measures import NOTHING_IN
from patterns.paper.page import BLACK, PageItem
from patterns.paper.scaled import FINE_IN, LEAST_IN, LINE_IN, STRONG_IN, Scaled, first_free

NAME_IN: Final = 0.2  # the largest letters on a piece
LEAST_NAME_IN: Final = 0.075  # smaller ones stand beside it
FOLD_DASH_IN: Final = (0.22, 0.05, 0.04, 0.05)
BOTH_LAYERS: Final = "both layers"
NUMBER_IN: Final = 0.13
SIGNS: Final = (LineKind.FOLD_SIGN, LineKind.GRAIN)
DRAWN: Final = {LineKind.FOLD_SIGN: LINE_IN, LineKind.GRAIN: FINE_IN, LineKind.NOTCH: LINE_IN}


def name_place(
    number: int, placed: PieceOnCloth, free: BaseGeometry, others: BaseGeometry, sheet: Scaled
) -> shapely.Polygon | None:
    """Where the name stands beside a piece that has no room for it; None where it stands on it, or nowhere.

    `free` is where nothing is drawn; a name that is nearer to one of the `others` would be taken for its own.
    """
    if any(_name_on_it(number, placed, sheet)):
        return None
    area = shapely.Polygon(placed.outline_in)
    places = _places_about(area, *sheet.room(_numbered(number, placed)))
    return first_free((place for place in places if place.distance(area) < place.distance(others)), free)


def _places_about(area: shapely.Polygon, long: float, high: float) -> Iterator[shapely.Polygon]:
    """Boxes of that size on all sides of an area: halfway along each side, towards its ends, then all that are near."""
    left, bottom, right, top = area.bounds
    clear = high / 4
    for part in (0.5, 0.0, 1.0):
        x, y = left + part * (right - left - long), bottom + part * (top - bottom - high)
        beside = ((left - long - clear, y), (right + clear, y), (x, top + clear), (x, bottom - high - clear))
        for corner_x, corner_y in beside:
            yield shapely.box(corner_x, corner_y, corner_x + long, corner_y + high)
    xs = np.arange(left - long - clear, right + clear, high / 2)
    ys = np.arange(bottom - high - clear, top + clear, high / 2)
    x, y = (each.ravel() for each in np.meshgrid(xs, ys))
    boxes = shapely.box(x, y, x + long, y + high)
    apart = shapely.distance(boxes, area)
    yield from (boxes[i] for i in np.argsort(apart, kind="stable") if clear <= apart[i] < high)


def piece_drawing(
    number: int, placed: PieceOnCloth, beside: shapely.Polygon | None, sheet: Scaled
) -> Iterator[PageItem]:
    """One piece as it lies; `beside` is where its name stands if it has no room for it."""
    outline = placed.outline_in
    yield sheet.area(outline)
    yield sheet.lines([np.vstack([outline, outline[:1]])], STRONG_IN)
    for line in lines_of(placed.piece, placed.placement):
        if line.kind in DRAWN:
            yield sheet.lines([line.points], DRAWN[line.kind])
    if placed.stage > 1 and placed.own_fold_in is not None:
        yield sheet.lines(
            [placed.placement.placed(placed.piece.cut_line[[0, -1]])], LINE_IN, BLACK, FOLD_DASH_IN
        )
    named = list(_name_on_it(number, placed, sheet))
    yield from named
    if not named:
        yield sheet.words(str(number), _roomiest(placed, sheet.large(NUMBER_IN) / 2), NUMBER_IN)
    if beside is not None:
        yield from sheet.on_white(_numbered(number, placed), beside)


def _numbered(number: int, placed: PieceOnCloth) -> str:
    return f"{number}  {placed.piece.name}"


def _name_on_it(number: int, placed: PieceOnCloth, sheet: Scaled) -> Iterator[PageItem]:
    """Number and name, how many, and how it lies; nothing where that is hard to read."""
    numbered = replace(placed.piece, name=_numbered(number, placed))
    labels = [
        label
        for label in labels_of(numbered, placed.placement)
        if not (placed.on_fold and label.text == "mirrored")  # a half has no other way to lie on its fold
    ]
    name = labels[0]
    share = min(1.0, sheet.large(NAME_IN) / name.height_in)
    slanted = min(abs(name.along)) > NOTHING_IN  # easier to read beside the piece
    if slanted or name.height_in * share < sheet.large(LEAST_NAME_IN):
        return
    middle = np.mean([label.at for label in labels], axis=0)
    for label in labels:
        height_in = label.height_in * share / sheet.scale
        if height_in >= LEAST_IN:
            text = BOTH_LAYERS if label.text == "whole" and placed.fold_line is not None else label.text
            yield sheet.words(text, middle + (label.at - middle) * share, height_in, label.along)


def _roomiest(placed: PieceOnCloth, clear_in: float) -> Array:
    """(2,) where the piece is widest, off its signs if they leave room."""
    area = shapely.Polygon(placed.outline_in)
    lines = lines_of(placed.piece, placed.placement)
    signs = shapely.union_all([shapely.LineString(line.points) for line in lines if line.kind in SIGNS])
    off_signs = area.difference(signs.buffer(clear_in))
    room = shapely.Polygon(area) if off_signs.is_empty else off_signs
    largest = max(shapely.get_parts(room), key=lambda part: part.area)
    middle: Array = shapely.get_coordinates(shapely.maximum_inscribed_circle(largest, tolerance=0.1))[0]
    return middle
