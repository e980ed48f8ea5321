"""How deep to fold: the foldings of one kind that are worth trying for some pieces."""

import math
from collections.abc import Iterable, Sequence
from itertools import combinations_with_replacement
from typing import Final

import numpy as np

from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement
from patterns.laying.cloth import Cloth
from patterns.laying.folding import Fold, Folding
from patterns.laying.hanging import hang_deg, hangs_by_its_fold, whole_ring
from patterns.laying.lay import Terms

DEPTH_STEP_IN: Final = 1 / 8  # to which a depth is rounded up: it is measured with a tape
MOST_DEPTHS: Final = 6
_NO_MORE: Final = 1e-9


def foldings(fold: Fold, cloth: Cloth, pieces: Sequence[DraftedPiece], terms: Terms) -> tuple[Folding, ...]:
    """Those worth trying, shallow before deep; none where the pieces leave no choice that the cloth allows."""
    half = cloth.width_in / 2
    if fold is Fold.SINGLE:
        return (Folding(fold=fold, cloth=cloth),)
    if fold is Fold.SELVEDGES:
        return (Folding(fold=fold, cloth=cloth, right_in=half),)
    if fold is Fold.CENTRE:
        return (Folding(fold=fold, cloth=cloth, left_in=half / 2, right_in=half / 2),)
    if fold is Fold.CROSSWISE:
        return (Folding(fold=fold, cloth=cloth, far_in=1.0),)  # the planner moves it to where the pieces end
    needed = needed_depths_in(cloth, pieces, terms)
    if fold is Fold.BOTH:
        pairs = combinations_with_replacement(_chosen(needed), 2)
        fitting = [(left, right) for left, right in pairs if left + right <= half]
        return tuple(Folding(fold=fold, cloth=cloth, left_in=left, right_in=right) for left, right in fitting)
    depths = [depth for depth in _deeper(needed, terms) if depth <= half]
    if fold is Fold.PARTIAL:
        depths = [depth for depth in depths if depth < half - DEPTH_STEP_IN]
    else:
        depths = sorted({*(depth for depth in needed if depth <= half), *depths})
    return tuple(Folding(fold=fold, cloth=cloth, right_in=depth) for depth in _chosen(depths))


def needed_depths_in(cloth: Cloth, pieces: Iterable[DraftedPiece], terms: Terms) -> list[float]:
    """From fold to selvedge, what each piece that can be cut double needs; from the least, each once."""
    depths = set()
    for piece in pieces:
        if piece.cut.on_fold and hangs_by_its_fold(piece):
            depths.add(_rounded_up(across_in(piece, opened=False) + cloth.selvedge_in))
        elif piece.cut.count > 1:
            depths.add(_rounded_up(terms.gap_in / 2 + across_in(piece, opened=True) + cloth.selvedge_in))
    return sorted(depths)


def across_in(piece: DraftedPiece, *, opened: bool) -> float:
    """Inches across the cloth of a piece that hangs by its grain, opened or as drawn."""
    ring = whole_ring(piece) if opened else piece.cut_line
    return float(np.ptp(Placement(turn_deg=hang_deg(piece)).placed(ring)[:, 0]))


def along_in(piece: DraftedPiece) -> float:
    """Inches along the cloth of a piece that hangs by its grain."""
    return float(np.ptp(Placement(turn_deg=hang_deg(piece)).placed(whole_ring(piece))[:, 1]))


def _deeper(needed: list[float], terms: Terms) -> list[float]:
    """The least depth that holds the widest piece, and those that hold another beside it."""
    if not needed:
        return []
    widest = needed[-1]
    return [widest, *(widest + depth + terms.gap_in for depth in needed)]


def _chosen(depths: Sequence[float]) -> list[float]:
    """At most MOST_DEPTHS of them, the shallowest, the deepest and some between, without near doubles."""
    apart: list[float] = []
    for depth in sorted(depths):
        if not apart or depth - apart[-1] > 2 * DEPTH_STEP_IN:
            apart.append(depth)
        else:
            apart[-1] = depth
    if len(apart) <= MOST_DEPTHS:
        return apart
    chosen = np.linspace(0, len(apart) - 1, MOST_DEPTHS).round().astype(int)
    return [apart[i] for i in chosen]


def _rounded_up(depth_in: float) -> float:
    return math.ceil(depth_in / DEPTH_STEP_IN - _NO_MORE) * DEPTH_STEP_IN
