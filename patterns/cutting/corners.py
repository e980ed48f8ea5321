"""How the cut line turns a corner: mitred, squared, reflected at a hem, or ended on the fold."""

import math
from dataclasses import dataclass
from itertools import pairwise, product
from typing import Final, TypeAlias

import numpy as np

from patterns.cubics import in_plane, out_of_plane
from patterns.curves import KINK_RAD, Array
from patterns.cutting.offsets import Stretch, turn_rad

MITRE_LIMIT: Final = 2.5  # of the wider allowance; a longer point wastes cloth and frays (common practice)
_SLACK: Final = 1e-9  # of a step: a path that ends on another crosses it, but for rounding
_BESIDE_IN: Final = 1e-6  # more than that slack of any step
_UNTOUCHED: Final = -1.0  # a position before the first point: nothing is trimmed


Step: TypeAlias = tuple[list[float], list[float]]  # from one point of a path to the next, in inches


class NoCornerError(Exception):
    """The two cut edges do not meet as the corner asks."""


@dataclass(frozen=True, eq=False)
class Turn:
    """`points` (n, 2) of the corner, and how far into each offset it reaches.

    The stretch before keeps its points with an index below `end_at`, the one after those above `start_at`.
    """

    end_at: float
    points: Array
    start_at: float


def mitred(before: Stretch, after: Stretch) -> Turn:
    """Both cut edges run on until they meet, sqrt(a^2 + b^2 + 2ab cos t) / sin t from the seam corner.

    Beyond MITRE_LIMIT a sharp corner is blunted: each edge runs on to the limit and a bevel joins them; and
    two allowances that differ on a seam line running almost straight on are joined by a step.
    """
    a, b = before.width_in, after.width_in
    turn = turn_of(before, after)
    corner, limit = before.end, MITRE_LIMIT * max(a, b)
    untrimmed = len(before.points)
    if abs(turn) <= KINK_RAD and a == b:
        middle = (before.points[-1] + after.points[0]) / 2
        return Turn(untrimmed - 1, middle[None], 0)
    if a == b == 0:
        return Turn(untrimmed - 1, np.empty((0, 2)), _UNTOUCHED)
    run_on = b - a * math.cos(turn)
    start_back = a - b * math.cos(turn)
    reach = math.sqrt(a * a + b * b - 2 * a * b * math.cos(turn))
    meets = reach <= limit * abs(math.sin(turn)) * (1 + 1e-12)
    if turn > 0 and run_on >= 0 and start_back >= 0:
        if meets:
            (x, y), (along_x, along_y) = before.points[-1].tolist(), before.end_tangent.tolist()
            reach = run_on / math.sin(turn)
            return Turn(untrimmed, np.array([[x + along_x * reach, y + along_y * reach]]), _UNTOUCHED)
        blunt = [
            corner + before.end_normal * a + before.end_tangent * math.sqrt(limit * limit - a * a),
            corner + after.start_normal * b - after.start_tangent * math.sqrt(limit * limit - b * b),
        ]
        return Turn(untrimmed, np.array(blunt), _UNTOUCHED)
    if not meets and a != b:
        return Turn(untrimmed, np.empty((0, 2)), _UNTOUCHED)
    first, second, point = _crossing(_run_on(before, limit), _begun_early(after, limit), near=corner)
    return Turn(first, point[None], second - 1)


def squared(before: Stretch, after: Stretch) -> Turn:
    """The seam line before runs on across the allowance after, and its own allowance ends square to it."""
    corner, limit = before.end, MITRE_LIMIT * max(before.width_in, after.width_in)
    seam = np.stack([corner, corner + before.end_tangent * max(limit, 1e-6)])
    _, second, foot = _crossing(seam, _begun_early(after, limit), near=corner)
    shoulder = foot + before.end_normal * before.width_in
    return Turn(len(before.points), np.stack([shoulder, foot]), second - 1)


def reflected(side: Stretch, hem: Stretch, folds_in: tuple[float, ...]) -> Turn:
    """The side's cut edge mirrored about the fold line of the hem that follows, so that both match folded.

    `folds_in` are the widths of the hem's layers: one, or two for a hem folded twice, where the second layer
    is mirrored about the first one's edge too. The fold line is taken straight, along the hem at its start; seen from
    there places are complex numbers, the real part how far beyond that line they are.
    A hem without any width has nothing to mirror and is mitred.
    """
    if hem.width_in == 0:
        return mitred(side, hem)
    depth, reach = sum(folds_in), 4 * (sum(folds_in) + side.width_in)
    edge = np.concatenate([side.points[:1] - side.start_tangent * reach, _run_on(side, reach)])
    corner, out = complex(*hem.start.tolist()), complex(*hem.start_normal.tolist())
    seen: list[complex] = ((in_plane(edge) - corner) * out.conjugate()).tolist()
    leaving = (i for i in range(len(seen) - 2, -1, -1) if seen[i].real < 0 <= seen[i + 1].real)
    last = next(leaving, None)
    if last is None:
        raise NoCornerError
    part = -seen[last].real / (seen[last + 1].real - seen[last].real)
    above = [seen[last] + part * (seen[last + 1] - seen[last]), *seen[last::-1]]
    path = _within([-place.conjugate() for place in above], 0, folds_in[0])
    if len(folds_in) == 2 and folds_in[1] > 0:
        first, second = folds_in
        turned_under = _within(above, -first, second - first)[::-1]
        path = _moving_on([*path, *(place + 2 * first for place in turned_under)])
    before, end = path[-2:]
    tail = end + (end - before) * (0.5 * depth / abs(end - before))
    mirrored = out_of_plane(np.array([*path, tail]) * out + corner)
    first, second, point = _crossing(mirrored, _begun_early(hem, reach), near=mirrored[-2])
    kept = mirrored[: math.floor(first) + 1]
    return Turn(
        min(last - 1 + part, len(side.points) - 1 + 1e-9), np.concatenate([kept, point[None]]), second - 1
    )


