"""The words on a piece that lies on the table to be cut."""

from typing import TYPE_CHECKING

from patterns.cutting.labels import Label
from projector.cutting.on_cloth import is_half

if TYPE_CHECKING:
    from projector.stations.cut import CutStation

MIRRORED = "mirrored"


def hand_matters(station: "CutStation") -> bool:
    """Whether left and right differ: a half that a lay has on a fold opens to the same piece either way."""
    return not (station.work.is_lay and is_half(station.piece, station.placement))


def piece_labels(station: "CutStation") -> list[Label]:
    """What stands on the lit piece, in table inches, to be read by the person."""
    labels = station.person.labels(station.piece, station.placement)
    return [label for label in labels if label.text != MIRRORED or hand_matters(station)]
