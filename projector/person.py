"""The table as the person at its edge sees it: right and away instead of x and y."""

from dataclasses import replace
from functools import cache
from typing import Final, NamedTuple

import numpy as np

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.labels import Label, labels_of
from patterns.cutting.placement import Placement

QUARTER: Final = 90.0
SIDES: Final = 4
FAR: Final = 2  # the side across the table, from which what is upright stands on its head


class Person(NamedTuple):
    """`facing_deg` is the turn, anticlockwise from above, that makes a word upright for the person."""

    facing_deg: float = 0.0

    @property
    def axes(self) -> Array:
        """(2, 2) table directions: first to the person's right, then away from them."""
        return _axes(self.facing_deg)

    def seen(self, table_in: Array) -> Array:
        """(n, 2) table inches as right and away."""
        seen: Array = table_in @ self.axes.T
        return seen

    def on_table(self, seen_in: Array) -> Array:
        """Inverse of `seen`."""
        table: Array = seen_in @ self.axes
        return table

    def labels(self, piece: DraftedPiece, placement: Placement) -> tuple[Label, ...]:
        """The placed piece's words, in table inches, that read from left to right for the person."""
        origin = self.seen(np.array([[placement.x_in, placement.y_in]]))[0]
        seen = replace(
            placement,
            x_in=float(origin[0]),
            y_in=float(origin[1]),
            turn_deg=placement.turn_deg - self.facing_deg,
        )
        labels = labels_of(piece, seen)
        places = self.on_table(np.array([(label.at, label.along) for label in labels]))
        return tuple(
            replace(label, at=at, along=along) for label, (at, along) in zip(labels, places, strict=True)
        )


def across(side: int) -> int:
    """The far side for a person at any other, and the near one for who stands there.

    >>> [across(side) for side in range(SIDES)]
    [2, 2, 0, 2]
    """
    return 0 if side == FAR else FAR


@cache
def _axes(facing_deg: float) -> Array:
    angle = np.deg2rad(facing_deg)
    right = np.array([np.cos(angle), np.sin(angle)])
    axes = np.array([right, [-right[1], right[0]]])
    axes.flags.writeable = False
    return axes


def room_across(border_seen: Array, low: float, high: float) -> tuple[float, float] | None:
    """Left and right end of the widest box between two distances away that a convex border holds.

    None where the border does not reach that far.
    """
    lefts, rights = [], []
    for away in (low, high):
        crossing = _crossings(border_seen, away)
        if not len(crossing):
            return None
        lefts.append(crossing.min())
        rights.append(crossing.max())
    left, right = float(max(lefts)), float(min(rights))
    return (left, right) if right > left else None


def _crossings(border: Array, away: float) -> Array:
    start, end = border, np.concatenate([border[1:], border[:1]])
    over = (start[:, 1] <= away) != (end[:, 1] <= away)
    start, end = start[over], end[over]
    share = (away - start[:, 1]) / (end[:, 1] - start[:, 1])
    crossings: Array = start[:, 0] + share * (end[:, 0] - start[:, 0])
    return crossings
