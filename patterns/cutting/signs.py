"""The shapes of the trade's signs, in piece inches: arrowheads, and the bracket on to the fold."""

import math
from typing import Final

import numpy as np

from patterns.curves import Array
from patterns.cutting.drafted import DraftedPiece

ARROW_IN: Final = 0.5  # length of an arrowhead's strokes: plain to see from standing height
ARROW_PART: Final = 1 / 3  # of its line at most
ARROW_SPREAD: Final = 0.4  # half width of an arrowhead, in parts of its length
BRACKET_IN: Final = 1.0  # how far the fold's bracket stands off the fold
BRACKET_PART: Final = 0.5  # of the fold's length


def arrowhead(tip: Array, back: Array) -> Array:
    """(3, 2) an open arrowhead at `tip` (2,), on a line that runs `back` (2,) inches from it."""
    (tip_x, tip_y), (back_x, back_y) = tip.tolist(), back.tolist()
    length = math.hypot(back_x, back_y)
    size = min(ARROW_IN, length * ARROW_PART if length > BRACKET_IN else length)
    x, y = back_x / length, back_y / length
    across_x, across_y = -y * ARROW_SPREAD, x * ARROW_SPREAD
    return np.array(
        [
            [tip_x + (x + across_x) * size, tip_y + (y + across_y) * size],
            [tip_x, tip_y],
            [tip_x + (x - across_x) * size, tip_y + (y - across_y) * size],
        ]
    )


def fold_bracket(piece: DraftedPiece) -> Array:
    """(4, 2) the bracket of a piece on the fold: on to the fold, along it and back on to it."""
    top, bottom = sorted((float(piece.cut_line[0, 1]), float(piece.cut_line[-1, 1])))
    reach = (bottom - top) * BRACKET_PART / 2
    high, low = (top + bottom) / 2 - reach, (top + bottom) / 2 + reach
    stand = min(BRACKET_IN, float(piece.cut_line[:, 0].max()) / 2)
    return np.array([[0.0, high], [stand, high], [stand, low], [0.0, low]])
