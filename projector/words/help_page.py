"""The keys, shown on the table."""

from typing import Final

import numpy as np

from patterns.cutting.labels import Label
from projector.bindings import Binding
from projector.lighting.letters import words_width
from projector.lighting.light import label_light
from projector.lighting.lit_area import LitArea
from projector.lighting.look import STRIP_ASIDE_LIGHT, STRIP_LIGHT
from projector.lighting.strokes import Drawing
from projector.person import Person, room_across

LETTER_IN: Final = 0.8
SPACING: Final = 1.75
GAP: Final = 2.0  # letter heights between a key and what it does
SHARE: Final = 0.86  # of the light, across and away


def help_light(bindings: tuple[Binding, ...], lit: LitArea, person: Person) -> Drawing:
    """Two columns in the middle of the light: keys to the left, what they do to the right."""
    keys = max(words_width(binding.shown) for binding in bindings)
    says = max(words_width(binding.says) for binding in bindings)
    border = person.seen(lit.border_in)
    low, high = border.min(axis=0), border.max(axis=0)
    inset = (high[1] - low[1]) * (1 - SHARE) / 2
    room = room_across(border, low[1] + inset, high[1] - inset)
    width = (room[1] - room[0] if room else high[0] - low[0]) * SHARE
    height = min(
        LETTER_IN, width / (keys + GAP + says), (high[1] - low[1] - 2 * inset) / (len(bindings) * SPACING)
    )
    left = (room[0] + room[1] if room else low[0] + high[0]) / 2 - height * (keys + GAP + says) / 2
    top = (low[1] + high[1]) / 2 + height * SPACING * (len(bindings) - 1) / 2
    drawn: list[Drawing] = []
    for number, binding in enumerate(bindings):
        away = top - number * SPACING * height
        right_end = left + height * (keys - words_width(binding.shown) / 2)
        left_end = left + height * (keys + GAP + words_width(binding.says) / 2)
        for text, across, light in (
            (binding.shown, right_end, STRIP_LIGHT),
            (binding.says, left_end, STRIP_ASIDE_LIGHT),
        ):
            at = person.on_table(np.array([[across, away]]))[0]
            label = Label(text=text, at=at, height_in=float(height), along=person.axes[0])
            drawn.append(label_light(label, light, lit))
    return tuple(part for drawing in drawn for part in drawing)