def on_fold(stretch: Stretch) -> Turn:
    """The end of a stretch at the fold x = 0: run on or trimmed to it, so that both halves meet there.

    A point that juts beyond MITRE_LIMIT is cut square to the fold.
    """
    corner, limit = stretch.end, MITRE_LIMIT * stretch.width_in
    inside = (stretch.points[:, 0] > 1e-9).nonzero()[0]
    if not len(inside):
        raise NoCornerError
    last = int(inside[-1])
    if last < len(stretch.points) - 1:
        ahead, behind = stretch.points[last + 1], stretch.points[last]
        part = behind[0] / (behind[0] - ahead[0])
        return Turn(last + part, np.array([[0.0, behind[1] + part * (ahead[1] - behind[1])]]), _UNTOUCHED)
    end, tangent = stretch.points[-1], stretch.end_tangent
    run_on = -end[0] / tangent[0] if tangent[0] < 0 else math.inf
    y = end[1] + run_on * tangent[1] if math.isfinite(run_on) else math.inf
    if abs(y - corner[1]) <= limit * (1 + 1e-12):
        return Turn(len(stretch.points), np.array([[0.0, y]]), _UNTOUCHED)
    blunt = corner + stretch.end_normal * stretch.width_in
    blunt = blunt + tangent * math.sqrt(limit * limit - stretch.width_in**2)
    return Turn(len(stretch.points), np.array([blunt, [0.0, blunt[1]]]), _UNTOUCHED)


def turned_over(turn: Turn, before: Stretch, after: Stretch) -> Turn:
    """A turn found on the reversed walk (after reversed, then before reversed), for the walk as it is."""
    return Turn(
        len(before.points) - 1 - turn.start_at, turn.points[::-1], len(after.points) - 1 - turn.end_at
    )


def turn_of(before: Stretch, after: Stretch) -> float:
    """Radians by which the seam line turns at the corner, positive where the corner juts out."""
    return before.outward * turn_rad(before.end_tangent, after.start_tangent)


def _run_on(stretch: Stretch, reach: float) -> Array:
    return np.concatenate([stretch.points, (stretch.points[-1] + stretch.end_tangent * reach)[None]])


def _begun_early(stretch: Stretch, reach: float) -> Array:
    return np.concatenate([(stretch.points[0] - stretch.start_tangent * reach)[None], stretch.points])


def _within(path: list[complex], low: float, high: float) -> list[complex]:
    """The first part of a path that lies from `low` to `high` beyond the hem line, cut there exactly.

    Beyond it is along the real axis.
    """
    points = [path[0]] if low - 1e-12 <= path[0].real <= high + 1e-12 else []
    for start, end in pairwise(path):
        here, there = start.real, end.real
        points += [
            start + (end - start) * ((level - here) / (there - here))
            for level in ((high, low) if here > there else (low, high))
            if here < level < there or there < level < here
        ]
        if low - 1e-12 <= there <= high + 1e-12:
            points.append(end)
        elif points:
            break
    if len(points) < 2:
        raise NoCornerError
    return _moving_on(points)


def _moving_on(path: list[complex]) -> list[complex]:
    """The path without points that lie on the one before them."""
    return path[:1] + [place for before, place in pairwise(path) if abs(place - before) > 1e-9]


def _crossing(one: Array, two: Array, near: Array) -> tuple[float, float, Array]:
    """Where two paths cross nearest to `near`: the position on each, counted in points, and the place."""
    near_to, found = near.tolist(), None
    walk, other_walk = one.tolist(), two.tolist()
    steps, other_steps = list(pairwise(walk)), list(pairwise(other_walk))
    for i, j in product(_about(steps, other_walk), _about(other_steps, walk)):
        ((x, y), (end_x, end_y)), ((other_x, other_y), (other_end_x, other_end_y)) = steps[i], other_steps[j]
        step_x, step_y = end_x - x, end_y - y
        other_step_x, other_step_y = other_end_x - other_x, other_end_y - other_y
        across = step_x * other_step_y - step_y * other_step_x
        if across == 0:
            continue
        on_one = ((other_x - x) * other_step_y - (other_y - y) * other_step_x) / across
        on_two = ((other_x - x) * step_y - (other_y - y) * step_x) / across
        if not (-_SLACK <= on_one <= 1 + _SLACK and -_SLACK <= on_two <= 1 + _SLACK):
            continue
        place = [x + step_x * on_one, y + step_y * on_one]
        away = math.dist(place, near_to)
        if found is None or away < found[0]:
            found = away, i + on_one, j + on_two, place
    if found is None:
        raise NoCornerError
    _, first, second, place = found
    return first, second, np.array(place)


def _about(steps: list[Step], path: list[list[float]]) -> list[int]:
    """The numbers of the steps that do not lie wholly to one side of all of a path."""
    xs, ys = zip(*path, strict=True)
    low_x, high_x = min(xs) - _BESIDE_IN, max(xs) + _BESIDE_IN
    low_y, high_y = min(ys) - _BESIDE_IN, max(ys) + _BESIDE_IN
    return [
        number
        for number, ((x, y), (end_x, end_y)) in enumerate(steps)
        if not (x < low_x > end_x or x > high_x < end_x or y < low_y > end_y or y > high_y < end_y)
    ]
