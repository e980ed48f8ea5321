"""The forecast as light on the table: hatching that is closer the worse the light is, and words in each area."""

from collections.abc import Sequence
from typing import Final

import numpy as np
import shapely
from shapely import LineString, MultiLineString, Polygon, affinity
from shapely.geometry.base import BaseGeometry

from calibration.frames import Array
from patterns.cutting.labels import Label
from projector.lighting.letters import LINE_SPACING, words_width
from projector.lighting.light import Chalk, chalk_light, label_light, subdivided
from projector.lighting.lit_area import LitArea
from projector.lighting.look import STRIP_LIGHT, LineStyle
from projector.lighting.strokes import Drawing, joined
from projector.person import Person
from projector.pictures.forecast_areas import Area
from projector.scene import Layer
from projector.words.strip import Strip

HATCH: Final = LineStyle(width_in=1 / 32, light=0.12)  # only read, over most of the table
BOUNDARY: Final = LineStyle(width_in=1 / 24, light=0.4)
LETTERS_IN: Final = (1.0, 0.75, 0.5)  # high; read standing, two steps away
CLEAR: Final = 0.5  # of the letters' height: round words, of hatching and of everything else
STRIP_CLEAR_IN: Final = 0.5
SPECK_IN: Final = 0.5  # a hatch line that is shorter says nothing
EVEN: Final = 0.02  # inches nearer the edge that are worth an inch nearer the middle
TRIED: Final = 65  # places across a room, and away, that words are tried at


def forecast_layer(areas: Sequence[Area], lit: LitArea, person: Person, strip: Strip) -> Layer:
    """The forecast's areas round a strip of words, for a station to show."""
    return Layer(
        name="main",
        key=("forecast", person, strip),
        draw=lambda: forecast_light(areas, lit, person, strip.box_in),
    )


def forecast_light(
    areas: Sequence[Area], lit: LitArea, person: Person, strip_in: tuple[float, float, float, float]
) -> Drawing:
    """Hatching, boundaries and words in projector pixels; the box of the strip, as seen, is left free."""
    strip = shapely.box(*strip_in).buffer(STRIP_CLEAR_IN, join_style="mitre")
    free = affinity.rotate(strip, person.facing_deg, origin=(0, 0))
    labels = [label for area in areas for label in words_in(area, person, free)]
    kept = shapely.union_all([free, *(label_box(label) for label in labels)])
    hatching = [path for area in areas for path in hatched(area, person.facing_deg, kept)]
    drawn = _chalk({HATCH: hatching, BOUNDARY: boundaries_of(areas, lit, free)}, lit.span_in)
    words = (label_light(label, STRIP_LIGHT, lit) for label in labels)
    return (*chalk_light(drawn, lit), *(part for word in words for part in word))


def hatched(area: Area, facing_deg: float, kept_clear: BaseGeometry) -> list[Array]:
    """The area's hatch lines, (2, 2) table inches each, that end at its outline and at what is kept clear.

    Lines of one grade are in step over the whole table.
    """
    room = area.outline.difference(kept_clear)
    pitch_in = area.grade.pitch_in
    ruled = [_ruled(area.outline, pitch_in, facing_deg + turn_deg) for turn_deg in area.grade.turns_deg]
    lines = [line for lines in ruled for line in _lines_of(lines.intersection(room))]
    return [line for line in lines if np.hypot(*(line[-1] - line[0])) > SPECK_IN]


def boundaries_of(areas: Sequence[Area], lit: LitArea, kept_clear: BaseGeometry) -> list[Array]:
    """Lines between two areas, in table inches; the light's own border needs none."""
    rings = shapely.union_all([area.outline.boundary for area in areas])
    rim = Polygon(lit.border_in).exterior.buffer(1e-6)
    return _lines_of(shapely.line_merge(rings.difference(rim)).difference(kept_clear))


