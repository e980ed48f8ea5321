"""Where the two crosses lie by which cloth is found again, and how well the next reach will go on from there."""

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement
from patterns.tracing.hand_trace import Place
from projector.cloth.laid_pieces import outline_in
from projector.cloth.on_cloth import LEAST_APART_IN, MARK_IN
from projector.cloth.reach_lanes import split_of
from projector.cloth.reach_split import STEP_IN, cut_path
from projector.cloth.reaches import ReachCrosses, Reaches, Room
from projector.errors import ProjectorError

CLEAR_IN: Final = 1 / 4  # within the cut line: in the middle of an allowance, where chalk never shows
ARM_IN: Final = 1.0  # a cross is lit whole
STRETCH_OVER_IN: Final = 10.0  # what the marks tell of a stretch is weighed over so much cloth
GRID_IN: Final = 1.0  # between the places that are looked at


def planned(piece: DraftedPiece, placement: Placement, room: Room) -> Reaches:
    """The piece in reaches from where it lies, with the crosses between; ProjectorError where that cannot be."""
    split = split_of(piece, placement, room)
    crosses = [crosses_between(piece, placement, split, k, room) for k in range(len(split.reaches) - 1)]
    reaches = tuple(replace(reach, crosses=one) for reach, one in zip(split.reaches, crosses, strict=False))
    return replace(split, reaches=(*reaches, split.reaches[-1]))


def crosses_between(
    piece: DraftedPiece, placement: Placement, reaches: Reaches, number: int, room: Room
) -> ReachCrosses:
    """The best two marks between a reach, counted from 0, and the next: lit in both, on the piece.

    `placement` is where the piece lay when its reaches were planned. Raises ProjectorError where what both show is
    too small for two.
    """
    outline = placement.lifted(cut_path(piece, placement))
    ahead = outline[reaches.block(number + 1, STEP_IN).holds(outline)]
    join = ahead[reaches.block(number, STEP_IN).holds(ahead)]
    cloth = shapely.Polygon(outline_in(piece, placement))
    slides = [reach.slide_in for reach in reaches.reaches[number : number + 2]]
    places = [_lifted(placement, place) for place in _lit_in_all(cloth, slides, room)]
    pairs = [pair for pair in combinations(places, 2) if math.dist(*pair) >= LEAST_APART_IN]
    if not pairs:
        raise ProjectorError(
            "two reaches show too little cloth in common for two crosses: lay the piece anew"
        )
    best = min(pairs, key=lambda pair: _most(pair, ahead) + _stretch_unseen_in(pair))
    return ReachCrosses(
        marks_in=best, at_join_in=_most(best, join if len(join) else ahead), at_most_in=_most(best, ahead)
    )


def error_in(marks_in: tuple[Place, Place], points_in: Array) -> Array:
    """(n,) inches, the root mean square error to expect at points when each mark is 1/64 in amiss, in root mean square.

    The middle of the marks is half as uncertain (in square) as either; the direction turns what lies farther away.
    """
    away = np.hypot(*(points_in - np.mean(marks_in, axis=0)).T)
    error: Array = MARK_IN * np.sqrt(1 / 2 + (away / math.dist(*marks_in)) ** 2)
    return error


def _lifted(placement: Placement, table_in: Place) -> Place:
    x, y = placement.lifted(np.array([table_in]))[0].tolist()
    return x, y


def _stretch_unseen_in(pair: tuple[Place, Place]) -> float:
    """Inches of stretch over `STRETCH_OVER_IN` that marks 1/64 in amiss would hide."""
    return math.sqrt(2) * MARK_IN * STRETCH_OVER_IN / math.dist(*pair)


def _most(pair: tuple[Place, Place], points_in: Array) -> float:
    return float(error_in(pair, points_in).max())


def farthest_apart(cloth: BaseGeometry, slide_in: Place, room: Room) -> tuple[Place, Place]:
    """Two places of the cloth, in table inches, lit now and once it is slid; ProjectorError if there are none."""
    pairs = list(combinations(_lit_in_all(cloth, ((0.0, 0.0), slide_in), room), 2))
    best = max(pairs, key=lambda pair: math.dist(*pair), default=None)
    if best is None or math.dist(*best) < LEAST_APART_IN:
        raise ProjectorError(
            "no uncut piece is in the light before and after: set two crosses on the cloth by hand"
        )
    return best


def _lit_in_all(cloth: BaseGeometry, slides_in: Sequence[Place], room: Room) -> list[Place]:
    """The corners, in table inches, of what of the cloth is in the light with it slid by each of several ways."""
    within = cloth.buffer(-CLEAR_IN)
    low_x, low_y, high_x, high_y = within.bounds
    across, down = np.meshgrid(np.arange(low_x, high_x, GRID_IN), np.arange(low_y, high_y, GRID_IN))
    inner = np.column_stack([across.ravel(), down.ravel()])
    inner = inner[shapely.contains_xy(within, inner[:, 0], inner[:, 1])]
    places = np.vstack([shapely.get_coordinates(within.boundary.segmentize(GRID_IN)), inner])
    for slide in slides_in:
        over = (places + slide) @ room.normals.T - room.limits
        places = places[(over <= -ARM_IN).all(axis=1)]
    hull = shapely.MultiPoint(places).convex_hull
    return [(float(x), float(y)) for x, y in shapely.get_coordinates(hull).tolist()]
