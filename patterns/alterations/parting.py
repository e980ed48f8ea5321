"""A curve in more and shorter pieces, which can be changed one by one."""

from functools import lru_cache
from itertools import pairwise
from typing import Final

import numpy as np

from patterns.curves import Array, Curve

_REMEMBERED: Final = 64  # ways in which a piece has been parted


def parted(curve: Curve, about: int) -> Curve:
    """The same curve in about so many pieces of about the same length; the very same one where it has as many."""
    steps = np.diff(curve.beziers, axis=1)
    reaches = np.hypot(steps[..., 0], steps[..., 1]).sum(axis=1)
    counts = np.maximum(np.rint(reaches * (about / reaches.sum())), 1).astype(np.intp).tolist()
    if sum(counts) == len(counts):
        return curve
    parts = [_evenly(count).dot(piece) for count, piece in zip(counts, curve.beziers, strict=True)]
    return Curve(np.concatenate(parts).reshape(-1, 4, 2))


@lru_cache(maxsize=_REMEMBERED)
def _evenly(parts: int) -> Array:
    """(4 parts, 4) by which a piece's places are multiplied for those of its even parts, one after another.

    Each of them is the piece's blossom, the product of its three factors (1 - t) and t, with t where its part starts in
    some of these and where it ends in the others.
    """
    factors = [(1 - at / parts, at / parts) for at in range(parts + 1)]
    rows = []
    for start, end in pairwise(factors):
        for ends in range(4):
            first, second, third = [start] * (3 - ends) + [end] * ends
            rows.append(np.convolve(np.convolve(first, second), third))
    return np.array(rows)
