"""Drift and closed loop by hand: what crosses nudged back on to marks say of the light since the alignment."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import combinations
from typing import Final

import numpy as np

from calibration.errors import AlignmentError
from calibration.frames import Array, Points, TableInches, as_points
from calibration.hand.marks import HandMark, mat_marks, sheet_marks
from calibration.projector_map import ProjectorMap
from calibration.sheets.sheet import PAPERS
from calibration.solving.joint_model import lie
from calibration.table.saved import Alignment
from calibration.trust.closed_loop import LoopTest
from calibration.trust.drift import DriftTest
from calibration.trust.place_words import place_words
from calibration.trust.ruler_test import in_64ths

DRIFT_MARKS: Final = 3
LIGHT_PX, HAND_IN = 0.5, 1 / 64  # a careful hand and eye: root mean square of the distance

# Upper points of chi-square (any table): together they call a move in 15 of 1000 tests where none was.
_SAME_SHAPE = 13.28  # 1 % with 4 degrees of freedom: shift, turn and size
_OTHER_SHAPE = 10.60  # 0.5 % with 2: what three marks show beyond that
_SAME_PLACE_IN = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidMark:
    """A mark where the alignment has it, in table inches."""

    mark: HandMark
    table_in: tuple[float, float]


def laid_marks(alignment: Alignment) -> tuple[LaidMark, ...]:
    """The mat's crossings or the sheets' crosses that are in the light, as they lay at the alignment.

    Raises AlignmentError where it is not known what lay there, or none of it is lit.
    """
    marks = _marks_of(alignment)
    places = {1: (0.0, 0.0, 0.0), **dict(enumerate(alignment.sheet_places, start=1))}
    laid = []
    for mark in marks:
        x, y, turn_deg = places[mark.sheet]
        on_sheet = np.array([mark.at_in]) * alignment.printed_scale
        (at,) = lie(np.array([x, y, np.deg2rad(turn_deg)]), on_sheet).tolist()
        laid.append(LaidMark(mark=mark, table_in=(at[0], at[1])))
    table_in = np.array([each.table_in for each in laid])
    on_screen = alignment.map.screen_from_table(table_in)
    inside = ((on_screen >= 0) & (on_screen <= np.array(alignment.map.screen_px) - 1)).all(axis=1)
    # far outside, lens bow folds back, and a mark would seem lit
    back_in = alignment.map.table_from_screen(on_screen)
    inside &= np.hypot(*(back_in - table_in).T) < _SAME_PLACE_IN
    lit = tuple(each for each, is_lit in zip(laid, inside, strict=True) if is_lit)
    if len(lit) < DRIFT_MARKS:
        raise AlignmentError(
            f"{len(lit)} of the marks are in the light and {DRIFT_MARKS} are needed; align again by hand"
        )
    return lit


def widest_three(marks: Sequence[LaidMark]) -> tuple[LaidMark, ...]:
    """The three that span the largest triangle, and so pin a shift, a turn and a size best."""

    def doubled_area(three: Sequence[LaidMark]) -> float:
        (ax, ay), (bx, by), (cx, cy) = (each.table_in for each in three)
        return abs((bx - ax) * (cy - ay) - (by - ay) * (cx - ax))

    return max(combinations(marks, DRIFT_MARKS), key=doubled_area)


def spread_marks(marks: Sequence[LaidMark], most: int) -> tuple[LaidMark, ...]:
    """Up to so many, each as far as can be from those before it; the widest three first."""
    chosen = list(widest_three(marks))
    while len(chosen) < min(most, len(marks)):
        taken = np.array([each.table_in for each in chosen])
        gaps = [float(np.hypot(*(taken - each.table_in).T).min()) for each in marks]
        chosen.append(marks[int(np.argmax(gaps))])
    return tuple(chosen)


def moved_by_hand(
    found: ProjectorMap, marks: Points, moved: Points, looked_on: datetime, turn_deg: float = 0.0
) -> DriftTest:
    """What (n, 2) inches that the light has moved at (n, 2) marks, table inches, say; three or more.

    They are weighed against what hand and eye stray, and what the map itself may be off at the marks. A move
    that shifts, turns and scales is fitted; the worst place is looked for in the box about the marks;
    `turn_deg` is that of the alignment.
    """
    marks_in, moved_in = as_points(marks), as_points(moved).ravel()
    middle = marks_in.mean(axis=0)
    weight = np.linalg.inv(_noise(found, TableInches(marks_in)))
    basis = _similarity(marks_in - middle)
    normal = basis.T @ weight @ basis
    terms = np.linalg.solve(normal, basis.T @ weight @ moved_in)
    same_shape = float(terms @ normal @ terms)
    other_shape = float(moved_in @ weight @ moved_in) - same_shape
    area = _box(marks_in)
    strays = (_similarity(area - middle) @ terms).reshape(-1, 2)
    if other_shape > _OTHER_SHAPE:  # then the marks themselves are the better witnesses
        area, strays = np.vstack([area, marks_in]), np.vstack([strays, moved_in.reshape(-1, 2)])
    distances = np.hypot(*strays.T)
    worst = int(np.argmax(distances))
    worst_in = float(distances[worst])
    has_moved = same_shape > _SAME_SHAPE or other_shape > _OTHER_SHAPE
    if has_moved:
        where = place_words(area[worst], TableInches(area), turn_deg)
        what = f"moved: up to {in_64ths(worst_in)} {where}; align again"
    else:
        what = f"nothing has moved: the crosses lie within {in_64ths(worst_in)}, as a careful hand lays them"
    return DriftTest(looked_on=looked_on, moved_in=worst_in, what=what, moved=has_moved)


def loop_by_eye(found: ProjectorMap, marks: Points, misses: Points, looked_on: datetime) -> LoopTest:
    """The closed loop of (n, 2) inches by which crosses missed (n, 2) marks, less what hand and eye stray.

    Nudging a cross adds the hand's own error to each miss. Misses are shrunk alike, so that their mean
    square is what is left of it without the hand's.
    """
    misses_in = as_points(misses)
    hand2 = float(np.mean(_hand_in(found, TableInches(as_points(marks))) ** 2))
    seen2 = float((misses_in**2).sum(axis=1).mean())
    share = np.sqrt(max(1 - hand2 / seen2, 0.0)) if seen2 > 0 else 0.0
    return LoopTest.of(misses_in * share, looked_on, by="eye")


def _marks_of(alignment: Alignment) -> tuple[HandMark, ...]:
    if alignment.mat is not None:
        pitch_in, *size_in = alignment.mat
        return mat_marks(pitch_in, (size_in[0], size_in[1]))
    if alignment.paper in PAPERS and alignment.sheet_places:
        return sheet_marks(PAPERS[alignment.paper], len(alignment.sheet_places))
    raise AlignmentError(
        "The table file does not say on which sheets or mat the light was aligned; align again, and then "
        "it can be checked by hand"
    )


def _hand_in(found: ProjectorMap, marks: TableInches) -> Array:
    """(n,) inches that a cross laid by hand strays, as a distance."""
    pixels = found.screen_from_table(marks)
    across, down = (found.table_from_screen(pixels + step) - marks for step in ((1.0, 0.0), (0.0, 1.0)))
    pixel_in = np.sqrt(np.abs(across[:, 0] * down[:, 1] - across[:, 1] * down[:, 0]))
    strays: Array = np.hypot(LIGHT_PX * pixel_in, HAND_IN)
    return strays


def _noise(found: ProjectorMap, marks: TableInches) -> Array:
    """(2 n, 2 n) covariance of what is seen at the marks where nothing has moved: the hand's and the map's."""
    slopes = found.landing_slopes(marks).reshape(2 * len(marks), -1)
    hand2 = np.repeat(_hand_in(found, marks) ** 2 / 2 + found.floor_in**2 / 2, 2)
    noise: Array = slopes @ np.array(found.covariance) @ slopes.T + np.diag(hand2)
    return noise


def _similarity(offsets: Array) -> Array:
    """(2 n, 4) moves of points by a shift along x, along y, by growth and by a turn."""
    rows = np.zeros((len(offsets), 2, 4))
    rows[:, 0, 0] = rows[:, 1, 1] = 1
    rows[:, :, 2] = offsets
    rows[:, :, 3] = offsets[:, ::-1] * (-1, 1)
    return rows.reshape(-1, 4)


def _box(points: Array) -> Array:
    low, high = points.min(axis=0), points.max(axis=0)
    x, y = np.meshgrid(np.linspace(low[0], high[0], 9), np.linspace(low[1], high[1], 9))
    return np.column_stack([x.ravel(), y.ravel()])
