"""Lines cut off where the projector's light ends."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from calibration.frames import Array
from projector.lighting.lit_area import ROUNDING_IN, LitArea
from projector.lighting.strokes import joined

Kept = npt.NDArray[np.bool_]


def within_reach(paths_in: Sequence[Array], lit: LitArea) -> list[Array]:
    """Table paths, each cut off at the reach of the screen; those beyond it are left out.

    Paths have points enough to follow the lens, so one that crosses the screen has a point within reach.
    """
    points_in, ends = joined(paths_in)
    outside = lit.reaches(points_in) > ROUNDING_IN
    starts = np.concatenate([[0], ends[:-1]])
    some = np.logical_or.reduceat(outside, starts).tolist()
    every = np.logical_and.reduceat(outside, starts).tolist()
    parts: list[Array] = []
    for path, leaves, stays_out in zip(paths_in, some, every, strict=True):
        if not leaves:
            parts.append(path)
        elif not stays_out:
            parts.extend(clipped(path, lit))
    return parts


def clipped(path_in: Array, lit: LitArea) -> list[Array]:
    """The parts of a table path within reach of the screen (a margin beyond its border), in order.

    Each side of a convex area bounds the inner part of a segment from one end (Cyrus and Beck, 1978).
    """
    if lit.holds(path_in):
        return [path_in]
    start, step = path_in[:-1], np.diff(path_in, axis=0)
    enters, leaves = _within(start, step, lit)
    parts: list[list[Array]] = []
    reached = -1  # the vertex that the last part ended on, if it ended on one
    for k in np.flatnonzero(enters < leaves).tolist():
        if reached != k or enters[k] > 0.0:
            parts.append([start[k] + enters[k] * step[k]])
        reached = k + 1 if leaves[k] == 1.0 else -1
        parts[-1].append(start[k] + leaves[k] * step[k])
    return [np.array(part) for part in parts]


def segments_within_reach(segments_in: Array, lit: LitArea) -> tuple[Kept, Array]:
    """Which of (n, 2, 2) straight segments come within reach of the screen, (n,), and those cut off there.

    As in `clipped`, all of them at once.
    """
    start, step = segments_in[:, 0], segments_in[:, 1] - segments_in[:, 0]
    enters, leaves = _within(start, step, lit)
    kept = enters < leaves
    ends = np.stack([start + enters[:, None] * step, start + leaves[:, None] * step], axis=1)
    return kept, ends[kept]


def _within(start: Array, step: Array, lit: LitArea) -> tuple[Array, Array]:
    """The shares of segments (n, 2) at which they come within reach and leave it; none where the second is less."""
    rate = step @ lit.reach_normals.T
    room = lit.reach_limits - start @ lit.reach_normals.T
    at = np.divide(room, rate, out=np.zeros_like(room), where=rate != 0)
    missed = (rate == 0) & (room < 0)
    enters: Array = np.where(rate < 0, at, np.where(missed, np.inf, 0.0)).max(axis=1).clip(min=0.0)
    leaves: Array = np.where(rate > 0, at, 1.0).min(axis=1).clip(max=1.0)
    return enters, leaves
