"""The projector's map from crosses placed by hand; the lens's bow enters only when held-out marks say so.

Two pictures are fitted. One is flat: a homography, no more. The other bows by all four lens terms, each held
near zero by a weak prior, so that every term goes as far as the marks speak for it and no further. With a
dozen marks that loses less than choosing among models with some of the terms does, since every choice is
sometimes wrong (`tests/bench/hand.py`). The bowed picture is taken when it foretells marks held out better.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import cv2
import numpy as np

from calibration.errors import AlignmentError
from calibration.frames import Array
from calibration.hand.marks import HandCross
from calibration.lens import bend, bend_slopes
from calibration.projector_map import inverse, project, project_slopes
from calibration.solving.joint_model import (
    PROJECTOR,
    PROJECTOR_LENS_SIGMA,
    TABLE_UNIT_IN,
    lie,
    matrix_of,
    picture_units,
)
from calibration.solving.starts import rigid

HAND_PX: Final = 0.65  # half a pixel of light and 1/64 in of hand, at 27 pixels an inch
LEAST_MARKS: Final = 4
FLAT: Final = ()
BOWED: Final = (8, 9, 10, 11)  # k1, k2, centre u, centre v among the projector's terms
_HOMOGRAPHY: Final = 8
_PLACE: Final = 3
_BELIEF: Final = 6  # marks that the expected noise counts for beside the residuals seen
_CENTRES: Final = (0.5, -0.5)  # half widths: with no bow its centre has no slope, so the fit starts off it


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HandFit:
    """`terms` (12,) of the projector and `places` (x, y, turn) of the sheets, in model units.

    `covariance` is that of the terms, then of the places of all sheets but the first: bow that was left out may
    still be there, so its terms always count, and so does how far the bowed picture lies from a flat one that
    was chosen. By cross: `residual_px` (n,); `held_out_px` (n,), its distance
    from the fit to the others, infinite where those could not do without it; `surprise` (n,), that distance
    in the standard deviations to expect of it, judged by the others.
    """

    terms: Array
    covariance: Array
    places: dict[int, Array]
    residual_px: Array
    held_out_px: Array
    surprise: Array
    bowed: bool


class HandProblem:
    """Misfits of all crosses for one choice of free lens terms, in units of `HAND_PX`, with the priors below."""

    def __init__(
        self,
        crosses: tuple[HandCross, ...],
        screen_px: tuple[int, int],
        scale: float,
        lens_terms: tuple[int, ...],
    ) -> None:
        self.unit = screen_px[0] / 2 / HAND_PX
        self.screen = picture_units(np.array([cross.at_px for cross in crosses]), screen_px)
        self.sheets = np.array([cross.mark.sheet for cross in crosses])
        self.known = np.array([cross.mark.at_in for cross in crosses]) * scale / TABLE_UNIT_IN
        self.loose = sorted({int(n) for n in self.sheets} - {1})
        self.lens_terms = list(lens_terms)
        self.free = [*range(_HOMOGRAPHY), *lens_terms]
        self._prior = np.diag([1 / PROJECTOR_LENS_SIGMA[i - _HOMOGRAPHY] for i in lens_terms])

    def terms(self, x: Array) -> Array:
        """(12,) of the projector."""
        terms = np.zeros(PROJECTOR)
        terms[self.free] = x[: len(self.free)]
        return terms

    def all_terms(self, x: Array) -> Array:
        """(12 + 3 loose sheets,) the terms of the projector, then the places."""
        return np.concatenate([self.terms(x), x[len(self.free) :]])

    def places(self, x: Array) -> dict[int, Array]:
        """(x, y, turn) by sheet; sheet 1 sets the frame."""
        rows = x[len(self.free) :].reshape(-1, _PLACE)
        return {1: np.zeros(_PLACE), **dict(zip(self.loose, rows, strict=True))}

    def residuals(self, x: Array) -> Array:
        """(2 n + lens terms,) misfits, cross by cross, then the priors'."""
        terms = self.terms(x)
        bent = bend(project(matrix_of(terms[:8]), self._on_table(x)), terms[10:12], terms[8], terms[9])
        prior = self._prior @ terms[self.lens_terms]
        return np.concatenate([((bent - self.screen) * self.unit).ravel(), prior])

    def slopes(self, x: Array) -> Array:
        """Those of `residuals`, by the unknowns."""
        terms, places, table = self.terms(x), self.places(x), self._on_table(x)
        slopes = np.zeros((len(table), 2, len(x)))
        by_terms, by_table = cross_slopes(terms, table)
        slopes[:, :, : len(self.free)] = by_terms[:, :, self.free]
        for i, number in enumerate(self.loose):
            on = self.sheets == number
            start = len(self.free) + _PLACE * i
            slopes[on, :, start : start + _PLACE] = by_table[on] @ place_slopes(places[number], table[on])
        prior = np.zeros((len(self.lens_terms), len(x)))
        prior[:, _HOMOGRAPHY : len(self.free)] = self._prior
        return np.vstack([slopes.reshape(-1, len(x)) * self.unit, prior])

    def start(self, centre_v: float) -> Array:
        """Unknowns without bow, whose centre lies so far up or down the picture."""
        first = self.sheets == 1
        if first.sum() < LEAST_MARKS:
            raise AlignmentError(
                f"{int(first.sum())} marks placed; {LEAST_MARKS} on sheet 1 or the mat are needed"
            )
        matrix, _ = cv2.findHomography(self.known[first], self.screen[first], 0)
        if matrix is None or not np.isfinite(matrix).all() or abs(matrix[2, 2]) < 1e-9:
            raise AlignmentError(
                "The marks placed lie on one line; undo, and place marks that enclose an area"
            )
        matrix = np.asarray(matrix / matrix[2, 2], dtype=np.float64)
        terms = np.zeros(PROJECTOR)
        terms[:_HOMOGRAPHY] = matrix.ravel()[:_HOMOGRAPHY]
        terms[PROJECTOR - 1] = centre_v
        screen_to_table = inverse(matrix)
        places = [
            rigid(self.known[self.sheets == n], project(screen_to_table, self.screen[self.sheets == n]))
            for n in self.loose
        ]
        return np.concatenate([terms[self.free], *places])

    def solved(self) -> Array:
        """The unknowns that fit best."""
        from scipy.optimize import least_squares

        starts = _CENTRES if self.lens_terms else _CENTRES[:1]
        tried = [
            least_squares(self.residuals, self.start(v), jac=self.slopes, method="lm", x_scale="jac")
            for v in starts
        ]
        best: Array = min(tried, key=lambda result: float(result.cost)).x
        return best

    def _on_table(self, x: Array) -> Array:
        table = np.empty_like(self.known)
        for number, place in self.places(x).items():
            table[self.sheets == number] = lie(place, self.known[self.sheets == number])
        return table


