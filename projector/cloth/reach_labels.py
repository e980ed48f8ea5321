"""The words on one reach of a piece: its name and how it lies, where there is room within what is cut now."""

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final

import numpy as np
import shapely

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.labels import Label
from patterns.cutting.marks import LineKind, lines_of
from patterns.cutting.placement import Placement
from projector.cloth.laid_pieces import outline_in
from projector.cloth.reaches import Reaches
from projector.lighting.letters import words_width
from projector.person import Person

NAME_IN: Final = 2.5  # at most: it is read beside the reach, not across the table
STATE_PART: Final = 0.5  # of the name's height
LINE_PART: Final = 1.5  # from line to line, in parts of the name's height
CLEAR_IN: Final = 0.3  # between the words and the lines
SIGNS: Final = (LineKind.FOLD_SIGN, LineKind.GRAIN, LineKind.SEAM, LineKind.CENTRE)


def reach_labels(
    piece: DraftedPiece,
    placement: Placement,
    reaches: Reaches,
    number: int,
    person: Person,
    states: Sequence[str],
) -> Iterator[Label]:
    """In table inches, to be read by the person: the piece's name, and the `states` in which it lies."""
    state = ", ".join(states)
    middle_in, radius_in = _room(piece, placement.opened, reaches, number)
    width = max(words_width(piece.name), STATE_PART * words_width(state))
    name_in = min(NAME_IN, radius_in / math.hypot(width / 2, LINE_PART))
    middle = placement.placed(middle_in[None])[0]
    right, away = person.axes
    for text, height, up in ((piece.name, 1.0, LINE_PART / 2), (state, STATE_PART, -LINE_PART / 2)):
        yield Label(text=text, at=middle + up * name_in * away, height_in=height * name_in, along=right)


@lru_cache(maxsize=32)
def _room(piece: DraftedPiece, opened: bool, reaches: Reaches, number: int) -> tuple[Array, float]:
    """The middle (2,) and the radius of the largest circle clear of all lines within the reach, in piece inches."""
    flat = Placement(opened=opened)
    whole = shapely.Polygon(outline_in(piece, flat) * (1.0, -1.0)).buffer(0)
    room = whole.intersection(reaches.block(number).polygon)
    lines = [line.points * (1.0, -1.0) for line in lines_of(piece, flat) if line.kind in SIGNS]
    room = room.difference(shapely.MultiLineString(lines).buffer(CLEAR_IN))
    circle = shapely.get_coordinates(shapely.maximum_inscribed_circle([room], tolerance=[0.1]))
    return circle[0], float(np.hypot(*(circle[1] - circle[0])))
