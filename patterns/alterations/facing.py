"""Facings: a band beside the neck of a drafted piece, from its neck and shoulder seam lines."""

import math
from collections.abc import Hashable
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise
from typing import Final

import numpy as np
import shapely

from patterns.alterations.beside_neck import beside_neck, cubic_between, path_of, pieces_of
from patterns.alterations.grain import longest_grain
from patterns.arc_lengths import Place
from patterns.cubics import arriving, leaving
from patterns.curves import Array, Curve, even_grid
from patterns.errors import PatternError
from patterns.loop import loop_of
from patterns.parts import CutCount, Kind, Notch
from patterns.saying import LengthError
from patterns.shape import Shape, ShapeEdge, crosses_itself

OUTER: Final = "outer"  # the edge of a facing that is sewn to nothing
SHOULDER_PART: Final = 0.6  # of the depth: so near the shoulder the outer edge turns square to it
SWEEP_PARTS: Final = 2.0  # of what the shoulder's width is more or less: so much sooner
_LOOKED_AT_IN: Final = 1 / 10  # between the places where it is looked at how near the shoulder is
_CLOSER_LOOKS: Final = 16  # between two of these


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
    band, name, shoulder_in, below_in = wanted.band, wanted.name, wanted.shoulder_in, wanted.below_in
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
    outer = _outer_edge(wanted, shoulder)
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
    fold = Curve.straight(np.array([outer.end, band.neck.start]))
    edges = [
        _edge(band.neck_edge, band.neck),
        _edge(band.shoulder_edge, shoulder.from_to(band.neck.end, shoulder.end)),
        ShapeEdge(name=OUTER, kind=Kind.EDGE, curve=outer, allowance_in=(0.0,)),
        _edge(band.fold_edge, fold),
    ]
    if not band.from_fold:
        edges = [_edge(edge, edge.curve.reversed()) for edge in edges[::-1]]
    return Shape(
        name=name,
        cut=CutCount(count=1, on_fold=True),
        edges=tuple(edges),
        grain_in=longest_grain(loop_of(tuple(edge.curve for edge in edges)).ring),
        notches=band.notches,
    )


def _edge(like: ShapeEdge, curve: Curve) -> ShapeEdge:
    return ShapeEdge(name=like.name, kind=like.kind, curve=curve, allowance_in=like.allowance_in)


def _outer_edge(wanted: _Wanted, shoulder: Curve) -> Curve:
    """The outer edge from the end of the facing's shoulder to the fold."""
    band, name, depth_in, shoulder_in = wanted.band, wanted.name, wanted.depth_in, wanted.shoulder_in
    beside = beside_neck(band.neck, band.outward, name, depth_in, wanted.below_in)
    turn_in = SHOULDER_PART * depth_in + SWEEP_PARTS * abs(shoulder_in - depth_in)
    if turn_in >= beside.length_in:
        raise LengthError(
            lambda say: (
                f"{name}: the neck is too short for a facing {say(depth_in)} wide beside it and "
                f"{say(shoulder_in)} along the shoulder; make it narrower"
            )
        )
    (latest,) = beside.places([beside.length_in - turn_in])
    turn = _first_within(turn_in, band.shoulder, beside, latest)
    return _turned(beside, turn, shoulder, band.outward)


def _turned(beside: Curve, turn: Place, shoulder: Curve, outward: float) -> Curve:
    """Square from the end of the facing's shoulder, and on beside the neck from that place of it to the fold."""
    kept = [piece[::-1] for piece in pieces_of(beside.part((0, 0.0), turn))[::-1]]
    shoulder_end = pieces_of(shoulder)[-1]
    square = 1j * outward * arriving(shoulder_end)
    return path_of([cubic_between(shoulder_end[-1], square, kept[0][0], leaving(kept[0])), *kept])


def _first_within(within_in: float, shoulder: Curve, beside: Curve, latest: Place) -> Place:
    """Where the line beside the neck first comes so near to the shoulder; `latest` where it does not, or begins so.

    Beside a neck that leans over its shoulder it would come out beyond that before it turns. Looked for in steps along
    each piece, and in smaller ones within the first at whose end it is so near.
    """
    line = shapely.linestrings(shoulder.points)

    def places(at: Array) -> Array:
        """(n, 2) of (n,) numbers of pieces with the parameters on them added."""
        numbers = at.astype(np.intp)
        return beside.at_parameters(numbers, at - numbers)

    steps = [max(math.ceil((end - start) / _LOOKED_AT_IN), 1) for start, end in pairwise(beside.ends_in)]
    at = np.add(*even_grid(steps))
    at = np.append(at[at < sum(latest)], sum(latest))
    looked_at = places(at)
    if not shapely.dwithin(line, shapely.linestrings(looked_at), within_in):
        return latest
    near = np.flatnonzero(shapely.distance(line, shapely.points(looked_at)) < within_in)
    if not len(near) or not near[0]:
        return latest
    at = np.linspace(at[near[0] - 1], at[near[0]], _CLOSER_LOOKS)
    away = np.asarray(shapely.distance(line, shapely.points(places(at))))
    first = int((away < within_in).argmax())
    step = slice(first - 1, first + 1)
    along, number = math.modf(np.interp(within_in, away[step][::-1], at[step][::-1]))
    return int(number), along