def cross_slopes(terms: Array, table: Array) -> tuple[Array, Array]:
    """(n, 2, 12) slopes of crosses, in half widths, by the terms, and (n, 2, 2) by their table points."""
    matrix = matrix_of(terms[:_HOMOGRAPHY])
    by_point, by_matrix = project_slopes(matrix, table)
    by_straight, by_lens = bend_slopes(project(matrix, table), terms[10:12], terms[8], terms[9])
    return np.concatenate([by_straight @ by_matrix, by_lens], axis=2), by_straight @ by_point


def place_slopes(place: Array, table: Array) -> Array:
    """(n, 2, 3) slopes of table points on a sheet by its x, y and turn."""
    slopes = np.zeros((len(table), 2, _PLACE))
    slopes[:, 0, 0] = slopes[:, 1, 1] = 1
    slopes[:, :, 2] = (table - place[:2])[:, ::-1] * (-1, 1)
    return slopes


@lru_cache(maxsize=64)
def fit_by_hand(crosses: tuple[HandCross, ...], screen_px: tuple[int, int], scale: float) -> HandFit:
    """The map from crosses, no two on one mark; `scale` is the print's true size over the drawn.

    Sheets other than 1 lie loose and need two marks each. Raises AlignmentError where the marks cannot do.
    """
    bowed = HandProblem(crosses, screen_px, scale, BOWED)
    spare = 2 * len(crosses) > _HOMOGRAPHY + _PLACE * len(bowed.loose)
    flat = HandProblem(crosses, screen_px, scale, FLAT)
    tried = [(problem, problem.solved()) for problem in ((flat, bowed) if spare else (flat,))]
    judged = [(problem, x, *_held_out(problem, x)) for problem, x in tried]
    problem, x, held_out, surprise, freedom = min(judged, key=lambda each: float((each[2] ** 2).sum()))
    residual = problem.residuals(x)[: 2 * len(crosses)].reshape(-1, 2)
    return HandFit(
        terms=problem.terms(x),
        covariance=_covariance(bowed, problem, x, freedom) + _passed_over(tried, problem, x),
        places=problem.places(x),
        residual_px=np.hypot(*residual.T) * HAND_PX,
        held_out_px=held_out * HAND_PX if spare else np.full(len(crosses), np.inf),
        surprise=surprise if spare else np.zeros(len(crosses)),
        bowed=problem is bowed,
    )


def _held_out(problem: HandProblem, x: Array) -> tuple[Array, Array, float]:
    """(n,) errors at each mark by the fit without it, by its leverage (Cook 1977); how surprising each is; freedom.

    The surprise is that error over its standard deviation, with the noise that the other marks show.
    """
    slopes = problem.slopes(x)
    marks = len(problem.sheets)
    misfit = problem.residuals(x)
    corners = misfit[: 2 * marks].reshape(marks, 2)
    hat = (slopes @ np.linalg.pinv(slopes))[: 2 * marks, : 2 * marks]
    left_out, gain = np.empty_like(corners), np.empty(marks)
    for i in range(marks):
        own = hat[2 * i : 2 * i + 2, 2 * i : 2 * i + 2]
        left_out[i] = np.linalg.lstsq(np.eye(2) - own, corners[i], rcond=1e-6)[0]
        gain[i] = max(float(corners[i] @ left_out[i]), 0.0)  # by how much the cost falls without this mark
    freedom = max(2 * marks - float(np.trace(hat)), 0.0)
    others2 = np.maximum((misfit**2).sum() - gain, 0)
    noise2 = (2 * _BELIEF + others2) / (2 * _BELIEF + max(freedom - 2, 0.0))
    return np.hypot(*left_out.T), np.sqrt(gain / noise2), freedom


def _covariance(full: HandProblem, chosen: HandProblem, x: Array, freedom: float) -> Array:
    """That of the full problem at the unknowns chosen, whatever was chosen, by the noise expected and seen."""
    marks = len(full.sheets)
    slopes = full.slopes(chosen.all_terms(x))
    misfit2 = float((chosen.residuals(x)[: 2 * marks] ** 2).sum())
    noise2 = (2 * _BELIEF + misfit2) / (2 * _BELIEF + freedom)
    slopes[: 2 * marks] /= np.sqrt(noise2)
    return np.linalg.pinv(slopes.T @ slopes, hermitian=True).astype(np.float64)


def _passed_over(tried: Sequence[tuple[HandProblem, Array]], chosen: HandProblem, x: Array) -> Array:
    """What the choice adds to the covariance: the richest picture tried may be the true one."""
    richest, there = tried[-1]
    apart = richest.all_terms(there) - chosen.all_terms(x)
    return np.outer(apart, apart)
