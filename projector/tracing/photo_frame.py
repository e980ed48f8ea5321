"""From the frame of a photo's sheets to the table's: where a garment in the photo lies in the projector's light."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from calibration.frames import Array
from calibration.garment.sheet_camera import SheetCamera
from calibration.sheets.sheet import PAPERS, Sheet
from calibration.table.saved import Alignment
from patterns.cutting.placement import Placement
from projector.errors import ProjectorError
from projector.person import Person
from projector.trust import rounded_up

MOST_MOVED_IN: Final = 1 / 16  # what a projected line may be off (common practice)

SheetPlace = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoFrame:
    """`first` is where the photo's frame, its first sheet's, lies on the table: x and y inches, turn in degrees.

    `moved_in` is how far the other sheets lie from where they lay for the alignment; None where none can tell.
    """

    first: SheetPlace
    moved_in: float | None

    def on_table(self, placement: Placement) -> Placement:
        """A placement in the photo's frame as one in the table's."""
        x, y = _laid(self.first, np.array([[placement.x_in, placement.y_in]]))[0].tolist()
        return Placement(
            x_in=x, y_in=y, turn_deg=placement.turn_deg + self.first[2], mirrored=placement.mirrored
        )


def photo_frame(camera: SheetCamera, alignment: Alignment) -> PhotoFrame:
    """By the sheets that the photo and the alignment both know; without any, the camera itself knows the table's frame.

    Raises ProjectorError where the photo's first sheet was not there for the alignment, and where the sheets have
    moved since: the light would fall beside the garment.
    """
    if not camera.sheet_numbers:  # a camera that stands as it did sees in the table's own frame
        return PhotoFrame(first=(0.0, 0.0, 0.0), moved_in=None)
    places = dict(enumerate(alignment.sheet_places, start=1))
    first, *others = camera.sheet_numbers
    if first not in places:
        raise ProjectorError(
            f"the photo's sheet {first} was not on the table for the alignment, so where the garment lies in the "
            "light is not known; take the photo with the sheets that were aligned, as they lay"
        )
    frame = places[first]
    corners = Sheet(paper=PAPERS[alignment.paper or "letter"], number=1).outline_in
    moved = [
        float(np.hypot(*(_laid(frame, _laid(seen, corners)) - _laid(places[number], corners)).T).max())
        for number, seen in zip(camera.sheet_numbers, camera.sheet_places, strict=True)
        if number in others and number in places
    ]
    if moved and max(moved) > MOST_MOVED_IN:
        raise ProjectorError(
            f"the sheets have moved by {rounded_up(max(moved))} since the alignment, so the light would be beside "
            "the garment; lay them as they were, or align again"
        )
    return PhotoFrame(first=frame, moved_in=max(moved) if moved else None)


def _laid(place: SheetPlace, points_in: Array) -> Array:
    x, y, turn_deg = place
    laid: Array = Person(facing_deg=turn_deg).on_table(points_in) + (x, y)
    return laid
