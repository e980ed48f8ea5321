"""Where the cloth lies on the table: pieces have their places on the cloth, and go with it."""

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from calibration.frames import Array
from patterns.cutting.placement import Placement


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothPlace:
    """A rigid placing of cloth inches on table inches, y up in both; `turn_deg` is anticlockwise from above.

    Until somebody says where the cloth lies, its frame is the table's.
    """

    x_in: float = 0.0
    y_in: float = 0.0
    turn_deg: float = 0.0

    def __post_init__(self) -> None:
        if not all(math.isfinite(value) for value in (self.x_in, self.y_in, self.turn_deg)):
            raise ValueError("a place must be finite")

    def on_table(self, cloth_in: Array) -> Array:
        """(n, 2) table inches of (n, 2) cloth inches.

        >>> ClothPlace(x_in=10, turn_deg=90).on_table(np.array([[2.0, 0.0]])).round(9)
        array([[10.,  2.]])
        """
        table: Array = np.asarray(cloth_in, dtype=np.float64) @ self._turn().T + (self.x_in, self.y_in)
        return table

    def on_cloth(self, table_in: Array) -> Array:
        """(n, 2) cloth inches of (n, 2) table inches: the inverse of `on_table`."""
        cloth: Array = (np.asarray(table_in, dtype=np.float64) - (self.x_in, self.y_in)) @ self._turn()
        return cloth

    def laid(self, place: Placement) -> Placement:
        """The placement on the table of a piece's place on the cloth."""
        return _laid(self, place)

    def lifted(self, placement: Placement) -> Placement:
        """The place on the cloth of a piece that is placed on the table: the inverse of `laid`."""
        x, y = self.on_cloth(np.array([[placement.x_in, placement.y_in]]))[0].tolist()
        return replace(placement, x_in=x, y_in=y, turn_deg=placement.turn_deg - self.turn_deg)

    def _turn(self) -> Array:
        turn = math.radians(self.turn_deg)
        cos, sin = math.cos(turn), math.sin(turn)
        return np.array([[cos, -sin], [sin, cos]])


@lru_cache(maxsize=256)
def _laid(cloth: ClothPlace, place: Placement) -> Placement:
    """Asked for all copies several times a frame, of which one has moved."""
    x, y = cloth.on_table(np.array([[place.x_in, place.y_in]]))[0].tolist()
    return replace(place, x_in=x, y_in=y, turn_deg=place.turn_deg + cloth.turn_deg)
