"""Which mark to place next by hand: a few that pin the map, then wherever the cross is foreseen worst."""

from collections.abc import Collection, Sequence
from typing import Final

import numpy as np

from calibration.frames import Array
from calibration.hand.fit import LEAST_MARKS, HandFit, cross_slopes, place_slopes
from calibration.hand.marks import HandCross, HandMark
from calibration.solving.joint_model import PROJECTOR, TABLE_UNIT_IN, lie

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

    A cross there also tells nearly the most of all: where the worst forecast is driven down, so is the volume of
    what is unknown (Kiefer and Wolfowitz 1960: G- and D-optimal designs are the same).
    """
    sheets = np.array([mark.sheet for mark in left])
    errors_in = np.empty(len(left))
    for number in set(sheets.tolist()):
        own = [mark for mark in left if mark.sheet == number]
        errors_in[sheets == number] = _foreseen_in(fit, own, scale)
    return left[int(np.argmax(errors_in))]


def pinned(crosses: Sequence[HandCross]) -> tuple[HandCross, ...]:
    """The crosses that can be fitted: those of sheet 1 and of loose sheets that have two, so may be turned."""
    sheets = [cross.mark.sheet for cross in crosses]
    return tuple(cross for cross in crosses if cross.mark.sheet == 1 or sheets.count(cross.mark.sheet) > 1)


def _foreseen_in(fit: HandFit, marks: Sequence[HandMark], scale: float) -> Array:
    """(n,) one-sigma inches between marks of one sheet and the light sent for them; the sheet may lie loose."""
    number = marks[0].sheet
    place = fit.places[number]
    table = lie(place, np.array([mark.at_in for mark in marks]) * scale / TABLE_UNIT_IN)
    by_terms, by_table = cross_slopes(fit.terms, table)
    slopes = np.zeros((len(marks), 2, len(fit.covariance)))
    slopes[:, :, :PROJECTOR] = by_terms
    if number != 1:
        start = PROJECTOR + 3 * (sorted(fit.places).index(number) - 1)
        slopes[:, :, start : start + 3] = by_table @ place_slopes(place, table)
    strays = np.linalg.solve(by_table, slopes)
    variance = np.einsum("nij,jk,nik->n", strays, fit.covariance, strays)
    errors_in: Array = np.sqrt(np.maximum(variance, 0.0)) * TABLE_UNIT_IN
    return errors_in
