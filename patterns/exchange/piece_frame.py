"""How a drawn piece is brought into a piece's own frame: its fold on x = 0, y down from its highest corner."""

from dataclasses import dataclass

import numpy as np

from patterns.curves import Array
from patterns.exchange.drawn_outlines import ON_FOLD_IN
from patterns.exchange.folded_walk import Walk


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Frame:
    """`origin` (2,) of the drawing comes to nought; the rows of `axes` (2, 2) are the directions of x and y in it."""

    origin: Array
    axes: Array

    def lifted(self, points: Array) -> Array:
        """(n, 2) piece inches of (n, 2) drawing inches."""
        lifted: Array = (points - self.origin) @ self.axes.T
        return lifted


def frame_of(walk: Walk, origin: Array | None) -> Frame:
    """The frame of a walk; `origin` (2,) is its nought where the drawing says that, and has not been turned since.

    What stands upright in the drawing stays so, its other side up where the fold is at the right. A fold that lies
    level is turned upright, the cloth to its right.
    """
    level = np.eye(2)
    if origin is not None and _upright_at(walk, origin):
        return Frame(origin=origin, axes=level)
    if not walk.folded:
        return Frame(origin=walk.points.min(axis=0), axes=level)
    start, end = walk.points[0], walk.points[-1]
    along = (end - start) / np.hypot(*(end - start))
    across = np.array([along[1], -along[0]])
    if float(((walk.points - start) @ across).sum()) < 0:
        across = -across
    upright = abs(along[1]) >= abs(along[0])
    down = along * (1.0 if along[1] > 0 else -1.0) if upright else np.array([-across[1], across[0]])
    axes = np.stack([across, down])
    highest = float((walk.points @ down).min())
    return Frame(origin=across * float(start @ across) + down * highest, axes=axes)


def _upright_at(walk: Walk, origin: Array) -> bool:
    """Whether a fold is still where the drawing had it, upright and above or below its nought."""
    return not walk.folded or float(np.abs(walk.points[[0, -1], 0] - origin[0]).max()) <= ON_FOLD_IN


def turned_over(frame: Frame, points: Array) -> Frame:
    """The frame of the same fold with its other end up, its nought at the highest of (n, 2) drawing points."""
    axes = frame.axes * np.array([[1.0], [-1.0]])
    across, down = axes
    origin = across * float(frame.origin @ across) + down * float((points @ down).min())
    return Frame(origin=origin, axes=axes)
