"""A piece that is brought to lie somewhere, and what goes with it."""

from typing import TYPE_CHECKING

from patterns.cutting.placement import Placement
from projector.cutting.on_cloth import place_for
from projector.cutting.work import Lies

if TYPE_CHECKING:
    from projector.stations.cut import CutStation


def following(station: "CutStation", placement: Placement) -> "CutStation":
    """The lit piece placed so on the table: by itself, or, where there is a lay, the cloth with all its pieces."""
    if not station.work.is_lay:
        return station.placed(placement)
    places = station.work.lies.places
    return station.lying(Lies(cloth=place_for(station.copy.place, placement), places=places))
