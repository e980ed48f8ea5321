"""A piece that is brought to lie somewhere, and what goes with it."""

from typing import TYPE_CHECKING

from patterns.cutting.placement import Placement
from projector.cloth.laid_pieces import LaidPieces
from projector.cloth.on_cloth import place_for
from projector.cutting.stage import Stage
from projector.cutting.work import CutWork, Lies

if TYPE_CHECKING:
    from projector.stations.cut import CutStation


def following(station: "CutStation", placement: Placement) -> "CutStation":
    """The lit piece placed so on the table: by itself, or with the cloth in a lay, and where that has moved."""
    if station.stage is not Stage.FINDING:
        return station.placed(placement)
    places = station.work.lies.places
    return station.lying(Lies(cloth=place_for(station.copy.place, placement), places=places))


def lies_of(work: CutWork, shown: int, laid: LaidPieces) -> Lies:
    """Where all lies once the copy `shown` lies as `laid` has it: in a lay the cloth goes with it, and all on it."""
    if not work.is_lay or laid.placements == work.placements:
        return work.placed(laid.placements).lies
    cloth = place_for(work.copies[shown].place, laid.placements[shown])
    return Lies(cloth=cloth, places=work.lies.places)
