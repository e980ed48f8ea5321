"""Facings: a band beside the neck of a drafted piece, from its neck and shoulder seam lines."""

import math
from collections.abc import Hashable
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Final

import numpy as np
import shapely

from patterns.alterations.grain import longest_grain
from patterns.curves import Array, Curve, Spans
from patterns.cutting.corners import mitred
from patterns.cutting.offsets import Stretch, normal, normals
from patterns.errors import PatternError
from patterns.parts import CutCount, Kind, Notch
from patterns.saying import LengthError
from patterns.shape import Shape, ShapeEdge, crosses_itself

OUTER: Final = "outer"  # the edge of a facing that is sewn to nothing
SHOULDER_PART: Final = 0.6  # of the depth: so near the shoulder the outer edge turns square to it
SWEEP_PARTS: Final = 2.0  # of what the shoulder's width is more or less: so much sooner
SQUARE_RAD: Final = math.radians(1)  # a neck nearer to square than this runs smoothly across the fold
DIP_RAD: Final = math.radians(
    15
)  # so far a traced neck may dip beside the fold, and is taken to be level there
REACH_PART: Final = 1.25  # the parallel must run so far past the end asked for, to leave room for the blend
_TURNING_LOOKS: Final = 200
_PER_RUN: Final = 25  # places at which a parallel edge is held to the true parallel
_ROUNDS, _PER_ROUND = (
    3,
    129,
)  # of looks for a place on a parallel: to a hundred thousandth of one of its cubics


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Band:
    """What a facing is drawn from, walked from the fold: the neck, then the shoulder away from the neck."""

    notches: tuple[Notch, ...]
    neck_edge: ShapeEdge
    shoulder_edge: ShapeEdge
    fold_edge: ShapeEdge
    from_fold: bool
    neck: Curve
    shoulder: Curve
    outward: float

    @property
    def said(self) -> Hashable:
        """All of it that a facing depends on: the same for pieces that differ elsewhere."""
        edges = (self.neck_edge, self.shoulder_edge, self.fold_edge)
        return (
            self.neck.beziers.tobytes(),
            self.shoulder.beziers.tobytes(),
            self.body_end,
            self.from_fold,
            self.outward,
            self.notches,
            tuple((edge.name, edge.kind, edge.allowance_in) for edge in edges),
        )

    @property
    def body_end(self) -> float:
        """How far down the piece goes at the fold, in inches."""
        fold = self.fold_edge.curve
        return float(max(fold.start[1], fold.end[1]))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wanted:
    """A facing to be made, known by all that it depends on."""

    said: Hashable
    name: str
    depth_in: float
    shoulder_in: float
    below_in: float
    band: _Band = field(compare=False)


def faced(
    shape: Shape, neck: str, name: str, *, depth_in: float, shoulder_in: float, below_in: float
) -> Shape:
    """The facing of `neck`: `depth_in` wide beside it, `shoulder_in` along the shoulder, `below_in` at the fold.

    Its outer edge leaves the shoulder square, so that front and back meet there; runs parallel to the neck;
    and meets the fold square. Raises PatternError if there is no room for it.
    """
    band = _band(shape, neck)
    return _made(
        _Wanted(
            said=band.said,
            name=name,
            depth_in=depth_in,
            shoulder_in=shoulder_in,
            below_in=below_in,
            band=band,
        )
    )


@lru_cache(maxsize=1024)  # more than the steps that are remembered, or theirs would outlast it
def _made(wanted: _Wanted) -> Shape:
    """While a piece is changed far from its neck, its facing is the very same."""
    band, name, depth_in, below_in = wanted.band, wanted.name, wanted.depth_in, wanted.below_in
    shoulder_in = wanted.shoulder_in
    if shoulder_in >= band.shoulder.length_in:
        raise LengthError(
            lambda say: (
                f"{name}: {say(shoulder_in)} along {band.shoulder_edge.name} is more than its length, "
                f"{say(band.shoulder.length_in)}; make the facing narrower"
            )
        )
    body_end = band.body_end
    if band.neck.start[1] + below_in >= body_end:
        raise LengthError(
            lambda say: (
                f"{name}: {say(below_in)} below the neck is beyond the body, which ends "
                f"{say(body_end - band.neck.start[1])} below it; make the facing shorter"
            )
        )
    shoulder = band.shoulder.between(0.0, shoulder_in)
    outer = _outer_edge(band, name, depth_in, below_in, shoulder)
    made = _loop(band, name, outer, shoulder)
    if crossed := crosses_itself(made):
        raise PatternError(f"{name}: {' and '.join(crossed)} would cross; make the facing narrower")
    return made


