"""Two marks on the cloth, on the table or in the cloth's own inches; and a move of the cloth after it was placed."""

import numpy as np

from patterns.cutting.placement import Placement
from patterns.tracing.hand_trace import Place
from projector.cloth.cloth_place import ClothPlace

Marks = tuple[Place, Place]


def on_cloth(cloth: ClothPlace, table_in: Marks) -> Marks:
    """Two points of the table in the cloth's inches."""
    (a, b), (c, d) = cloth.on_cloth(np.array(table_in)).tolist()
    return (a, b), (c, d)


def on_table(cloth: ClothPlace, cloth_in: Marks) -> Marks:
    """Inverse of `on_cloth`."""
    (a, b), (c, d) = cloth.on_table(np.array(cloth_in)).tolist()
    return (a, b), (c, d)


def of_piece(place: Placement, piece_in: Marks) -> Marks:
    """Two points of a piece in the inches of the cloth that it has its place on."""
    (a, b), (c, d) = place.placed(np.array(piece_in)).tolist()
    return (a, b), (c, d)


def moved(cloth: ClothPlace, move: ClothPlace) -> ClothPlace:
    """Where the cloth lies once a move of the table's inches was made after it was placed."""
    x, y = move.on_table(np.array([[cloth.x_in, cloth.y_in]]))[0].tolist()
    return ClothPlace(x_in=x, y_in=y, turn_deg=cloth.turn_deg + move.turn_deg)
