"""A few sentences in the middle of the light, true to size, for the person to read standing."""

from typing import Final

import numpy as np

from patterns.cutting.labels import Label
from projector.lighting.light import label_light
from projector.lighting.lit_area import LitArea
from projector.lighting.strokes import Drawing
from projector.person import Person, room_across
from projector.words.messages import wrapped

LETTER_IN: Final = 1.2
SPACING: Final = 1.9
WIDEST: Final = 34.0  # letter heights in a line: longer ones are lost on the way back
SHARE: Final = 0.9  # of the light's width
HEIGHT_SHARE: Final = 0.5  # of its depth


def paragraph_light(text: str, brightness: float, lit: LitArea, person: Person) -> Drawing:
    """The text in lines about the middle of the light, in smaller letters where the light is small."""
    border = person.seen(lit.border_in)
    low, high = border.min(axis=0), border.max(axis=0)
    middle = (low + high) / 2
    half = HEIGHT_SHARE / 2 * (high[1] - low[1])
    room = room_across(border, middle[1] - half, middle[1] + half)
    left, right = room or (float(low[0]), float(high[0]))
    letter = min(LETTER_IN, SHARE * (right - left) / WIDEST)
    lines = wrapped(text, min(WIDEST, SHARE * (right - left) / letter))
    drawn: list[Drawing] = []
    for number, line in enumerate(lines):
        away = middle[1] + SPACING * letter * ((len(lines) - 1) / 2 - number)
        at = person.on_table(np.array([[(left + right) / 2, away]]))[0]
        label = Label(text=line, at=at, height_in=letter, along=person.axes[0])
        drawn.append(label_light(label, brightness, lit))
    return tuple(part for drawing in drawn for part in drawing)
