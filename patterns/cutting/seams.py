"""Seam line to cut line: allowances, corners, the fold."""

import math
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from typing import Final, cast

import numpy as np
import shapely

from patterns.cubics import in_plane
from patterns.curves import Array
from patterns.cutting.corners import (
    NoCornerError,
    Turn,
    mitred,
    on_fold,
    reflected,
    squared,
    turn_of,
    turned_over,
)
from patterns.cutting.enclosing import left_out
from patterns.cutting.offsets import Stretch, TooWideError, stretches
from patterns.loop import crossing_of
from patterns.parts import Corner, Kind
from patterns.saying import LengthError, Sentence
from patterns.shape import REMEMBERED, Shape

SAME_IN: Final = 1e-7  # cut points closer than this are one
REFLECTS_RAD: Final = (np.radians(30), np.radians(150))  # flatter or sharper sides meet no mirrored hem end
STEP_IN: Final = 1 / 16  # seam gauges are marked no finer


def cut_line(shape: Shape) -> Array:
    """(n, 2) inches: the seam line with its allowances, closed, the last point not repeating the first.

    It walks as the seam line does. Where there is a fold, the first and the last point lie on x = 0 exactly
    and the line closes along the fold. Raises PatternError, naming piece and edge, if one cannot fit.
    """
    if shape.fold is not None:
        shape = shape.starting((shape.fold + 1) % len(shape.edges))
    try:
        return _outline(shape)
    except TooWideError as wide:
        reason, mended = wide.reason, _what_fits(shape, wide.edges)
        raise LengthError(lambda say: f"{reason(say)}; {mended(say)}") from wide


def _outline(shape: Shape) -> Array:
    walk = [stretch for stretch in stretches(shape) if shape.edges[stretch.edge].kind is not Kind.FOLD]
    turns = [_turn(shape, one, two) for one, two in pairwise(walk)]
    turns.append(_turn(shape, walk[-1], walk[0]) if shape.fold is None else _fold_turn(shape, walk))
    between = list(zip(walk, turns[-1:] + turns[:-1], turns, strict=True))
    parts = []
    for stretch, before, after in between:
        if before.start_at >= after.end_at:
            raise _swallowed(shape, stretch.edge)
        first, end = max(math.floor(before.start_at) + 1, 0), math.ceil(after.end_at)
        parts.append(stretch.points[first:end])
        parts.append(after.points)
    parts = [parts[-1], *parts[:-1]] if shape.fold is None else _closed_on_fold(parts)
    line = _without_repeats(np.concatenate(parts), closed=shape.fold is None)
    bare_whole = all(
        stretch.width_in or (before.start_at <= 0 and after.end_at >= len(stretch.points) - 1)
        for stretch, before, after in between
    )
    _check_outline(shape, walk, line, bare_whole)
    return line


def _turn(shape: Shape, before: Stretch, after: Stretch) -> Turn:
    if before.edge == after.edge and before is not after:
        return _meeting(shape, before, after, Corner.MITRE)
    one, two = shape.edges[before.edge], shape.edges[after.edge]
    return _meeting(shape, before, after, one.corner or _usual_corner(one.kind, two.kind, before, after))


def _usual_corner(one: Kind, two: Kind, before: Stretch, after: Stretch) -> Corner:
    low, high = REFLECTS_RAD
    if (one is Kind.HEM) != (two is Kind.HEM) and low <= np.pi - turn_of(before, after) <= high:
        hem = before if one is Kind.HEM else after
        return Corner.REFLECTED if hem.width_in > 0 else Corner.MITRE
    return Corner.MITRE