def _band(shape: Shape, neck: str) -> _Band:
    number, fold, count = shape.number(neck), shape.fold, len(shape.edges)
    if fold is None or number not in ((fold + 1) % count, (fold - 1) % count) or count < 3:
        raise PatternError(
            f"{shape.name}: a facing needs {neck} to begin or end at the fold of a half piece; bind it instead"
        )
    other = shape.edges[(fold - 1 if number == (fold + 1) % count else fold + 1) % count]
    if shape.edges[number].curve.points[:, 1].min() > other.curve.points[:, 1].min():
        raise PatternError(
            f"{shape.name}: a facing is drafted down from the upper end of the fold, and {neck} lies at the lower "
            "one; finish it with a hem, a hem band or a binding"
        )
    from_fold = number == (fold + 1) % count
    shoulder = shape.edges[(number + (1 if from_fold else -1)) % count]
    curve = shape.edges[number].curve
    return _Band(
        notches=tuple(notch for notch in shape.notches if notch.edge == neck),
        neck_edge=shape.edges[number],
        shoulder_edge=shoulder,
        fold_edge=shape.edges[fold],
        from_fold=from_fold,
        neck=curve if from_fold else curve.reversed(),
        shoulder=shoulder.curve if from_fold else shoulder.curve.reversed(),
        outward=shape.outward if from_fold else -shape.outward,
    )


def _loop(band: _Band, name: str, outer: Curve, shoulder: Curve) -> Shape:
    fold = Curve.straight(np.stack([outer.start, band.neck.start]))
    edges = [
        _edge(band.neck_edge, band.neck),
        _edge(band.shoulder_edge, shoulder.from_to(band.neck.end, shoulder.end)),
        ShapeEdge(
            name=OUTER,
            kind=Kind.EDGE,
            curve=outer.reversed().from_to(shoulder.end, outer.start),
            allowance_in=(0.0,),
        ),
        _edge(band.fold_edge, fold),
    ]
    if not band.from_fold:
        edges = [_edge(edge, edge.curve.reversed()) for edge in edges[::-1]]
    made = Shape(
        name=name,
        cut=CutCount(count=1, on_fold=True),
        edges=tuple(edges),
        notches=band.notches,
    )
    return replace(made, grain_in=longest_grain(made.ring))


def _edge(like: ShapeEdge, curve: Curve) -> ShapeEdge:
    return ShapeEdge(name=like.name, kind=like.kind, curve=curve, allowance_in=like.allowance_in)


def _outer_edge(band: _Band, name: str, depth_in: float, below_in: float, shoulder: Curve) -> Curve:
    """The outer edge from the fold to the end of the facing's shoulder."""
    tangent = band.neck.start_tangent
    dips_rad = math.atan2(tangent[1], tangent[0])
    if abs(dips_rad) <= SQUARE_RAD:
        beside = _parallel(band, name, depth_in, below_in)
    elif 0 < dips_rad <= DIP_RAD:
        beside = _levelled_at_fold(
            _parallel(band, name, depth_in, below_in), band.neck.start[1] + below_in, depth_in
        )
    else:
        reaches = depth_in / _rise(tangent, name)
        widened = depth_in * max(1.0, below_in * REACH_PART / reaches)
        parallel = _parallel(band, name, depth_in, widened)
        beside = _squared_at_fold(parallel, name, band.neck.start[1] + below_in)
    turn_in = SHOULDER_PART * depth_in + SWEEP_PARTS * abs(shoulder.length_in - depth_in)
    if turn_in >= beside.length_in:
        raise LengthError(
            lambda say: (
                f"{name}: the neck is too short for a facing {say(depth_in)} wide beside it and "
                f"{say(shoulder.length_in)} along the shoulder; make it narrower"
            )
        )
    beside = _turned_in_time(beside.between(0.0, beside.length_in - turn_in), band.shoulder, turn_in)
    square = normal(shoulder.end_tangent, band.outward)
    return Curve.chain(beside, _cubic(beside.end, beside.end_tangent, shoulder.end, square))


