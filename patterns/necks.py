"""The neck of a half piece, which the changes to necks work on."""

import math
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from patterns.curves import Array, Curve
from patterns.errors import PatternError
from patterns.parts import Kind
from patterns.shape import Shape, ShapeEdge

NECK: Final = "neck"  # the edge that the neck changes work on
_RESHAPED_AT: Final = 17  # places at which a reshaped neck is held to its true curve


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Neck:
    """The neck of a piece on the fold, walked from the fold to the neck-shoulder point."""

    shape: Shape
    number: int
    from_fold: bool
    curve: Curve

    @classmethod
    def of(cls, shape: Shape) -> "Neck":
        """The neck of the shape; PatternError unless it lies beside a fold."""
        number = shape.number(NECK)
        fold, count = shape.fold, len(shape.edges)
        if fold is None or number not in ((fold + 1) % count, (fold - 1) % count):
            raise PatternError(
                f"{shape.name}: a neck is changed on a half piece; cut it on the fold, the neck beside it"
            )
        from_fold = number == (fold + 1) % count
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


def raised(neck: Curve, room_in: float, left_in: float) -> Curve:
    """The neck curve with its centre `left_in` instead of `room_in` below its shoulder end.

    Two circles square to the fold belong to the two necks, before and after. Every point keeps its share of
    the circle's angle and of the distance from the circle: a circular neck stays circular, one that is square
    to the fold stays so, and the shoulder end does not move.
    """
    shoulder = neck.end
    width = float(shoulder[0])
    cells = np.linspace(0, 1, _RESHAPED_AT)
    lengths = cells * neck.length_in
    nudge = 1e-5 * neck.length_in
    before, after = _circle(width, room_in), _circle(width, left_in)

    def moved(points: Array) -> Array:
        centre_y = shoulder[1] + room_in - before[0]
        across, down = points[:, 0], points[:, 1] - centre_y
        share = np.arctan2(across, down) / before[1]
        out = np.hypot(across, down) - before[0]
        radius = after[0] + out * (left_in / room_in)
        angle = share * after[1]
        new_centre_y = shoulder[1] + left_in - after[0]
        placed: Array = np.stack([radius * np.sin(angle), new_centre_y + radius * np.cos(angle)], axis=1)
        return placed

    spans, along = neck.places_at(lengths)
    before_points = neck.at_parameters(spans, along)
    nudges = neck.tangents(spans, along) * nudge
    points = moved(before_points)
    slopes = (moved(before_points + nudges) - moved(before_points - nudges)) / (2 * nudge)
    points[0, 0], points[-1] = 0.0, shoulder
    return Curve.hermite(points, slopes, np.diff(lengths))


def _circle(width_in: float, depth_in: float) -> tuple[float, float]:
    """Radius and angle of the arc, square to the fold, that is `width_in` wide and `depth_in` deep."""
    radius = (width_in**2 + depth_in**2) / (2 * depth_in)
    return radius, math.atan2(width_in, radius - depth_in)
