"""Which way a piece hangs: its grain along the cloth, its top to the far end."""

import math
from functools import lru_cache
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement

_REMEMBERED: Final = 512  # pieces: asked for again at every step of a search
QUARTER_DEG: Final = 90.0
GRAIN_IN: Final = 1 / 8  # between the distances of a grainline's two ends from the selvedge; common practice
ALIKE_IN: Final = 1 / 32  # halves that differ by less are halves of one symmetrical outline


@lru_cache(maxsize=_REMEMBERED)
def whole_ring(piece: DraftedPiece) -> Array:
    """(n, 2) closed cut line of all of the piece, opened if it is drawn as half."""
    half = piece.cut_line
    return half if piece.fold is None else np.concatenate([half, half[-2:0:-1] * (-1.0, 1.0)])


def grain_of(piece: DraftedPiece) -> Array:
    """(2, 2) piece inches of the grainline from its lower end to its top; the centre line where none is drawn."""
    if piece.grain is not None:
        low_to_high = np.argsort(-piece.grain[:, 1], kind="stable")
        return piece.grain[low_to_high]
    top, bottom = piece.cut_line[:, 1].min(), piece.cut_line[:, 1].max()
    return np.array([[0.0, bottom], [0.0, top]])


@lru_cache(maxsize=_REMEMBERED)
def hang_deg(piece: DraftedPiece) -> float:
    """Degrees counter-clockwise by which the piece is turned, seen from its right side, to hang by its grain.

    A half whose grain is along its fold within GRAIN_IN hangs by its fold, which is exact.
    """
    (x0, y0), (x1, y1) = grain_of(piece)
    if piece.fold is not None and abs(x1 - x0) <= GRAIN_IN:
        return 0.0
    return QUARTER_DEG - math.degrees(math.atan2(y0 - y1, x1 - x0))


@lru_cache(maxsize=_REMEMBERED)
def hangs_by_its_fold(piece: DraftedPiece) -> bool:
    """Whether it can lie on a lengthwise fold: drawn as half, its grain along the fold."""
    return piece.fold is not None and hang_deg(piece) == 0.0


def turn_of(piece: DraftedPiece, *, mirrored: bool, upside_down: bool, crosswise: bool = False) -> float:
    """Degrees for a `Placement` by which it hangs by its grain, or lies with it across the cloth."""
    turn = hang_deg(piece) + (QUARTER_DEG if crosswise else 0.0)
    return (-turn if mirrored else turn) + (2 * QUARTER_DEG if upside_down else 0.0)


@lru_cache(maxsize=_REMEMBERED)
def is_symmetrical(piece: DraftedPiece) -> bool:
    """Whether the piece turned over is the same outline, its grain still along the cloth."""
    if piece.fold is not None:
        return True
    hung = shapely.Polygon(Placement(turn_deg=hang_deg(piece)).placed(piece.cut_line))
    left, _, right, _ = hung.bounds
    over = shapely.transform(hung, lambda points: np.array([left + right, 0.0]) + points * (-1.0, 1.0))
    return bool(shapely.hausdorff_distance(hung, over) <= ALIKE_IN)


def gives_two(piece: DraftedPiece) -> bool:
    """Whether two are wanted that are mirror images of one another, so that both layers can be cut at once."""
    return piece.cut.count > 1 and (piece.cut.mirrored or is_symmetrical(piece))