def _meeting(shape: Shape, before: Stretch, after: Stretch, corner: Corner) -> Turn:
    one, two = shape.edges[before.edge], shape.edges[after.edge]
    hem, side = (one, two) if two.kind is not Kind.HEM else (two, one)
    try:
        return _met(before, after, corner, hem is two, hem.allowance_in)
    except NoCornerError as missing:
        edges = tuple({before.edge: None, after.edge: None})
        if corner is not Corner.REFLECTED:
            apart = f"the cut edges of {one.name} and {two.name} do not meet in a {corner.value} corner"
            raise TooWideError(edges, lambda _: f"{shape.name}: {apart}") from missing
        bends = f"{hem.name}, folded up, would not lie on {side.name}, which bends away too near to it"
        cut_so = f"corner: mitre, given to {one.name}, has it cut all the same"
        raise TooWideError(edges, lambda _: f"{shape.name}: {bends} ({cut_so})") from missing


@lru_cache(maxsize=REMEMBERED)
def _met(
    before: Stretch, after: Stretch, corner: Corner, hem_after: bool, folds_in: tuple[float, ...]
) -> Turn:
    """The turn between the two; NoCornerError where they do not meet. The same stretches meet the same way."""
    if corner is Corner.SQUARED:
        return squared(before, after)
    if corner is Corner.SQUARED_NEXT:
        return turned_over(squared(after.reversed, before.reversed), before, after)
    if corner is Corner.REFLECTED and hem_after:
        return reflected(before, after, folds_in)
    if corner is Corner.REFLECTED:
        return turned_over(reflected(after.reversed, before.reversed, folds_in), before, after)
    return mitred(before, after)


def _fold_turn(shape: Shape, walk: list[Stretch]) -> Turn:
    """Both ends of the fold as one turn, from the last stretch to the first."""
    try:
        end = on_fold(walk[-1])
    except NoCornerError as missing:
        raise _lost_at_fold(shape, walk[-1]) from missing
    try:
        start = on_fold(walk[0].reversed)
    except NoCornerError as missing:
        raise _lost_at_fold(shape, walk[0]) from missing
    return Turn(
        end.end_at,
        np.concatenate([end.points, start.points[::-1]]),
        len(walk[0].points) - 1 - start.end_at,
    )


def _lost_at_fold(shape: Shape, stretch: Stretch) -> TooWideError:
    name = shape.edges[stretch.edge].name
    return TooWideError(
        (stretch.edge,),
        lambda _: f"{shape.name}, {name}: its cut edge lies wholly beyond the fold, at x below 0",
    )


def _swallowed(shape: Shape, edge: int) -> TooWideError:
    name = shape.edges[edge].name
    return TooWideError(
        (edge, *_neighbours(shape, edge)),
        lambda _: f"{shape.name}, {name}: between its neighbours' allowances nothing is left of its cut edge",
    )


def _closed_on_fold(parts: list[Array]) -> list[Array]:
    """The parts so that the line starts on the fold: the last turn's points after the fold come first."""
    turn = parts[-1]
    across = turn[:, 0].tolist()
    first, last = across.index(0.0), len(across) - 1 - across[::-1].index(0.0)
    return [turn[last:], *parts[:-1], turn[: first + 1]]


def _without_repeats(line: Array, closed: bool) -> Array:
    """The line without points on the one before them, and without those that lie straight between their neighbours."""
    line = _moving_on(line, closed)
    places = in_plane(line)
    arriving = places - np.concatenate([places[-1:], places[:-1]])
    leaving = np.concatenate([arriving[1:], arriving[:1]])
    turn = arriving.conj() * leaving
    needless = (abs(turn.imag) <= SAME_IN**2 + 1e-12 * abs(leaving)) & (turn.real > 0)
    if not closed:
        needless[0] = needless[-1] = False
    return line.compress(~needless, axis=0)


def _moving_on(line: Array, closed: bool) -> Array:
    """The line without points on the one before them; its ends stay, but for an end of a closed one on its start."""
    places = in_plane(line)
    kept = np.concatenate([[True], abs(places[1:] - places[:-1]) > SAME_IN])
    if not kept[-1] and not closed:
        kept[-1], kept[-2] = True, False
    line = line.compress(kept, axis=0)
    return line[:-1] if closed and math.dist(line[0], line[-1]) <= SAME_IN else line


