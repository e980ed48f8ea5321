"""Cloth found again by two marks: where it lies now, and how much it has grown or shrunk between them.

A piece is never scaled for that: chiffon that grew while it was slid goes back when it has lain for a while.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from calibration.frames import Array
from calibration.solving.starts import rigid
from patterns.saying import LengthError, Say
from patterns.tracing.hand_trace import Place
from projector.cloth.cloth_place import ClothPlace
from projector.cloth.on_cloth import FINEST, LEAST_APART_IN, MARK_IN
from projector.errors import ProjectorError

SAID_OVER_IN: Final = 20.0  # stretch is told over so much cloth
MOST_OVER_IN: Final = 1 / 16  # of it, and no more: a projected line's tolerance (common practice)
MOST: Final = MOST_OVER_IN / SAID_OVER_IN
ROUNDING: Final = 1e-6  # what sums leave is no stretch beyond the most
OTHER_WAY_DEG: Final = 90.0  # cloth is slid, not turned about: marks taken one for the other seem to turn it


class SwappedError(ProjectorError):
    """One mark was taken for the other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundAgain:
    """Two marks on the cloth: where they were on the table, and where they were found later, in the same order.

    Raises LengthError for marks too near each other, SwappedError where one was taken for the other.
    """

    were_in: tuple[Place, Place]
    found_in: tuple[Place, Place]

    def __post_init__(self) -> None:
        apart_in = math.dist(*self.found_in)
        if apart_in < LEAST_APART_IN:
            lay_in = math.dist(*self.were_in)
            raise LengthError(
                lambda say: (
                    f"the marks were set {say(apart_in)} apart and lay {say(lay_in)} apart: "
                    "set the cross on each of the two"
                )
            )
        if abs(self.place.turn_deg) > OTHER_WAY_DEG:
            raise SwappedError("the two marks were taken one for the other: set the first on mark 1")

    @property
    def place(self) -> ClothPlace:
        """What has become of the cloth's place since; no stretch is in it."""
        return fitted(np.array(self.were_in), np.array(self.found_in))

    @property
    def stretch(self) -> float:
        """By what share of itself the cloth between the marks grew; negative where it shrank."""
        return math.dist(*self.found_in) / math.dist(*self.were_in) - 1

    @property
    def doubt(self) -> float:
        """The share that marks 1/64 in amiss alone would show."""
        return math.sqrt(2) * MARK_IN / math.dist(*self.were_in)

    @property
    def too_far(self) -> bool:
        """Whether it grew or shrank by more than is to be cut from."""
        return abs(self.stretch) > MOST + ROUNDING

    def words(self, say: Say) -> str:
        """How much it has grown or shrunk; from the limit on, also over so much cloth."""
        share = f"{abs(self.stretch):.1%}, give or take {max(self.doubt, 0.001):.1%}"
        did = "grew" if self.stretch > 0 else "shrank"
        if not self.too_far:
            return f"the cloth {did} by {share} between the marks"
        over_in = math.ceil((abs(self.stretch) - ROUNDING) * SAID_OVER_IN * FINEST) / FINEST
        over = f"{say(over_in, FINEST)} over {say(SAID_OVER_IN)}"
        return f"the cloth {did} by {share} between the marks: {over}, and {say(MOST_OVER_IN)} is the most"


def fitted(cloth_in: Array, table_in: Array) -> ClothPlace:
    """Where cloth lies of which (n, 2) points were found on the table, least squares: never stretched.

    Of two points it brings the middle on to the middle, and one direction on to the other.
    """
    x, y, turn = rigid(cloth_in, table_in).tolist()
    return ClothPlace(x_in=x, y_in=y, turn_deg=math.degrees(turn))
