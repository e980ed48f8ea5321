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
from patterns.laying.hanging import gives_two, hang_deg, hangs_by_its_fold, whole_ring
from patterns.laying.lay import Terms

DEPTH_STEP_IN: Final = 1 / 8  # to which a depth is rounded up: it is measured with a tape
MOST_DEPTHS: Final = 6
MOST_PAIRS: Final = 8
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
    on_fold = _depths(on_fold_in(piece, cloth) for piece in pieces)
    needed = [depth for depth in needed_in(cloth, pieces, terms) if depth <= half]
    if fold is Fold.BOTH:
        pairs = combinations_with_replacement(_chosen(needed), 2)
        fitting = sorted((pair for pair in pairs if sum(pair) <= half), key=lambda pair: pair[::-1])
        return tuple(Folding(fold=fold, cloth=cloth, left_in=a, right_in=b) for a, b in fitting[-MOST_PAIRS:])
    depths = needed
    if fold is Fold.PARTIAL:
        widest = max((depth for depth in on_fold if depth <= half), default=0.0)
        beside = {widest + depth + terms.gap_in for depth in needed}
        depths = [depth for depth in {*needed, *beside} if widest <= depth < half - DEPTH_STEP_IN]
    return tuple(Folding(fold=fold, cloth=cloth, right_in=depth) for depth in _chosen(depths))


def needed_in(cloth: Cloth, pieces: Iterable[DraftedPiece], terms: Terms) -> list[float]:
    """From fold to selvedge, what the pieces need that can be cut double, from the least."""
    ways = [way for piece in pieces for way in (on_fold_in(piece, cloth), through_in(piece, cloth, terms))]
    return _depths(ways)


def on_fold_in(piece: DraftedPiece, cloth: Cloth) -> float | None:
    """From fold to selvedge, what the half on the fold needs; None for a piece that cannot lie on one."""
    if not hangs_by_its_fold(piece):
        return None
    return across_in(piece, opened=False) + cloth.selvedge_in


def through_in(piece: DraftedPiece, cloth: Cloth, terms: Terms) -> float | None:
    """From fold to selvedge, what all of the piece needs beside the fold; None for one of which no two are mirrored."""
    if not gives_two(piece):
        return None
    return terms.gap_in / 2 + across_in(piece, opened=True) + cloth.selvedge_in


def _depths(depths_in: Iterable[float | None]) -> list[float]:
    """Rounded up to what a tape measures, from the least, each once."""
    known = (depth for depth in depths_in if depth is not None)
    return sorted({math.ceil(depth / DEPTH_STEP_IN - _NO_MORE) * DEPTH_STEP_IN for depth in known})


def across_in(piece: DraftedPiece, *, opened: bool) -> float:
    """Inches across the cloth of a piece that hangs by its grain, opened or as drawn."""
    ring = whole_ring(piece) if opened else piece.cut_line
    return float(np.ptp(Placement(turn_deg=hang_deg(piece)).placed(ring)[:, 0]))


def along_in(piece: DraftedPiece) -> float:
    """Inches along the cloth of a piece that hangs by its grain."""
    return float(np.ptp(Placement(turn_deg=hang_deg(piece)).placed(whole_ring(piece))[:, 1]))


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
