"""What has moved since the alignment: the light, some of the sheets, everything or nothing."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import combinations
from typing import Literal

import numpy as np

from calibration.drift import DriftTest
from calibration.errors import AlignmentError
from calibration.frames import Array, TableInches
from calibration.from_photos import turn_along_screen
from calibration.joint_model import lie
from calibration.look_again import LookAgain, in_frame, look_again
from calibration.proof import CUTTABLE_IN, in_words
from calibration.saved import Alignment
from calibration.sightings import PhotoSighting
from calibration.starts import rigid
from calibration.surface import lit_grid

LEAST_MOVE_IN = 1 / 64  # no one sees less
SURE_SIGMAS = 2.5  # of both looks together, that still light may seem to have moved by at its worst place
_SHEET_SIGMAS = 4.2  # the same for a corner of a page, where curl shows more
_LEAST_SHEET_MOVE_IN = 1 / 32
_PAGE_IN = np.array([(-4.2, -5.5), (4.2, -5.5), (4.2, 5.5), (-4.2, 5.5)])  # either paper, nearly

_SMALL = 2.0  # times the least move that is told
_NOT_FLAT_IN = 0.003  # root mean square misfit of corners, as in the proof
_FROM_ELSEWHERE = (
    " The table or the paper is not flat, and from another side that can look like a small move: photograph from "
    "where you did for the alignment to be sure."
)

Cause = Literal["nothing", "light", "sheets", "light and sheets", "light or sheet"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Drift:
    """A drift test, what it puts the move down to, and the sheets that were moved by themselves."""

    test: DriftTest
    cause: Cause
    moved_sheets: tuple[int, ...]


def drift_of(photos: Sequence[PhotoSighting], alignment: Alignment) -> tuple[DriftTest, Alignment]:
    """What photos of the sheets still lying there say has moved, and the alignment by them.

    That keeps the lens's bow and the table frame. Raises AlignmentError as `judged` and `look_again` do.
    """
    again = look_again(photos, alignment)
    now = datetime.now().astimezone()
    return judged(again, alignment, now).test, aligned_again(again, alignment, now)


def judged(again: LookAgain, alignment: Alignment, looked_on: datetime) -> Drift:
    """What has moved; raises AlignmentError where the sheets have been laid anew, so that nothing tells."""
    both = _BothLooks(again, alignment)
    group = both.together
    if not group:
        raise AlignmentError(
            f"None of the {len(both.numbers)} sheets keeps its place to another or to the light: they have been "
            "laid anew, and drift cannot be told; align again with --realign"
        )
    shift = both.light_moves(group)
    away = np.hypot(*shift.T)
    worst = int(away.argmax())
    moved_in = float(away[worst])
    moved = moved_in > both.least_move_in
    strayed = tuple(number for number in both.numbers if number not in group)
    where = place_words(both.area[worst], both.area, alignment.turn_deg)
    if moved and len(both.numbers) == 1:
        cause: Cause = "light or sheet"
    elif moved:
        cause = "light and sheets" if strayed else "light"
    else:
        cause = "sheets" if strayed else "nothing"
    what = _sentence(cause, moved_in, where, strayed, both.least_move_in)
    if moved and moved_in < _SMALL * both.least_move_in and again.rms_in > _NOT_FLAT_IN:
        what += _FROM_ELSEWHERE
    test = DriftTest(looked_on=looked_on, moved_in=moved_in, what=what, moved=moved)
    return Drift(test=test, cause=cause, moved_sheets=strayed)


def aligned_again(again: LookAgain, alignment: Alignment, looked_on: datetime) -> Alignment:
    """The alignment by the new look: the lens's bow as it was, and the table frame too if a sheet still tells it.

    What was unsure in the saved one stays so, and the new look adds its own noise.
    """
    both = _BothLooks(again, alignment)
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
    )


def place_words(point: Array, area: TableInches, turn_deg: float) -> str:
    """Where a point lies in the area, as one says it who stands at the table's near edge.

    >>> place_words(np.array([-9.0, 8.0]), TableInches(np.array([[-10.0, -9], [10, 9]])), 0.0)
    'near the far left corner'
    """
    angle = np.deg2rad(turn_deg)
    across, up = np.array(
        [[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]]
    ) @ np.column_stack([point, area.T])
    column = _third(across, ("left", "", "right"))
    row = _third(up, ("near", "", "far"))
    if column and row:
        return f"near the {row} {column} corner"
    if column or row:
        return f"near the {row or column} edge"
    return "near the middle"


def _third(along: Array, names: tuple[str, str, str]) -> str:
    low, high = along[1:].min(), along[1:].max()
    return names[int(np.clip(3 * (along[0] - low) / (high - low), 0, 2))]


class _BothLooks:
    """Sheets and light of the saved alignment beside those of the new look."""

    def __init__(self, again: LookAgain, alignment: Alignment) -> None:
        saved = {n: np.array((x, y, np.deg2rad(t))) for n, (x, y, t) in enumerate(alignment.sheet_places, 1)}
        self.numbers = sorted(set(saved) & set(again.places))
        if not self.numbers:
            raise AlignmentError(
                "The alignment knows no places of sheets to compare with; it was made without them: check by hand "
                "with --by-hand, or align again from a photo"
            )
        self._saved, self._again = saved, again
        self._alignment = alignment
        self.area = lit_grid(alignment.map)
        self._pixels = alignment.map.screen_from_table(self.area)
        both_sigma_in = float(
            np.sqrt(2) * again.map.forecast(again.map.table_from_screen(self._pixels)).max()
        )
        self.least_move_in = max(SURE_SIGMAS * both_sigma_in, LEAST_MOVE_IN)
        self._least_sheet_move_in = max(_SHEET_SIGMAS * both_sigma_in, _LEAST_SHEET_MOVE_IN)
        self.together = self._kept_together()

    def frame(self, group: Sequence[int]) -> Array:
        """Place of the new look's frame in the saved one, by the lowest-numbered sheet of those that stayed."""
        first = group[0]
        return rigid(lie(self._again.places[first], _PAGE_IN), lie(self._saved[first], _PAGE_IN))

    def light_moves(self, group: Sequence[int]) -> Array:
        """(n, 2) inches by which the light for each point of the area has moved, if these sheets have not."""
        lands: Array = lie(self.frame(group), self._again.map.table_from_screen(self._pixels)) - self.area
        return lands

    def _kept_together(self) -> tuple[int, ...]:
        """The most sheets that kept their places to one another; a lone one only if the light kept to it too."""
        for count in range(len(self.numbers), 1, -1):
            groups = [(self._strain(group), group) for group in combinations(self.numbers, count)]
            strain, group = min(groups)
            most = 2 * count > len(self.numbers)
            if strain < self._least_sheet_move_in and (most or self._light_kept_to(group)):
                return group
        alone = [number for number in self.numbers if self._light_kept_to((number,))]
        return (alone[0],) if alone else tuple(self.numbers) if len(self.numbers) == 1 else ()

    def _strain(self, group: Sequence[int]) -> float:
        """Inches that a page's corner is off when these sheets are laid on their saved places together."""
        then = np.vstack([lie(self._saved[number], _PAGE_IN) for number in group])
        now = np.vstack([lie(self._again.places[number], _PAGE_IN) for number in group])
        return float(np.hypot(*(lie(rigid(now, then), now) - then).T).max())

    def _light_kept_to(self, group: Sequence[int]) -> bool:
        return float(np.hypot(*self.light_moves(group).T).max()) <= self.least_move_in


