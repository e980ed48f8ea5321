"""The neck of a half piece, which the changes to necks work on."""

import math
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import shapely

from patterns.alterations.meeting import run_on
from patterns.alterations.reshaping import stretched, warped
from patterns.curves import Array, Curve
from patterns.errors import PatternError
from patterns.parts import Kind
from patterns.saying import LengthError
from patterns.shape import Shape, ShapeEdge

NECK: Final = "neck"  # the edge that the neck changes work on
LEAST_BODY_IN: Final = 1.0  # of a piece left beside a change: less cannot be sewn


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Neck:
    """The neck of a piece on the fold, walked from the fold, and the shoulder on from it."""

    shape: Shape
    number: int
    from_fold: bool
    curve: Curve

    @classmethod
    def of(cls, shape: Shape) -> "Neck":
        """The neck of the shape; PatternError unless it lies beside a fold."""
        number = shape.number(NECK)
        fold = shape.fold
        if fold is None or number not in shape.neighbours(fold):
            raise PatternError(
                f"{shape.name}: a neck is changed on a half piece; cut it on the fold, the neck beside it"
            )
        from_fold = number == shape.neighbours(fold)[1]
        curve = shape.edges[number].curve
        return cls(
            shape=shape, number=number, from_fold=from_fold, curve=curve if from_fold else curve.reversed()
        )

    @property
    def centre(self) -> Array:
        """(2,) inches: its end at the fold."""
        return self.curve.start

    @property
    def shoulder(self) -> Array:
        """(2,) inches: the neck-shoulder point."""
        return self.curve.end

    @property
    def room_in(self) -> float:
        """How far its centre lies below the neck-shoulder point, in inches."""
        return float(self.centre[1] - self.shoulder[1])

    @property
    def body_end(self) -> float:
        """How far down the fold the piece ends, in inches."""
        fold = next(edge for edge in self.shape.edges if edge.kind is Kind.FOLD)
        return float(max(fold.curve.start[1], fold.curve.end[1]))

    def replaced(self, curve: Curve) -> Shape:
        """The shape with this curve, walked from the fold, for its neck."""
        edge: ShapeEdge = replace(
            self.shape.edges[self.number], curve=curve if self.from_fold else curve.reversed()
        )
        return self.shape.with_edge(edge, self.number)

    def with_depth(self, room_in: float) -> Shape:
        """The shape with the neck's centre `room_in` below the neck-shoulder point, which stays."""
        centre = np.array([0.0, self.shoulder[1] + room_in])
        if self.curve.is_straight:
            return self.replaced(stretched(self.curve, centre, self.shoulder))
        return self.replaced(_rounded(self.curve, self.room_in, room_in))

    def moved_along_shoulder(self, by_in: float) -> "Neck":
        """The neck wider by `by_in` along the shoulder, or narrower where that is less than nothing.

        The shoulder is cut off, or runs on straight; the neck is stretched to its new end, its centre stays.
        """
        number = self._beside
        edge = self.shape.edges[number]
        away = edge.curve if self.from_fold else edge.curve.reversed()
        if by_in > away.length_in - LEAST_BODY_IN:
            raise LengthError(
                lambda say: (
                    f"{self.shape.name}: a neck {say(by_in)} wider leaves no {edge.name}, which is "
                    f"{say(away.length_in)} long; widen it by at most {say(away.length_in - LEAST_BODY_IN)}"
                )
            )
        moved = away.between(by_in, away.length_in) if by_in > 0 else _begun_before(away, -by_in)
        self._check_shoulder(moved.start)
        edges = list(self.shape.edges)
        edges[number] = replace(edge, curve=moved if self.from_fold else moved.reversed())
        shape = replace(self.shape, edges=tuple(edges))
        curve = stretched(self.curve, self.centre, moved.start)
        return replace(self, shape=replace(self, shape=shape).replaced(curve), curve=curve)

    def along_shoulder_to(self, width_in: float) -> float:
        """How far along the shoulder, in inches, the neck-shoulder point moves to lie `width_in` from the fold.

        Less than nothing towards the fold. Raises PatternError where the shoulder does not reach so far.
        """
        edge = self.shape.edges[self._beside]
        away = edge.curve if self.from_fold else edge.curve.reversed()
        narrower = self.shoulder[0] - width_in
        if narrower >= 0 and away.start_tangent[0] > 0:
            return float(-narrower / away.start_tangent[0])
        line = shapely.LineString(away.points)
        low, high = line.bounds[1] - 1, line.bounds[3] + 1
        met = shapely.get_coordinates(
            line.intersection(shapely.LineString([(width_in, low), (width_in, high)]))
        )
        if not len(met):
            raise LengthError(
                lambda say: (
                    f"{self.shape.name}: a neck {say(width_in)} from the centre is beyond its {edge.name}; "
                    "make it narrower"
                )
            )
        return min(line.project(shapely.Point(place)) for place in met)

    @property
    def _beside(self) -> int:
        """The number of the edge that runs on from the neck-shoulder point."""
        before, after = self.shape.neighbours(self.number)
        return after if self.from_fold else before

    def _check_shoulder(self, point: Array) -> None:
        name = self.shape.name
        if point[0] <= 0:
            raise LengthError(
                lambda say: (
                    f"{name}: a neck so much narrower would close across the centre; it is "
                    f"{say(self.shoulder[0])} wide on the half piece, so narrow it by less"
                )
            )
        if self.room_in > 0 and point[1] >= self.centre[1]:
            raise LengthError(
                lambda say: (
                    f"{name}: a neck so much wider brings the neck-shoulder point below its centre, which is at "
                    f"{say(self.centre[1])}; lower the neck first, or widen it by less"
                )
            )


