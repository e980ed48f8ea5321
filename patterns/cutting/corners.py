"""How the cut line turns a corner: mitred, squared, reflected at a hem, or ended on the fold."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from patterns.curves import KINK_RAD, Array
from patterns.cutting.offsets import Stretch

MITRE_LIMIT: Final = 2.5  # of the wider allowance; a longer point wastes cloth and frays (common practice)
_UNTOUCHED: Final = -1.0  # a position before the first point: nothing is trimmed


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
            point = before.points[-1] + before.end_tangent * run_on / math.sin(turn)
            return Turn(untrimmed, point[None], _UNTOUCHED)
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
    is mirrored about the first one's edge too. The fold line is taken straight, along the hem at its start.
    A hem without any width has nothing to mirror and is mitred.
    """
    if hem.width_in == 0:
        return mitred(side, hem)
    corner, out = hem.start, hem.start_normal
    depth, reach = sum(folds_in), 4 * (sum(folds_in) + side.width_in)
    edge = np.concatenate([_begun_early(side, reach)[:1], _run_on(side, reach)])
    drop = (edge - corner) @ out
    leaving = np.flatnonzero((drop[:-1] < 0) & (drop[1:] >= 0))
    if not len(leaving):
        raise NoCornerError
    last = int(leaving[-1])
    part = -drop[last] / (drop[last + 1] - drop[last])
    foot = edge[last] + part * (edge[last + 1] - edge[last])
    above = np.concatenate([foot[None], edge[last::-1]])
    layers = [_within(above - 2 * np.outer((above - corner) @ out, out), corner, out, 0, folds_in[0])]
    if len(folds_in) == 2 and folds_in[1] > 0:
        first, second = folds_in
        layers.append(_within(above, corner, out, -first, second - first)[::-1] + 2 * first * out)
    path = np.concatenate(layers)
    path = _moving_on(path)
    tail = path[-1] + (path[-1] - path[-2]) * 0.5 * depth / np.hypot(*(path[-1] - path[-2]))
    path = np.concatenate([path, tail[None]])
    first, second, point = _crossing(path, _begun_early(hem, reach), near=path[-2])
    kept = path[: math.floor(first) + 1]
    return Turn(
        min(last - 1 + part, len(side.points) - 1 + 1e-9), np.concatenate([kept, point[None]]), second - 1
    )


def on_fold(stretch: Stretch) -> Turn:
    """The end of a stretch at the fold x = 0: run on or trimmed to it, so that both halves meet there.

    A point that juts beyond MITRE_LIMIT is cut square to the fold.
    """
    corner, limit = stretch.end, MITRE_LIMIT * stretch.width_in
    inside = np.flatnonzero(stretch.points[:, 0] > 1e-9)
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
    one, two = before.end_tangent, after.start_tangent
    cross, dot = one[0] * two[1] - one[1] * two[0], one @ two
    return before.outward * math.atan2(cross, dot)


def _run_on(stretch: Stretch, reach: float) -> Array:
    return np.concatenate([stretch.points, (stretch.points[-1] + stretch.end_tangent * reach)[None]])


def _begun_early(stretch: Stretch, reach: float) -> Array:
    return np.concatenate([(stretch.points[0] - stretch.start_tangent * reach)[None], stretch.points])


def _within(path: Array, corner: Array, out: Array, low: float, high: float) -> Array:
    """The first part of a path that lies from `low` to `high` beyond the hem line, cut there exactly."""
    far = (path - corner) @ out
    inside = (far >= low - 1e-12) & (far <= high + 1e-12)
    points = [path[0]] if inside[0] else []
    for i in range(len(path) - 1):
        here, there = far[i], far[i + 1]
        points += [
            path[i] + (path[i + 1] - path[i]) * (level - here) / (there - here)
            for level in sorted((low, high), reverse=bool(here > there))
            if min(here, there) < level < max(here, there)
        ]
        if inside[i + 1]:
            points.append(path[i + 1])
        elif points:
            break
    if len(points) < 2:
        raise NoCornerError
    return _moving_on(np.array(points))


def _moving_on(path: Array) -> Array:
    """The path without points that lie on the one before them."""
    step = path[1:] - path[:-1]
    moving: Array = path[np.concatenate([[True], np.hypot(step[:, 0], step[:, 1]) > 1e-9])]
    return moving


def _crossing(one: Array, two: Array, near: Array) -> tuple[float, float, Array]:
    """Where two paths cross nearest to `near`: the position on each, counted in points, and the place."""
    step_one, step_two = one[1:] - one[:-1], two[1:] - two[:-1]
    apart = two[None, :-1] - one[:-1, None]
    across = step_one[:, None, 0] * step_two[None, :, 1] - step_one[:, None, 1] * step_two[None, :, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        on_one = (apart[..., 0] * step_two[None, :, 1] - apart[..., 1] * step_two[None, :, 0]) / across
        on_two = (apart[..., 0] * step_one[:, None, 1] - apart[..., 1] * step_one[:, None, 0]) / across
    slack = 1e-9
    hits = (on_one >= -slack) & (on_one <= 1 + slack) & (on_two >= -slack) & (on_two <= 1 + slack)
    first, second = np.nonzero(hits)
    if not len(first):
        raise NoCornerError
    places = one[first] + step_one[first] * on_one[first, second][:, None]
    best = int(np.argmin(np.hypot(*(places - near).T)))
    i, j = int(first[best]), int(second[best])
    return i + float(on_one[i, j]), j + float(on_two[i, j]), places[best]
