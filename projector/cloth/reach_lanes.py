"""How a piece is split that is wider than the light both ways: in lanes, cut to and fro, each in reaches."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement
from patterns.tracing.hand_trace import Place
from projector.cloth.reach_split import MOST, STEP_IN, Part, Split, cut_path, leftward, row_of, ways
from projector.cloth.reaches import FAR_IN, LAP_IN, OPEN_IN, Reach, Reaches, Room
from projector.errors import ProjectorError

LANES: Final = (2, 3, 4)
OFF_IN: Final = (0.0, -1.5, 1.5, -3.0, 3.0)  # from a lane in the middle of the light
PLAINER_IN: Final = (3.0, 0.0)  # by which a lane may be wider than the others, to end at a plain place


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lane:
    """What is cut between two places to the left on the table, with the cloth slid so far to the left for it."""

    across_in: tuple[float, float]
    slide_in: float
    parts: tuple[Part, ...]


def split_of(piece: DraftedPiece, placement: Placement, room: Room) -> Reaches:
    """The piece in few reaches: in a row, or where it is too wide for that in lanes. One where it fits in one.

    Raises ProjectorError where the light is too small for it.
    """
    row = row_of(piece, placement, room)
    if row is not None:
        return row
    found = [(along, _in_lanes(piece, placement, room, along)) for along in ways(piece, placement)[::2]]
    done = [(along, lanes) for along, lanes in found if lanes]
    if not done:
        raise ProjectorError(
            f"{piece.name} is larger than {MOST} reaches of this light: align the projector from higher up"
        )
    return _reaches(placement, *min(done, key=lambda one: sum(len(lane.parts) for lane in one[1])))


def _in_lanes(piece: DraftedPiece, placement: Placement, room: Room, along: Array) -> tuple[_Lane, ...]:
    """The fewest lanes along one direction that do; none where none do."""
    left = leftward(along)
    across = cut_path(piece, placement) @ left
    low, high = float(across.min()), float(across.max())
    beside = Split(piece, placement, room, left)
    for count in LANES:
        for wider in PLAINER_IN:
            even = np.linspace(low, high, count + 1)[1:-1].tolist()
            ends = [beside.plainest(at - wider, at + wider, at) for at in even]
            lanes = _between(piece, placement, room, along, (low, *ends, high))
            if lanes:
                return lanes
    return ()


def _between(
    piece: DraftedPiece, placement: Placement, room: Room, along: Array, ends_in: Sequence[float]
) -> tuple[_Lane, ...]:
    """A lane from each place to the next; none where one is too wide, or where they want too many reaches."""
    lanes: list[_Lane] = []
    for across_in in pairwise(ends_in):
        lane = _lane(piece, placement, room, along, across_in)
        if lane is None:
            return ()
        lanes.append(lane)
    return tuple(lanes) if sum(len(lane.parts) for lane in lanes) <= MOST else ()


def _lane(
    piece: DraftedPiece, placement: Placement, room: Room, along: Array, across_in: tuple[float, float]
) -> _Lane | None:
    """The lane in the fewest reaches, as near to the middle of the light as may be; None where it is too wide."""
    low, high = across_in
    split = Split(piece, placement, room, along, (low - LAP_IN / 2 - STEP_IN, high + LAP_IN / 2 + STEP_IN))
    middle = float(_middle(room) @ leftward(along)) - (low + high) / 2
    plans = [(split.plan(middle + off), middle + off) for off in OFF_IN]
    fitting = [(plan, slide) for plan, slide in plans if plan]
    if not fitting:
        return None
    plan, slide = min(fitting, key=lambda one: len(one[0]))
    return _Lane(across_in=across_in, slide_in=slide, parts=tuple(plan))


def _middle(room: Room) -> Array:
    """(2,) the middle of it, in table inches."""
    area: BaseGeometry = shapely.box(-FAR_IN, -FAR_IN, FAR_IN, FAR_IN)
    for normal, limit in zip(room.normals, room.limits, strict=True):
        side = np.array([-normal[1], normal[0]]) * 4 * FAR_IN
        at, deep = normal * limit, normal * 4 * FAR_IN
        area = area.intersection(shapely.Polygon([at - side, at + side, at + side - deep, at - side - deep]))
    return np.array(area.centroid.coords[0])


def _reaches(placement: Placement, along: Array, lanes: tuple[_Lane, ...]) -> Reaches:
    """To and fro: the next reach is always beside the last one."""
    left, origin = leftward(along), np.array([placement.x_in, placement.y_in])
    piece_along = _place(placement.lifted((origin + along)[None])[0])
    across = placement.direction(np.array([-piece_along[1], piece_along[0]]))
    turned_over = float(across @ left) < 0
    reaches: list[Reach] = []
    for number, lane in enumerate(lanes):
        low, high = (at - float(origin @ left) for at in lane.across_in)
        low, high = low - OPEN_IN * (number == 0), high + OPEN_IN * (number == len(lanes) - 1)
        there = [
            Reach(
                start_in=part.start_in - float(origin @ along) - OPEN_IN * (part is lane.parts[0]),
                end_in=part.end_in - float(origin @ along) + OPEN_IN * (part is lane.parts[-1]),
                slide_in=_place(part.slide_in * along + lane.slide_in * left),
                across_in=(-high, -low) if turned_over else (low, high),
            )
            for part in lane.parts
        ]
        reaches += there if number % 2 == 0 else reversed(there)
    return Reaches(along=piece_along, reaches=tuple(reaches))


def _place(point: Array) -> Place:
    return float(point[0]), float(point[1])
