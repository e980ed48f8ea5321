"""Lines of words that the person reads, each laid by its left end."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from patterns.cutting.labels import Label
from projector.lighting.letters import words_width
from projector.lighting.light import words_light
from projector.lighting.lit_area import LitArea
from projector.lighting.strokes import Drawing
from projector.person import Person


class WordsLine(NamedTuple):
    """One line of words, its left end and its top as the person sees them, in inches."""

    text: str
    height_in: float
    light: float
    left: float
    top: float

    @property
    def right(self) -> float:
        """Where it ends."""
        return self.left + words_width(self.text) * self.height_in


def written(lines: Sequence[WordsLine], lit: LitArea, person: Person) -> Drawing:
    """The lines' words in projector pixels."""
    middles = [((line.left + line.right) / 2, line.top - line.height_in / 2) for line in lines]
    labels = [
        Label(text=line.text, at=at, height_in=line.height_in, along=person.axes[0])
        for line, at in zip(lines, person.on_table(np.array(middles)), strict=True)
    ]
    return words_light(labels, [line.light for line in lines], lit)