def _turned_in_time(beside: Curve, shoulder: Curve, within_in: float) -> Curve:
    """The edge beside the neck up to where it turns to the shoulder: all of it, or up to so near the shoulder.

    Beside a neck that leans over its shoulder it would come out beyond that before it ends.
    """
    line = shapely.LineString(shoulder.points)
    if line.distance(shapely.LineString(beside.points)) >= within_in:
        return beside
    lengths = np.linspace(0.0, beside.length_in, _TURNING_LOOKS)
    away = np.asarray(shapely.distance(line, shapely.points(beside.points_at(lengths))))
    near = np.flatnonzero(away < within_in)
    if not len(near) or not near[0]:
        return beside
    step = slice(near[0] - 1, near[0] + 1)
    return beside.between(0.0, float(np.interp(within_in, away[step][::-1], lengths[step][::-1])))


def _rise(tangent: Array, name: str) -> float:
    """The part of a parallel's reach at the fold that is its distance from a neck leaving along `tangent`."""
    if tangent[0] <= 0 or tangent[1] >= 0:
        raise PatternError(
            f"{name}: the neck does not fall towards the fold, so a facing cannot meet it square; draw the neck's "
            "end square to the fold, or draw it anew with neck: round"
        )
    return float(tangent[0])


def _parallel(band: _Band, name: str, depth_in: float, below_in: float) -> Curve:
    """The neck moved into the piece by `depth_in`, widening smoothly to `below_in` at the fold."""
    joined: list[Curve] = []
    before: Stretch | None = None
    begun, total = 0.0, band.neck.length_in
    for run in band.neck.runs():
        # Beside a straight neck it is one cubic, since it widens as one.
        lengths = np.linspace(0.0, run.length_in, 2 if run.is_straight else _PER_RUN)
        spans, along = run.places_at(lengths)
        tangents = run.tangents(spans, along)
        into = normals(tangents, -band.outward)
        share = (begun + lengths) / total
        widths = depth_in + (below_in - depth_in) * (1 - share) ** 2 * (1 + 2 * share)
        widening = (below_in - depth_in) * -6 * share * (1 - share) / total
        stretch = 1 - band.outward * widths * run.curvatures(spans, along)
        if stretch.min() <= 0:
            raise LengthError(
                lambda say: f"{name}: {say(depth_in)} is more than the bend of the neck leaves room for"
            )
        points = run.at_parameters(spans, along) + into * widths[:, None]
        slopes = tangents * stretch[:, None] + into * widening[:, None]
        here = Stretch(edge=0, width_in=depth_in, outward=-band.outward, seam=run, points=points[[0, -1]])
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
        _cubic(np.array([0.0, fold_y]), np.array([1.0, 0.0]), rest.start, rest.start_tangent), rest
    )


def _squared_at_fold(parallel: Curve, name: str, fold_y: float) -> Curve:
    """The parallel with its end at the fold blended to meet it square at `fold_y`, above where it would."""
    start, tangent = parallel.start, parallel.start_tangent
    crosses_y = start[1] - tangent[1] / tangent[0] * start[0]
    fold_end = np.array([0.0, fold_y])
    whole = Curve.chain(Curve.straight(np.stack([[0.0, crosses_y], start])), parallel)
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


def _cubic(start: Array, leaving: Array, end: Array, arriving: Array) -> Curve:
    reach = np.hypot(*(end - start)) / 3
    return Curve(np.array([[start, start + leaving * reach, end - arriving * reach, end]]))
