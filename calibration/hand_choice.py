"""Which mark to place next by hand: a few that pin the map, then wherever the cross is foreseen worst."""

from collections.abc import Collection, Sequence
from typing import Final

import numpy as np

from calibration.frames import Array
from calibration.hand_fit import LEAST_MARKS, HandFit, cross_slopes, place_slopes
from calibration.hand_marks import HandCross, HandMark
from calibration.joint_model import PROJECTOR, TABLE_UNIT_IN, lie

_OPPOSITE: Final = (0, 2)  # corners of a loose sheet that lay it, among the marks of the sheet


def opening_mark(marks: Sequence[HandMark], taken: Collection[HandMark]) -> HandMark | None:
    """The next of those that pin the map: four of sheet 1, two of each loose sheet; None when all are taken."""
    first = [mark for mark in marks if mark.sheet == 1][:LEAST_MARKS]
    for number in sorted({mark.sheet for mark in marks} - {1}):
        own = [mark for mark in marks if mark.sheet == number]
        first += [own[i] for i in _OPPOSITE]
    return next((mark for mark in first if mark not in taken), None)


def worst_foreseen(fit: HandFit, left: Sequence[HandMark], scale: float) -> HandMark:
    """Of the marks that have no cross yet, the one where the fit's error to expect, in inches, is largest.

    A cross there also tells most: with one expected noise everywhere it is the D-optimal next mark
    (Kiefer and Wolfowitz 1960, for designs that may weigh marks freely).
    """
    return left[int(np.argmax([_foreseen_in(fit, mark, scale) for mark in left]))]


def pinned(crosses: Sequence[HandCross]) -> tuple[HandCross, ...]:
    """The crosses that can be fitted: those of sheet 1 and of loose sheets that have two, so may be turned."""
    sheets = [cross.mark.sheet for cross in crosses]
    return tuple(cross for cross in crosses if cross.mark.sheet == 1 or sheets.count(cross.mark.sheet) > 1)


def _foreseen_in(fit: HandFit, mark: HandMark, scale: float) -> float:
    """One-sigma inches between the mark and the light sent for it; the mark's sheet may lie loose."""
    place = fit.places[mark.sheet]
    table: Array = lie(place, np.array([mark.at_in]) * scale / TABLE_UNIT_IN)
    by_terms, by_table = cross_slopes(fit.terms, table)
    slopes = np.zeros((2, len(fit.covariance)))
    slopes[:, :PROJECTOR] = by_terms[0]
    if mark.sheet != 1:
        start = PROJECTOR + 3 * (sorted(fit.places).index(mark.sheet) - 1)
        slopes[:, start : start + 3] = (by_table @ place_slopes(place, table))[0]
    strays = np.linalg.solve(by_table[0], slopes)
    variance = float(np.einsum("ij,jk,ik->", strays, fit.covariance, strays))
    return float(np.sqrt(max(variance, 0.0)) * TABLE_UNIT_IN)
