"""What of the cloth itself must be minded, in light: repeats to lay stripes by, flaws, and what is to stay whole."""

from dataclasses import replace
from functools import lru_cache
from typing import Final

import numpy as np
import shapely

from calibration.frames import Array
from patterns.cutting.labels import Label
from patterns.laying.buying import Buying
from patterns.laying.folded import Folded
from patterns.laying.lay import Lay
from patterns.laying.repeat_lines import repeat_lines
from patterns.saying import Say
from projector.cloth.cloth_place import ClothPlace
from projector.lighting.letters import words_width
from projector.lighting.light import words_light
from projector.lighting.lit_area import LitArea
from projector.lighting.look import LineStyle
from projector.lighting.strokes import Drawing
from projector.person import Person
from projector.tracing.light import stroked

REPEAT: Final = LineStyle(width_in=1 / 32, light=0.2, dash_in=(1 / 16, 1 / 2))
FLAW: Final = LineStyle(width_in=1 / 16, light=0.5)
WHOLE: Final = LineStyle(width_in=1 / 24, light=0.35, dash_in=(1.0, 1 / 2))
FLAWED: Final = "flaw"
WORDS_IN: Final = 0.75
WORDS_LIGHT: Final = 0.4
INSET_IN: Final = 0.25  # of what stays whole from the lines along it


def minded_light(lay: Lay, folded: Folded, cloth: ClothPlace, lit: LitArea, person: Person) -> Drawing:
    """The lines of a repeat, and each flaw crossed out."""
    repeats = [cloth.on_table(line) for line in repeat_lines(lay, folded)]
    drawn = list(stroked(repeats, REPEAT, lit)) if repeats else []
    flaws = [part for flaw in lay.cloth.flaws for part in folded.lying(shapely.Polygon(flaw.corners_in))]
    for part in flaws:
        box = cloth.on_table(shapely.get_coordinates(part.exterior))
        drawn += stroked([box, box[[0, 2]], box[[1, 3]]], FLAW, lit)
        seen = person.seen(box)
        beside = seen[:, 0].max() + (words_width(FLAWED) / 2 + 1 / 2) * WORDS_IN
        at = person.on_table(np.array([[beside, (seen[:, 1].min() + seen[:, 1].max()) / 2]]))[0]
        drawn += words_light([_words(FLAWED, at, person)], [WORDS_LIGHT], lit)
    return tuple(drawn)


def whole_light(
    lay: Lay, folded: Folded, cloth: ClothPlace, say: Say, lit: LitArea, person: Person
) -> Drawing:
    """The largest rectangle that stays whole, with its size, where it lies on the folded cloth."""
    outlines = [cloth.on_table(shapely.get_coordinates(part.exterior)) for part in _whole(lay, folded)]
    if not outlines:
        return ()
    words = words_light(whole_words(lay, folded, cloth, say, person), [WORDS_LIGHT], lit)
    return (*stroked(outlines, WHOLE, lit), *words)


def whole_words(lay: Lay, folded: Folded, cloth: ClothPlace, say: Say, person: Person) -> list[Label]:
    """The size of what stays whole, in its middle; none where nothing does."""
    parts = _whole(lay, folded)
    if not parts:
        return []
    largest = max(parts, key=lambda part: part.area)
    outline = cloth.on_table(shapely.get_coordinates(largest.exterior))
    middle = cloth.on_table(shapely.get_coordinates(largest.centroid))[0]
    remnant = _buying(lay).remnant
    size = f"stays whole: {say(remnant.width_in)} x {say(remnant.length_in)}"
    room_in = float(np.ptp(person.seen(outline)[:, 0])) - 2 * INSET_IN
    return [replace(_words(size, middle, person), height_in=min(WORDS_IN, room_in / words_width(size)))]


def _whole(lay: Lay, folded: Folded) -> list[shapely.Polygon]:
    """What stays whole as it lies on the folded cloth, drawn in from the lines along it."""
    remnant = _buying(lay).remnant
    if remnant.area_in2 <= 0:
        return []
    flat = shapely.box(remnant.left_in, remnant.bottom_in, remnant.right_in, remnant.top_in)
    parts = [part.buffer(-INSET_IN, join_style="mitre") for part in folded.lying(flat)]
    return [part for part in parts if not part.is_empty]


@lru_cache(maxsize=4)
def _buying(lay: Lay) -> Buying:
    return Buying.of(lay)


def _words(text: str, at_in: Array, person: Person) -> Label:
    return Label(text=text, at=at_in, height_in=WORDS_IN, along=person.axes[0])
