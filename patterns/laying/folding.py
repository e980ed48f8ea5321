"""How the cloth is folded, and what of it lies double.

Every fold here is made by turning an edge of the cloth over on to the rest. What stays below does not move, so
that a place on the folded cloth is the same place on the flat one; the layer above is its mirror image about the
fold line.
"""

import math
from dataclasses import dataclass
from enum import Enum
from typing import Final

import numpy as np

from patterns.curves import Array
from patterns.laying.cloth import Cloth
from patterns.saying import LengthError


class Fold(Enum):
    """The ways to fold that a cutter has words for.

    BOTH turns both selvedges in, each as far as it is needed; CENTRE is its even case. REFOLDED cuts the large
    pieces on one fold, opens what is left and folds it anew for the small ones.
    """

    SELVEDGES = "selvedges"
    PARTIAL = "partial"
    CENTRE = "centre"
    BOTH = "both"
    CROSSWISE = "crosswise"
    REFOLDED = "refolded"
    SINGLE = "single"


FOLD_WORDS: Final = {
    Fold.SELVEDGES: "folded selvedge to selvedge",
    Fold.PARTIAL: "partly folded",
    Fold.CENTRE: "folded to the middle",
    Fold.BOTH: "folded from both sides",
    Fold.CROSSWISE: "folded crosswise",
    Fold.REFOLDED: "folded, then folded anew",
    Fold.SINGLE: "in a single layer",
}


class Direction(Enum):
    """Which way a fold line runs on the cloth."""

    LENGTHWISE = "lengthwise"
    CROSSWISE = "crosswise"


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldLine:
    """A line of the cloth: x = `at_in` where it runs lengthwise, y = `at_in` where it runs crosswise.

    `below` says on which side the cloth stays where it was: -1 left of it (or nearer the cut end), +1 beyond.
    """

    direction: Direction
    at_in: float
    below: int

    def mirrored(self, points_in: Array) -> Array:
        """(n, 2) where the layer above comes from: the same points of it on the flat cloth."""
        across = self.direction is Direction.LENGTHWISE
        points = np.array(points_in, dtype=np.float64)
        points[:, 0 if across else 1] = 2 * self.at_in - points[:, 0 if across else 1]
        return points


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """A strip of folded cloth all its length, from x `left_in` to `right_in` without selvedges.

    `fold_line` is where it lies double; its edge there may be used up to the line itself.
    """

    left_in: float
    right_in: float
    fold_line: FoldLine | None = None

    @property
    def width_in(self) -> float:
        """Inches across."""
        return self.right_in - self.left_in


@dataclass(frozen=True, slots=True, kw_only=True)
class Folding:
    """One way to lay a cloth. Raises PatternError where it is too narrow for what is to be turned over.

    `left_in` and `right_in` are how far each selvedge is turned over, from fold to selvedge; `far_in` how far the
    far cut end is turned back, from fold to end. What is 0 is not folded.

    >>> Folding(fold=Fold.PARTIAL, cloth=Cloth(bought_width_in=60), right_in=22).zones[0].right_in
    16.0
    """

    fold: Fold
    cloth: Cloth
    left_in: float = 0.0
    right_in: float = 0.0
    far_in: float = 0.0

    def __post_init__(self) -> None:
        turned = (self.left_in, self.right_in, self.far_in)
        if not all(math.isfinite(depth) and depth >= 0 for depth in turned):
            raise ValueError(f"a fold turns over nothing or more, found {turned}")
        if self.far_in and (self.left_in or self.right_in):
            raise ValueError("cloth is folded lengthwise or crosswise, not both at once")
        if 2 * (self.left_in + self.right_in) > self.cloth.width_in:
            raise LengthError(
                lambda say: (
                    f"turning over {say(self.left_in)} and {say(self.right_in)} needs cloth at least "
                    f"{say(2 * (self.left_in + self.right_in))} wide, and it is {say(self.cloth.width_in)}"
                )
            )

    @property
    def fold_lines(self) -> tuple[FoldLine, ...]:
        """The folds of the cloth, from the left; the crosswise one alone."""
        return tuple(zone.fold_line for zone in self.zones if zone.fold_line is not None)

    @property
    def zones(self) -> tuple[Zone, ...]:
        """What can be cut from, from the left; a zone without width is left out."""
        low, high = self.cloth.usable_in
        if self.far_in:
            line = FoldLine(direction=Direction.CROSSWISE, at_in=self.far_in, below=-1)
            return (Zone(left_in=low, right_in=high, fold_line=line),)
        single = Zone(
            left_in=2 * self.left_in or low,
            right_in=self._width - 2 * self.right_in if self.right_in else high,
        )
        zones = (*self._left_zone(), single, *self._right_zone())
        return tuple(zone for zone in zones if zone.width_in > 0)

    @property
    def _width(self) -> float:
        return self.cloth.width_in

    def _left_zone(self) -> tuple[Zone, ...]:
        line = FoldLine(direction=Direction.LENGTHWISE, at_in=self.left_in, below=1)
        return (
            Zone(left_in=self.left_in, right_in=2 * self.left_in - self.cloth.selvedge_in, fold_line=line),
        )

    def _right_zone(self) -> tuple[Zone, ...]:
        fold_in = self._width - self.right_in
        line = FoldLine(direction=Direction.LENGTHWISE, at_in=fold_in, below=-1)
        return (
            Zone(left_in=fold_in - self.right_in + self.cloth.selvedge_in, right_in=fold_in, fold_line=line),
        )
