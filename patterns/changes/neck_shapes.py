"""The changes that give a neck another shape: V, round, scoop and square."""

import math
from abc import abstractmethod
from dataclasses import dataclass
from typing import ClassVar, Final

import numpy as np

from patterns.alterations.necks import LEAST_BODY_IN, Neck, arc
from patterns.changes.change import check_positive, uncrossed
from patterns.changes.draft import Draft
from patterns.changes.neck_places import OfNeck
from patterns.curves import Array, Curve
from patterns.measures import Length
from patterns.saying import LengthError

SCOOP_ACROSS: Final = 3 / 4  # of the half width: so far the bottom of a scoop sets out level
SCOOP_DOWN: Final = 2 / 3  # of the depth: so far its side sets out straight down
_ARC_PIECES: Final = 8  # cubics for a neck's arc, off the true one by less than a millionth of its radius


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapedNeck(OfNeck):
    """A neck drawn anew, `depth` below the high shoulder point at the centre, on the seam line.

    That point is the top of the shoulder as it was traced, wherever the neck ends by now (`checks/high_point.py`).
    The neck-shoulder point stays, or with `width` lies so far from the centre line, where the shoulder or its
    straight run-on is. Give front and back the same width, or their shoulders differ.
    """

    opens: ClassVar[str] = "neck"
    a_shape: ClassVar[str]  # in words, for a refusal
    depth: Length
    width: Length | None = None

    def __post_init__(self) -> None:
        check_positive(self.depth, "a depth")
        check_positive(self.width, "a width")

    @abstractmethod
    def drawn(self, centre: Array, shoulder: Array) -> Curve:
        """The neck from `centre` on the fold to the neck-shoulder point, (2,) inches each."""

    def apply(self, draft: Draft) -> Draft:
        """The draft with the neck; PatternError if it lies beyond the shoulder, the hem or another edge."""
        neck = Neck.of(draft.shape(self.piece))
        if self.width is not None:
            neck = neck.moved_along_shoulder(neck.along_shoulder_to(self.width.inches))
        name, depth = self.piece, self.depth.inches
        if depth <= neck.shoulder[1]:
            raise LengthError(
                lambda say: (
                    f"{name}: {self.a_shape} {self.depth.words} deep would lie above the neck-shoulder point, "
                    f"which is at {say(neck.shoulder[1])}; make it deeper"
                )
            )
        if depth > neck.body_end - LEAST_BODY_IN:
            raise LengthError(
                lambda say: (
                    f"{name}: {self.a_shape} {self.depth.words} deep leaves no body at the centre, which ends at "
                    f"{say(neck.body_end)}; make it at most {say(neck.body_end - LEAST_BODY_IN)}"
                )
            )
        changed = neck.replaced(self.drawn(np.array([0.0, depth]), neck.shoulder))
        return draft.with_shape(uncrossed(changed, f"{self.a_shape} {self.depth.words} deep"))


@dataclass(frozen=True, slots=True, kw_only=True)
class VNeck(ShapedNeck):
    """`neck: v`: a straight line from the neck-shoulder point to the depth at the centre."""

    says: ClassVar[str] = "v"
    keeps: ClassVar[str] = "the neck-shoulder point where it is, unless a width is given; the fold straight"
    a_shape: ClassVar[str] = "a V"

    def drawn(self, centre: Array, shoulder: Array) -> Curve:
        """One straight line."""
        return Curve.straight(np.array([centre, shoulder]))


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundNeck(ShapedNeck):
    """`neck: round`: a circle's arc that meets the fold square.

    Its radius is (w^2 + e^2) / 2e for a neck w wide on the half and e deep from the neck-shoulder point. One
    that is deeper than wide is a quarter of an ellipse, which falls straight down from the neck-shoulder point.
    """

    says: ClassVar[str] = "round"
    keeps: ClassVar[str] = "the neck-shoulder point, unless a width is given; the neck square to the fold"
    a_shape: ClassVar[str] = "a round neck"

    def drawn(self, centre: Array, shoulder: Array) -> Curve:
        """An arc, of a circle or of an ellipse."""
        round_ = arc(float(shoulder[0]), float(centre[1] - shoulder[1]))
        turns = np.linspace(0, round_.angle, _ARC_PIECES + 1)
        step = turns[1]
        places = np.stack([np.sin(turns), np.cos(turns) - 1], axis=1)
        slopes = np.stack([np.cos(turns), -np.sin(turns)], axis=1) * 4 * math.tan(step / 4) / step
        circle = Curve.hermite(places, slopes, np.full(_ARC_PIECES, step))
        drawn = Curve(centre + circle.beziers * round_.radius * (1.0, round_.drop))
        return drawn.from_to(centre, shoulder)


@dataclass(frozen=True, slots=True, kw_only=True)
class ScoopNeck(ShapedNeck):
    """`neck: scoop`: flatter at the bottom and fuller at the sides than a round neck of that depth.

    One cubic: it sets out level from the fold, its handle three quarters of the half width long, and straight
    down from the neck-shoulder point, its handle two thirds of the depth long.
    """

    says: ClassVar[str] = "scoop"
    keeps: ClassVar[str] = "the neck-shoulder point, unless a width is given; the neck square to the fold"
    a_shape: ClassVar[str] = "a scoop"

    def drawn(self, centre: Array, shoulder: Array) -> Curve:
        """One cubic."""
        level = centre + SCOOP_ACROSS * np.array([shoulder[0], 0.0])
        down = shoulder + SCOOP_DOWN * np.array([0.0, centre[1] - shoulder[1]])
        return Curve(np.array([[centre, level, down, shoulder]]))


@dataclass(frozen=True, slots=True, kw_only=True)
class SquareNeck(ShapedNeck):
    """`neck: square`: level from the fold to a corner, then straight up to the neck-shoulder point.

    The corner lies below that point, or with `corner` so far from the centre line.
    """

    says: ClassVar[str] = "square"
    keeps: ClassVar[str] = "the neck-shoulder point, unless a width is given; the neck square to the fold"
    a_shape: ClassVar[str] = "a square neck"
    corner: Length | None = None

    def __post_init__(self) -> None:
        ShapedNeck.__post_init__(self)
        check_positive(self.corner, "a distance from the centre line")

    def drawn(self, centre: Array, shoulder: Array) -> Curve:
        """Two straight lines."""
        across = float(shoulder[0]) if self.corner is None else self.corner.inches
        return Curve.straight(np.array([centre, [across, centre[1]], shoulder]))