def _check_outline(shape: Shape, walk: list[Stretch], line: Array, bare_whole: bool) -> None:
    """TooWideError if the cut line crosses itself or the fold, or leaves out part of the seam line."""
    if shape.fold is not None and line[:, 0].min() < -SAME_IN:
        raise _across_fold(shape, walk, line[line[:, 0].argmin()])
    ring = np.concatenate([line, line[:1]])
    cut = cast(shapely.LineString, shapely.linestrings(ring))
    if not cut.is_simple:
        raise _across_itself(shape, walk, line)
    place = left_out(shape, cut, ring, bare_whole)
    if place is not None:
        raise TooWideError(
            tuple(range(len(shape.edges))),
            lambda say: (
                f"{shape.name}: the cut line would cut into the piece near {say.place(*place.tolist())}"
            ),
        )


def _across_itself(shape: Shape, walk: list[Stretch], line: Array) -> TooWideError:
    place = crossing_of(line)
    spot = shapely.Point(place)
    near = [s.edge for s in walk if shapely.LineString(s.points).distance(spot) <= s.width_in * 1.001]
    edges = tuple(dict.fromkeys(near)) or tuple(dict.fromkeys(s.edge for s in walk))
    names = " and ".join(shape.edges[edge].name for edge in edges)
    return TooWideError(
        edges,
        lambda say: f"{shape.name}, {names}: the cut line crosses itself near {say.place(*place)}",
    )


def _across_fold(shape: Shape, walk: list[Stretch], place: Array) -> TooWideError:
    spot, (x, y) = shapely.Point(place), place.tolist()
    away = {s.edge: shapely.LineString(s.points).distance(spot) for s in walk}
    edges = tuple(sorted(away, key=lambda edge: away[edge])[:2])
    names = " and ".join(shape.edges[edge].name for edge in edges)
    return TooWideError(
        edges, lambda say: f"{shape.name}, {names}: the cut line runs across the fold, to {say.place(x, y)}"
    )


def _neighbours(shape: Shape, edge: int) -> tuple[int, ...]:
    count = len(shape.edges)
    return tuple(i for i in ((edge - 1) % count, (edge + 1) % count) if shape.edges[i].kind is not Kind.FOLD)


def _what_fits(shape: Shape, blamed: tuple[int, ...]) -> Sentence:
    """What to do: the widest allowance that the blamed edges could have, or all edges if that is more."""
    every = tuple(i for i, edge in enumerate(shape.edges) if edge.kind is not Kind.FOLD)
    of_blamed, of_every = _widest(shape, blamed), _widest(shape, every)
    if not of_blamed and not of_every:
        return lambda say: f"reshape the piece there: no allowance of {say(STEP_IN)} or more fits"
    names = " and ".join(shape.edges[i].name for i in blamed) if of_blamed >= of_every else "every edge"
    return lambda say: f"give {names} at most {say(max(of_blamed, of_every))}, or reshape the piece there"


def _widest(shape: Shape, edges: tuple[int, ...]) -> float:
    """The widest allowance in inches, in sixteenths, that these edges can all have; 0 if none."""
    width = max(shape.edges[i].width_in for i in edges)
    for count in range(math.ceil(width / STEP_IN) - 1, 0, -1):
        try:
            _outline(_capped(shape, edges, count * STEP_IN))
        except TooWideError:
            continue
        return count * STEP_IN
    return 0.0


def _capped(shape: Shape, capped: tuple[int, ...], cap_in: float) -> Shape:
    edges = [
        replace(edge, allowance_in=tuple(part * cap_in / edge.width_in for part in edge.allowance_in))
        if i in capped and edge.width_in > cap_in
        else edge
        for i, edge in enumerate(shape.edges)
    ]
    return replace(shape, edges=tuple(edges))
