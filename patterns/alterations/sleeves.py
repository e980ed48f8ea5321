"""The sleeve of a cut-on piece: its hem moved along the overarm, or of another length."""

import math
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from patterns.alterations.meeting import laid, run_on
from patterns.alterations.necks import LEAST_BODY_IN
from patterns.alterations.reshaping import eased
from patterns.curves import Array, Curve
from patterns.errors import PatternError
from patterns.saying import LengthError
from patterns.shape import Shape

SLEEVE_HEM: Final = "sleeve hem"  # from the overarm to the side
SIDE: Final = "side"  # from the sleeve hem round the underarm and down to the hem
UNDERARM_TURN: Final = 0.9  # of the whole turn from sleeve to side: the rest is the side's own shape
STRAIGHT_RAD: Final = math.radians(10)  # a side that turns less has no underarm to speak of


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sleeve:
    """A sleeve's edges: overarm and side walked away from the body's middle line, the hem from overarm to side.

    `side` is walked from the sleeve hem down.
    """

    shape: Shape
    number: int
    to_side: bool
    overarm: Curve
    hem: Curve
    side: Curve

    @classmethod
    def of(cls, shape: Shape) -> "Sleeve":
        """The sleeve of the shape; PatternError unless its sleeve hem lies next to its side."""
        number, side = shape.number(SLEEVE_HEM), shape.number(SIDE)
        before, after = shape.neighbours(number)
        if side not in (before, after):
            raise PatternError(f"{shape.name}: its sleeve hem does not meet its side; name the edges between")
        to_side = side == after
        curves = [
            shape.edges[i].curve for i in ((before, number, after) if to_side else (after, number, before))
        ]
        overarm, hem, down = curves if to_side else [curve.reversed() for curve in curves]
        return cls(shape=shape, number=number, to_side=to_side, overarm=overarm, hem=hem, side=down)

    @property
    def underarm_in(self) -> float:
        """How far along the side the underarm curve ends, in inches; the whole side where it hardly turns."""
        return self._turned_by(UNDERARM_TURN)

    def _turned_by(self, share: float) -> float:
        """How far along the side it has turned that share of the way to the steepest that it comes to."""
        steps = np.diff(self.side.points, axis=0)
        lengths = np.cumsum(np.hypot(*steps.T))
        from_down = np.abs(np.arctan2(steps[:, 0], steps[:, 1]))
        turned = from_down[0] - from_down
        if turned.max() < STRAIGHT_RAD:
            return self.side.length_in
        return float(lengths[np.argmax(turned >= share * turned.max())])

    def lengthened(self, by_in: float) -> Shape:
        """The shape with the overarm `by_in` longer, or shorter, and the sleeve hem parallel to what it was.

        Raises PatternError where nothing of the sleeve would be left.
        """
        name, length = self.shape.name, self.overarm.length_in
        if length + by_in < LEAST_BODY_IN:
            raise LengthError(
                lambda say: (
                    f"{name}: a sleeve {say(-by_in)} shorter leaves no overarm, which is {say(length)} long; "
                    f"shorten it by at most {say(length - LEAST_BODY_IN)}"
                )
            )
        along = self.overarm.point_at(length + min(by_in, 0.0)) + self.overarm.end_tangent * max(by_in, 0.0)
        hem = Curve(self.hem.beziers + (along - self.overarm.end))
        made = laid(
            self.shape, self.number, self.walked(hem), by_in, "further out" if by_in > 0 else "further in"
        )
        if Sleeve.of(made).side.length_in < self.side.length_in - self._turned_by(0.5):
            raise LengthError(
                lambda say: (
                    f"{name}: a sleeve {say(-by_in)} shorter would be cut off beyond the underarm; shorten it "
                    "by less"
                )
            )
        return made

    def opened(self, opening_in: float) -> Shape:
        """The shape with a sleeve hem of that length, its end at the overarm where it was.

        The side is re-joined smoothly between there and the underarm. Raises PatternError where the opening
        would hang below the piece.
        """
        if opening_in < LEAST_BODY_IN:
            raise LengthError(
                lambda say: (
                    f"{self.shape.name}: a sleeve opening of {say(opening_in)} lets no hand through; make it at least "
                    f"{say(LEAST_BODY_IN)}, and as wide as the arm wants"
                )
            )
        longer = opening_in > self.hem.length_in
        hem = run_on(self.hem, opening_in - self.hem.length_in) if longer else self.hem.between(0, opening_in)
        if self.hem.is_straight and len(self.hem.beziers) == 1:
            hem = Curve.straight(np.stack([hem.start, hem.end]))
        lowest = float(self.side.end[1]) - LEAST_BODY_IN
        if self.hem.end[1] <= lowest < hem.end[1]:
            most = self.hem.length_in + (lowest - self.hem.end[1]) / self.hem.end_tangent[1]
            raise LengthError(
                lambda say: (
                    f"{self.shape.name}: a sleeve opening of {say(opening_in)} would hang down to the end of the "
                    f"side, which is at {say(float(self.side.end[1]))}; make it at most {say(most)}"
                )
            )
        side = self.rejoined(hem.end - self.hem.end)
        edges = list(self.shape.edges)
        before, after = self.shape.neighbours(self.number)
        number = after if self.to_side else before
        edges[self.number] = replace(edges[self.number], curve=self.walked(hem))
        edges[number] = replace(edges[number], curve=self.walked(side))
        return replace(self.shape, edges=tuple(edges))

    def rejoined(self, by: Array) -> Curve:
        """The side with its end at the sleeve hem moved `by` (2,) inches, and as it was from the underarm on."""
        if self.side.is_straight:
            return Curve.straight(np.array([self.side.start + by, *self.side.corners[1:]]))
        return eased(self.side, by, self.underarm_in)

    def walked(self, curve: Curve) -> Curve:
        """A curve walked as the sleeve is, from overarm to side, as the shape is walked; or the other way about."""
        return curve if self.to_side else curve.reversed()
