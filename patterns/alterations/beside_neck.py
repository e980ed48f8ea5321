"""The line beside a neck, into the piece from it, that meets the fold square."""

import math
from typing import Final

import numpy as np

from patterns.curves import Array, Curve, Spans
from patterns.cutting.corners import mitred
from patterns.cutting.offsets import Stretch, normals
from patterns.errors import PatternError
from patterns.saying import LengthError

SQUARE_RAD: Final = math.radians(1)  # a neck nearer to square than this runs smoothly across the fold
DIP_RAD: Final = math.radians(15)  # so far a traced neck may dip at the fold, and is taken to be level there
REACH_PART: Final = 1.25  # the parallel must run so far past the end asked for, to leave room for the blend
_PER_RUN: Final = 25  # places at which a parallel edge is held to the true parallel
# of looks for a place on a parallel: to a hundred thousandth of one of its cubics
_ROUNDS, _PER_ROUND = 3, 129


def beside_neck(neck: Curve, outward: float, name: str, depth_in: float, below_in: float) -> Curve:
    """The line `depth_in` beside a neck that is walked from the fold, `below_in` below it there.

    `outward` is the walk's, as `Shape.outward`; `name` the piece that the line is for. Raises PatternError where the
    neck does not come to the fold as it must, or leaves no room.
    """
    tangent = neck.start_tangent
    dips_rad = math.atan2(tangent[1], tangent[0])
    if abs(dips_rad) <= SQUARE_RAD:
        return _parallel(neck, outward, name, depth_in, below_in)
    if 0 < dips_rad <= DIP_RAD:
        parallel = _parallel(neck, outward, name, depth_in, below_in)
        return _levelled_at_fold(parallel, neck.start[1] + below_in, depth_in)
    widened = depth_in * max(1.0, below_in * REACH_PART / (depth_in / _rise(tangent, name)))
    return _squared_at_fold(_parallel(neck, outward, name, depth_in, widened), name, neck.start[1] + below_in)


def cubic_between(start: Array, leaving: Array, end: Array, arriving: Array) -> Curve:
    """One cubic from a place to another, (2,) each, with those unit directions; its handles are evenly long."""
    reach = np.hypot(*(end - start)) / 3
    return Curve(np.array([[start, start + leaving * reach, end - arriving * reach, end]]))


def _rise(tangent: Array, name: str) -> float:
    """The part of a parallel's reach at the fold that is its distance from a neck leaving along `tangent`."""
    if tangent[0] <= 0 or tangent[1] >= 0:
        raise PatternError(
            f"{name}: the neck does not fall towards the fold, so a facing cannot meet it square; draw the neck's "
            "end square to the fold, or draw it anew with neck: round"
        )
    return float(tangent[0])


def _parallel(neck: Curve, outward: float, name: str, depth_in: float, below_in: float) -> Curve:
    """The neck moved into the piece by `depth_in`, widening smoothly to `below_in` at the fold."""
    joined: list[Curve] = []
    before: Stretch | None = None
    begun, total = 0.0, neck.length_in
    for run in neck.runs():
        # Beside a straight neck it is one cubic, since it widens as one.
        lengths = np.linspace(0.0, run.length_in, 2 if run.is_straight else _PER_RUN)
        spans, along = run.places_at(lengths)
        tangents = run.tangents(spans, along)
        into = normals(tangents, -outward)
        share = (begun + lengths) / total
        widths = depth_in + (below_in - depth_in) * (1 - share) ** 2 * (1 + 2 * share)
        widening = (below_in - depth_in) * -6 * share * (1 - share) / total
        stretch = 1 - outward * widths * run.curvatures(spans, along)
        if stretch.min() <= 0:
            raise LengthError(
                lambda say: f"{name}: {say(depth_in)} is more than the bend of the neck leaves room for"
            )
        points = run.at_parameters(spans, along) + into * widths[:, None]
        slopes = tangents * stretch[:, None] + into * widening[:, None]
        here = Stretch.along(run, 0, depth_in, -outward, points[[0, -1]])
        if before is not None:
            corner = [joined[-1].end, *mitred(before, here).points, points[0]]
            joined.append(Curve.straight(np.array(corner)))
        joined.append(Curve.hermite(points, slopes, np.diff(lengths)))
        before, begun = here, begun + run.length_in
    return Curve.chain(*joined)


def _levelled_at_fold(parallel: Curve, fold_y: float, within_in: float) -> Curve:
    """The parallel of a neck that dips beside the fold, led level to the fold at `fold_y` over its first inches."""
    rest = parallel.between(min(within_in, parallel.length_in / 2), parallel.length_in)
    return Curve.chain(
        cubic_between(np.array([0.0, fold_y]), np.array([1.0, 0.0]), rest.start, rest.start_tangent), rest
    )


def _squared_at_fold(parallel: Curve, name: str, fold_y: float) -> Curve:
    """The parallel with its end at the fold blended to meet it square at `fold_y`, above where it would."""
    start, tangent = parallel.start, parallel.start_tangent
    crosses_y = start[1] - tangent[1] / tangent[0] * start[0]
    fold_end = np.array([0.0, fold_y])
    whole = Curve.chain(Curve.straight(np.array([[0.0, crosses_y], start])), parallel)
    rest = _from_leaving(whole, fold_end[1], name)
    place, along = rest.start, rest.start_tangent
    turn = math.atan2(-along[1], along[0])
    reach = 4 / 3 * math.tan(turn / 4) / math.tan(turn / 2)
    knee = place[0] - along[0] / along[1] * (place[1] - fold_end[1])
    handles = [
        np.array([reach * knee, fold_end[1]]),
        place - along * reach * np.hypot(*(place - [knee, fold_end[1]])),
    ]
    blend = Curve(np.array([[fold_end, *handles, place]]))
    return Curve.chain(blend, rest)


def _from_leaving(whole: Curve, fold_y: float, name: str) -> Curve:
    """The parallel from where an arc can leave it that meets the fold square at `fold_y`.

    There the tangents at both ends of the arc are equally long.
    """
    last = len(whole.beziers) - 1

    def on(run: Array) -> tuple[Spans, Array]:
        """Pieces and parameters (n,) for (n,) counts of pieces from the start."""
        spans = np.minimum(run.astype(np.intp), last)
        return spans, run - spans

    def longer(run: Array) -> Array:
        """(n,) by how much the tangent from the parallel is the longer one; -1 where there is none."""
        spans, along = on(run)
        places, tangents = whole.at_parameters(spans, along), whole.tangents(spans, along)
        rises = (places[:, 1] < fold_y) & (tangents[:, 1] < 0)
        slope = tangents[:, 0] / np.where(rises, tangents[:, 1], -1.0)
        knees = places[:, 0] - slope * (places[:, 1] - fold_y)
        return np.where(rises, np.hypot(places[:, 0] - knees, places[:, 1] - fold_y) - knees, -1.0)

    low, high = 0.0, last + 1.0
    for _ in range(_ROUNDS):
        run = np.linspace(low, high, _PER_ROUND)
        enough = np.flatnonzero(longer(run) >= 0)
        if not len(enough):
            raise PatternError(f"{name}: the neck is too short for its facing to turn square to the fold")
        low, high = float(run[max(enough[0] - 1, 0)]), float(run[enough[0]])
    (span,), (along,) = on(np.array([high]))
    return whole.part((int(span), float(along)), (last, 1.0))
