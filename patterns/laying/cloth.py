"""The cloth that is bought: its width, its selvedges, its nap, what washing takes from it.

On the cloth x runs across from the left selvedge and y along the length from the cut end, in inches of the
cloth as it lies on the table, washed, seen from above.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from patterns.curves import Array
from patterns.errors import PatternError
from patterns.measures import LONGEST_IN
from patterns.saying import LengthError

SELVEDGE_IN: Final = 1 / 2  # common practice: woven tighter, often pierced, it draws up in the wash
MOST_SHRINKAGE: Final = 0.5  # more is a slip of the decimal point


@dataclass(frozen=True, slots=True, kw_only=True)
class Shrinkage:
    """What washing takes, as fractions of what was bought: (before - after) / before, each direction its own.

    The dimensional change of ISO 5077 is the same with its sign turned.
    """

    along: float = 0.0
    across: float = 0.0

    def __post_init__(self) -> None:
        for name, share in (("along", self.along), ("across", self.across)):
            if not (math.isfinite(share) and 0.0 <= share <= MOST_SHRINKAGE):
                raise PatternError(
                    f"found a shrinkage {name} of {share:.1%}; give one from 0 % to {MOST_SHRINKAGE:.0%}"
                )


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeat:
    """The repeat of stripes or checks, inches; None in the direction in which nothing repeats."""

    across_in: float | None = None
    along_in: float | None = None

    def __post_init__(self) -> None:
        for length in (self.across_in, self.along_in):
            if length is not None and not (math.isfinite(length) and length > 0):
                raise PatternError(f"found a repeat of {length} in; give a length above nothing")


@dataclass(frozen=True, slots=True, kw_only=True)
class Flaw:
    """A part of the cloth that no piece may use: a box from (left, bottom) to (right, top), inches on it."""

    left_in: float
    bottom_in: float
    right_in: float
    top_in: float

    def __post_init__(self) -> None:
        if not (self.left_in < self.right_in and self.bottom_in < self.top_in):
            raise PatternError("found a flaw without an area; give its left, bottom, right and top in order")

    @property
    def corners_in(self) -> Array:
        """(4, 2) inches on the cloth."""
        return np.array(
            [
                [self.left_in, self.bottom_in],
                [self.right_in, self.bottom_in],
                [self.right_in, self.top_in],
                [self.left_in, self.top_in],
            ]
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Cloth:
    """`bought_width_in` from edge to edge; `length_in` what there is of it, washed, None for as much as is needed.

    `has_nap` is true of pile, of a sheen and of a print that has a top: every piece then lies the same way up.
    """

    bought_width_in: float
    selvedge_in: float = SELVEDGE_IN
    length_in: float | None = None
    has_nap: bool = False
    shrinkage: Shrinkage = Shrinkage()
    repeat: Repeat = Repeat()
    flaws: tuple[Flaw, ...] = ()

    def __post_init__(self) -> None:
        if not (math.isfinite(self.bought_width_in) and 0 < self.bought_width_in <= LONGEST_IN):
            raise PatternError(f"found cloth {self.bought_width_in} in wide; give a width above nothing")
        if not 0 <= self.selvedge_in < self.width_in / 4:
            raise LengthError(
                lambda say: (
                    f"found selvedges of {say(self.selvedge_in)} on cloth {say(self.width_in)} wide; "
                    "give less than a quarter of the width"
                )
            )
        if self.length_in is not None and not 0 < self.length_in <= LONGEST_IN:
            raise PatternError(
                f"found a length of cloth of {self.length_in} in; give one above nothing, or none for as "
                "much as is needed"
            )

    @property
    def is_one_way(self) -> bool:
        """Whether all pieces lie the same way up: with a nap, or so that stripes meet all along a seam."""
        return self.has_nap or self.repeat.along_in is not None

    @property
    def width_in(self) -> float:
        """From edge to edge once it is washed."""
        return self.bought_width_in * (1 - self.shrinkage.across)

    @property
    def usable_in(self) -> tuple[float, float]:
        """x of the inner edges of the left and the right selvedge."""
        return self.selvedge_in, self.width_in - self.selvedge_in
