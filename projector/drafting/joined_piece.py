"""What is sewn to the shown piece, laid beside it as if the seam were closed: do the lines run on?"""

from typing import Final

import numpy as np

from patterns.cutting.placement import Placement
from patterns.paper.joined import Joined
from projector.lighting.lit_area import LitArea
from projector.lighting.look import LineStyle
from projector.lighting.strokes import Drawing
from projector.tracing.light import stroked

JOINED: Final = LineStyle(width_in=1 / 24, light=0.3)  # to be looked at, never cut


def joined_words(view: Joined) -> str:
    """Which piece it is, and how the lines meet: "back joined: neck 178.5° of 180°"."""
    if view.sum_deg is None:
        return f"{view.join.second.piece} joined at {view.join.first.edge}"
    return f"{view.join.second.piece} joined: {view.line_words} {view.sum_deg:.1f}° of 180°"


def joined_light(view: Joined, placement: Placement, lit: LitArea) -> Drawing:
    """The seam line of the piece beside the shown one, whose `placement` it follows."""
    return stroked([placement.placed(np.concatenate([view.second, view.second[:1]]))], JOINED, lit)
