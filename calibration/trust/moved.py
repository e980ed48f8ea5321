"""What has moved since the alignment: the light, some of the sheets, everything or nothing."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

import numpy as np

from calibration.cameras.place import camera_in_frame
from calibration.errors import AlignmentError
from calibration.frames import Array
from calibration.photos.sightings import PhotoSighting
from calibration.solving.from_photos import turn_along_screen
from calibration.solving.joint_model import lie
from calibration.solving.proof import CUTTABLE_IN, in_words
from calibration.table.saved import Alignment
from calibration.trust.both_looks import BothLooks
from calibration.trust.drift import DriftTest
from calibration.trust.drift_words import FROM_ELSEWHERE, Cause, drift_sentence
from calibration.trust.look_again import LookAgain, in_frame, look_again
from calibration.trust.place_words import camera_words, place_words
from calibration.trust.surface import lit_grid

UNMOVED_IN: Final = 1 / 16  # what a projected line may be off (common practice): a doubt beyond it is told
_SMALL: Final = 2.0  # times the least move that is told
_NOT_FLAT_IN: Final = 0.003  # root mean square misfit of corners, as in the proof


@dataclass(frozen=True, slots=True, kw_only=True)
class Drift:
    """A drift test, what it puts the move down to, and the sheets that were moved by themselves.

    `doubt_in`: inches by which sheets that curl can make the light seem to have moved, seen from where they were.
    `look_from` says in words from where a new look would tell more; "" where this one tells enough.
    """

    test: DriftTest
    cause: Cause
    moved_sheets: tuple[int, ...]
    doubt_in: float
    look_from: str


def drift_of(photos: Sequence[PhotoSighting], alignment: Alignment) -> tuple[DriftTest, Alignment]:
    """What photos of the sheets still lying there say has moved, and the alignment by them.

    That keeps the lens's bow and the table frame. Raises AlignmentError as `judged` and `look_again` do.
    """
    again = look_again(photos, alignment)
    now = datetime.now().astimezone()
    return judged(again, alignment, now).test, aligned_again(again, alignment, now)


def judged(again: LookAgain, alignment: Alignment, looked_on: datetime) -> Drift:
    """What has moved; raises AlignmentError where the sheets have been laid anew, so that nothing tells."""
    both = BothLooks(again, alignment)
    group = both.together
    if not group:
        raise AlignmentError(
            f"None of the {len(both.numbers)} sheets keeps its place to another or to the light: they have been "
            "laid anew, and drift cannot be told; align again with --realign"
        )
    away, doubt = np.hypot(*both.light_moves(group).T), both.light_doubt(group)
    worst = int(away.argmax())
    moved_in, within_in = float(away[worst]), max(float((away + doubt).max()), both.least_move_in)
    moved = bool((away > both.least_move_in + doubt).any())
    sure = moved or within_in <= UNMOVED_IN or float(doubt.max()) <= both.least_move_in
    strayed = tuple(number for number in both.numbers if number not in group)
    cause = _cause(moved, sure, bool(strayed), len(both.numbers))
    look_from = "" if sure else _looked_from(alignment, both)
    where = place_words(both.area[worst], both.area, alignment.turn_deg)
    what = drift_sentence(cause, moved_in, where, strayed, within_in, look_from)
    small = moved_in < _SMALL * both.least_move_in and again.rms_in > _NOT_FLAT_IN
    if moved and small and not again.curled:
        what += FROM_ELSEWHERE
    return Drift(
        test=DriftTest(looked_on=looked_on, moved_in=moved_in, what=what, moved=moved, sure=sure),
        cause=cause,
        moved_sheets=strayed,
        doubt_in=float(doubt.max()),
        look_from=look_from,
    )


def _cause(moved: bool, sure: bool, strayed: bool, sheets: int) -> Cause:
    if not sure:
        return "unsure"
    if moved and sheets == 1:
        return "light or sheet"
    if moved:
        return "light and sheets" if strayed else "light"
    return "sheets" if strayed else "nothing"


def _looked_from(alignment: Alignment, both: BothLooks) -> str:
    places = [camera_words(camera.at_in, both.area, alignment.turn_deg) for camera in alignment.cameras]
    return ", and ".join(dict.fromkeys(places))


def aligned_again(again: LookAgain, alignment: Alignment, looked_on: datetime) -> Alignment:
    """The alignment by the new look: the lens's bow as it was, and the table frame too if a sheet still tells it.

    What was unsure in the saved one stays so, and the new look adds its own noise.
    """
    both = BothLooks(again, alignment)
    frame = both.frame(both.together) if both.together else np.zeros(3)
    found = in_frame(again.map, frame)
    if not both.together:
        alignment = replace(alignment, turn_deg=turn_along_screen(found), shift_in=(0.0, 0.0))
    noise_in = float(np.quantile(found.forecast(lit_grid(found)), 0.95))
    p95_in = float(np.hypot(alignment.p95_in, 2 * noise_in))
    covariance = np.array(found.covariance) + np.array(alignment.map.covariance)
    size = "shape and size are both checked" if alignment.size_checked else "size is not checked"
    return replace(
        alignment,
        map=replace(
            found,
            covariance=tuple(tuple(row) for row in covariance.tolist()),
            floor_in=alignment.map.floor_in,
        ),
        aligned_on=looked_on,
        rms_in=again.rms_in,
        p95_in=p95_in,
        verdict=f"Good to {in_words(p95_in)} over the lit table, aligned again with the lens's bow kept; {size}.",
        trustworthy=alignment.trustworthy and 2 * noise_in <= CUTTABLE_IN,
        sheets=len(again.places),
        photos=again.photos,
        marks=again.marks,
        sheet_places=tuple(_outer(frame, again.places[number]) for number in both.numbers),
        cameras=tuple(camera_in_frame(camera, frame) for camera in again.cameras),
    )


def _outer(frame: Array, place: Array) -> tuple[float, float, float]:
    x, y = lie(frame, place[None, :2])[0]
    return float(x), float(y), float(np.rad2deg(frame[2] + place[2]))
