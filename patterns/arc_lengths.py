"""How long cubics are, and the places on them at lengths from their start: by quadrature over parts of a piece."""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from functools import cache
from itertools import accumulate
from typing import Final, NamedTuple, Self

import numpy as np

from patterns.cubics import SLOPES, Plane

Place = tuple[int, float]  # on a path: the number of a piece, and the parameter on it

STILL_IN: Final = 1e-9  # arc lengths are refined until they change by less
_FINEST: Final = 512  # cells of a piece: what stands still at none is as good as it will be
_NEWTON_ROUNDS: Final = 12
_NEWTON_STEP: Final = 1e-6  # of a cell: after one so small the next would be a millionth of a millionth

_SLOWEST_IN: Final = 1e-6  # a cell: Newton's steps go by no less where a handle lies on its point

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(12)  # of Gauss-Legendre quadrature
_LOOKS: Final = np.append((_NODES + 1) / 2, 1.0)  # at its nodes over a parameter from 0 to 1, and at the end
_AT_LOOKS: Final = np.stack([_LOOKS**2, _LOOKS, np.ones_like(_LOOKS)]).astype(np.complex128)
_MEAN: Final = np.append(_WEIGHTS / 2, 0.0)
_MEAN_AND_LAST: Final = np.stack([_MEAN, np.eye(len(_LOOKS))[-1]], axis=1)


class ArcLengths(NamedTuple):
    """A path in cells, as many for each piece.

    `ends_in` are the m + 1 inches from the start up to each cell's end. `motions` (m, 3) are what the second,
    first and zeroth powers of a parameter from 0 to 1 within each cell are multiplied by for its velocity; there are
    none where every cell is walked evenly.
    """

    ends_in: Sequence[float]
    per_piece: int
    motions: Plane | None

    @classmethod
    def even(cls, lengths_in: Iterable[float]) -> Self:
        """Of straight pieces that are walked evenly, so long each."""
        return cls(ends_in=list(accumulate(lengths_in, initial=0.0)), per_piece=1, motions=None)

    @classmethod
    def of(cls, pieces: Plane) -> Self:
        """Of pieces (n, 4), in ever finer cells, until the whole length changes by less than STILL_IN."""
        coarse = 2
        while True:
            motions = pieces.dot(_cells(coarse)).reshape(-1, 3)
            lengths_in = abs(motions.dot(_AT_LOOKS)).dot(_MEAN).reshape(len(pieces), -1).tolist()
            before_in = sum(sum(piece[:coarse]) for piece in lengths_in)
            ends_in = list(accumulate((cell for piece in lengths_in for cell in piece[coarse:]), initial=0.0))
            if abs(ends_in[-1] - before_in) < STILL_IN or coarse >= _FINEST:
                fine = motions.reshape(len(pieces), -1, 3)[:, coarse:].reshape(-1, 3)
                return cls(ends_in=ends_in, per_piece=2 * coarse, motions=fine)
            coarse *= 2

    def places(self, lengths_in: Sequence[float]) -> list[Place]:
        """The places so many inches along."""
        cells = [min(bisect_left(self.ends_in, at, 1), len(self.ends_in) - 1) - 1 for at in lengths_in]
        rests_in = [at - self.ends_in[cell] for at, cell in zip(lengths_in, cells, strict=True)]
        shares = [
            min(rest / (self.ends_in[cell + 1] - self.ends_in[cell]), 1.0) if rest > 0 else 0.0
            for rest, cell in zip(rests_in, cells, strict=True)
        ]
        if self.motions is not None:
            shares = _reaching(rests_in, self.motions.take(cells, axis=0).tolist(), shares)
        return [
            (cell // self.per_piece, (cell % self.per_piece + share) / self.per_piece)
            for cell, share in zip(cells, shares, strict=True)
        ]


def _reaching(rests_in: list[float], motions: list[list[complex]], shares: list[float]) -> list[float]:
    """The shares of cells with these `motions` that lie so many inches from their starts.

    By Newton's method, from `shares` near them.
    """
    for _ in range(_NEWTON_ROUNDS):
        scaled = [
            (squared * share * share, plain * share, start)
            for (squared, plain, start), share in zip(motions, shares, strict=True)
        ]
        looked = abs(np.array(scaled).dot(_AT_LOOKS)).dot(_MEAN_AND_LAST).tolist()
        steps = [
            (rest_in - share * mean_in) / max(last_in, _SLOWEST_IN)
            for rest_in, share, (mean_in, last_in) in zip(rests_in, shares, looked, strict=True)
        ]
        shares = [min(max(share + step, 0.0), 1.0) for share, step in zip(shares, steps, strict=True)]
        if max(abs(step) for step in steps) < _NEWTON_STEP:
            break
    return shares


@cache
def _cells(coarse: int) -> Plane:
    """(4, 9 coarse) from a piece's places to its motions in so many cells, then in twice as many."""
    return np.concatenate([_motions(coarse), _motions(2 * coarse)], axis=1)


def _motions(cells: int) -> Plane:
    """(4, 3 cells) from a piece's places to its motion in each of so many cells."""
    squared, plain, start = SLOPES
    begun = np.arange(cells)[:, None] / cells
    by_powers = [
        np.tile(squared / cells**3, (cells, 1)),
        (2 * squared * begun + plain) / cells**2,
        ((squared * begun + plain) * begun + start) / cells,
    ]
    return np.stack(by_powers, axis=1).reshape(-1, 4).T