def _outer(frame: Array, place: Array) -> tuple[float, float, float]:
    x, y = lie(frame, place[None, :2])[0]
    return float(x), float(y), float(np.rad2deg(frame[2] + place[2]))


def _sentence(cause: Cause, moved_in: float, where: str, strayed: Sequence[int], told_in: float) -> str:
    by = f"{moved_in:.2f} in {where}"
    sheets = _sheets(strayed)
    match cause:
        case "nothing":
            return (
                f"Nothing has moved: the light is within {in_words(max(moved_in, told_in))} of where it was."
            )
        case "sheets":
            return f"{sheets} moved, nothing else: the light is still right."
        case "light":
            return (
                f"The projector or the whole table has moved: the light is off by {by}. Align again; --realign "
                "does it from this photo."
            )
        case "light or sheet":
            return (
                f"The light is off by {by}, or sheet 1 was moved: one sheet cannot tell which. Align again; "
                "--realign does it from this photo."
            )
        case "light and sheets":
            return (
                f"{sheets} moved, and so has the projector or the whole table: the light is off by {by}. Align "
                "again; --realign does it from this photo."
            )


def _sheets(numbers: Sequence[int]) -> str:
    if len(numbers) < 2:
        return "".join(f"Sheet {number} has been" for number in numbers)
    *most, last = (str(number) for number in numbers)
    return f"Sheets {', '.join(most)} and {last} have been"