def words_in(area: Area, person: Person, taken: BaseGeometry) -> tuple[Label, ...]:
    """The grade's words where the area has most room, in one line or two; none where it has no room for them.

    They read from left to right for the person, and keep off the part of the table that is taken.
    """
    room = affinity.rotate(area.outline.difference(taken), -person.facing_deg, origin=(0, 0))
    lead, amount = area.grade.words
    for height_in in LETTERS_IN:
        for lines in ((f"{lead} {amount}",), (lead, amount)):
            at = _roomiest(room, *_size_in(lines, height_in))
            if at is not None:
                return _block(lines, at, height_in, person)
    return ()


def label_box(label: Label) -> Polygon:
    """The label's letters on the table, with room round them."""
    half = (np.array([words_width(label.text) / 2, 0.5]) + CLEAR) * label.height_in
    along = np.asarray(label.along, dtype=np.float64)
    axes = np.array([along, [-along[1], along[0]]])
    corners = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * half
    return Polygon(corners @ axes + label.at)


def _ruled(outline: Polygon, pitch_in: float, turn_deg: float) -> MultiLineString:
    """Parallel lines over the outline, at whole pitches from the table's origin."""
    low_x, low_y, high_x, high_y = affinity.rotate(outline, -turn_deg, origin=(0, 0)).bounds
    aways = pitch_in * np.arange(np.ceil(low_y / pitch_in), np.floor(high_y / pitch_in) + 1)
    lines = MultiLineString([((low_x, away), (high_x, away)) for away in aways])
    return affinity.rotate(lines, turn_deg, origin=(0, 0))


def _lines_of(lines: BaseGeometry) -> list[Array]:
    """The points of each line, without what two shapes share besides lines."""
    return [
        shapely.get_coordinates(part) for part in shapely.get_parts(lines) if isinstance(part, LineString)
    ]


def _size_in(lines: tuple[str, ...], height_in: float) -> tuple[float, float]:
    """Width and height of lines of words, with room round them."""
    width = max(words_width(line) for line in lines)
    height = 1 + LINE_SPACING * (len(lines) - 1)
    return (width + 2 * CLEAR) * height_in, (height + 2 * CLEAR) * height_in


def _roomiest(room: BaseGeometry, width: float, height: float) -> tuple[float, float] | None:
    """Middle of the box of that size, within the room, that is farthest from the room's edge; None if none fits."""
    low_x, low_y, high_x, high_y = room.bounds
    x, y = np.meshgrid(np.linspace(low_x, high_x, TRIED), np.linspace(low_y, high_y, TRIED))
    boxes = shapely.box(x - width / 2, y - height / 2, x + width / 2, y + height / 2).ravel()
    shapely.prepare(room)
    fits = shapely.contains(room, boxes)
    if not fits.any():
        return None
    places, middle = np.column_stack([x.ravel(), y.ravel()])[fits], shapely.get_coordinates(room.centroid)
    aside = np.hypot(*(places - middle).T)  # of two places with as much room, the one nearer the middle
    best = int(np.argmax(shapely.distance(boxes[fits], room.boundary) - EVEN * aside))
    return float(places[best, 0]), float(places[best, 1])


def _block(
    lines: tuple[str, ...], middle: tuple[float, float], height_in: float, person: Person
) -> tuple[Label, ...]:
    """Lines one below the other about a middle as the person sees it."""
    right, away = middle
    labels = []
    for number, text in enumerate(lines):
        up = ((len(lines) - 1) / 2 - number) * LINE_SPACING * height_in
        at = person.on_table(np.array([[right, away + up]]))[0]
        labels.append(Label(text=text, at=at, height_in=height_in, along=person.axes[0]))
    return tuple(labels)


def _chalk(lines: dict[LineStyle, list[Array]], span_in: float) -> Chalk:
    """Lines of several styles, with points enough to follow the lens."""
    points_in, ends = joined([subdivided(path, span_in) for paths in lines.values() for path in paths])
    return Chalk(
        points_in=points_in,
        ends=ends,
        styles=tuple((style, len(paths)) for style, paths in lines.items() if paths),
    )