def _begun_before(curve: Curve, by_in: float) -> Curve:
    """The curve run on straight before its start; one straight line stays one."""
    start = curve.start - curve.start_tangent * by_in
    if curve.is_straight and len(curve.beziers) == 1:
        return Curve.straight(np.stack([start, curve.end]))
    return run_on(curve.reversed(), by_in).reversed() if by_in > 0 else curve


def _rounded(neck: Curve, room_in: float, left_in: float) -> Curve:
    """The neck curve with its centre `left_in` instead of `room_in` below its shoulder end.

    Two round necks, as `arc` has them, belong to the two depths. Every point keeps its share of the arc's angle
    and of the distance from it: a round neck stays round, one that is square to the fold stays so, and the
    shoulder end does not move.
    """
    shoulder = neck.end
    width = float(shoulder[0])
    before, after = arc(width, room_in), arc(width, left_in)
    flat = min(left_in, width) / min(room_in, width)

    def moved(points: Array) -> Array:
        across, up = points[:, 0], (shoulder[1] + room_in - points[:, 1]) / before.drop
        down = before.radius - up
        share = np.arctan2(across, down) / before.angle
        radius = after.radius + (np.hypot(across, down) - before.radius) * flat
        angle = share * after.angle
        risen = (after.radius - radius * np.cos(angle)) * after.drop
        placed: Array = np.stack([radius * np.sin(angle), shoulder[1] + left_in - risen], axis=1)
        return placed

    return warped(neck, moved).from_to(np.array([0.0, shoulder[1] + left_in]), shoulder)


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """A circle's arc from the fold, square to it: its radius and angle; `drop` times as high as the circle's."""

    radius: float
    angle: float
    drop: float


def arc(width_in: float, depth_in: float) -> Arc:
    """The arc of a round neck `width_in` wide and `depth_in` deep.

    The circle has the radius (w^2 + e^2) / 2e; where the neck is deeper than wide it is a quarter circle, drawn
    out to the depth: a quarter of an ellipse.
    """
    round_in = min(depth_in, width_in)
    radius = (width_in**2 + round_in**2) / (2 * round_in)
    return Arc(
        radius=radius, angle=math.atan2(width_in, radius - round_in), drop=max(depth_in / width_in, 1.0)
    )
