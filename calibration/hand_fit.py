"""The projector's map from crosses placed by hand: the simplest model that held-out marks do not refute."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np

from calibration.errors import AlignmentError
from calibration.frames import Array
from calibration.hand_marks import HandMark
from calibration.joint_model import (
    PROJECTOR,
    PROJECTOR_LENS_SIGMA,
    TABLE_UNIT_IN,
    lie,
    matrix_of,
    picture_units,
)
from calibration.lens import bend
from calibration.projector_map import inverse, project
from calibration.starts import rigid

HAND_PX: Final = 0.65  # half a pixel of light and 1/64 in of hand, at 27 pixels an inch
_BELIEF: Final = 6  # marks that the expected noise counts for beside the residuals seen
_WORTH: Final = 1.05  # a richer model must lower the held-out error below the simplest by more than this
_MODELS: Final = (("flat picture", ()), ("lens bow", (8,)), ("lens bow off centre", (8, 10, 11)))
_FULLEST: Final = (8, 9, 10, 11)
LEAST_MARKS: Final = 4


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HandFit:
    """`terms` (12,) and `covariance` (12, 12) of the projector in model units; `residual_px` (n,) by mark."""

    terms: Array
    covariance: Array
    places: dict[int, Array]
    residual_px: Array
    held_out_px: Array
    model: str


class _HandProblem:
    """Residuals of all placed crosses for one choice of free lens terms, in units of `HAND_PX`."""

    def __init__(
        self,
        marks: Sequence[HandMark],
        crosses_px: Array,
        screen_px: tuple[int, int],
        scale: float,
        lens_terms: tuple[int, ...],
    ) -> None:
        self.unit = screen_px[0] / 2 / HAND_PX
        self.screen = picture_units(crosses_px, screen_px)
        self.sheets = np.array([mark.sheet for mark in marks])
        self.known = np.array([mark.at_in for mark in marks]) * scale / TABLE_UNIT_IN
        self.loose = sorted({int(n) for n in self.sheets} - {1})
        self.lens_terms = list(lens_terms)

    def terms(self, x: Array) -> Array:
        terms = np.zeros(PROJECTOR)
        terms[:8] = x[:8]
        terms[self.lens_terms] = x[8 : 8 + len(self.lens_terms)]
        return terms

    def places(self, x: Array) -> dict[int, Array]:
        rows = x[8 + len(self.lens_terms) :].reshape(-1, 3)
        return {1: np.zeros(3), **dict(zip(self.loose, rows, strict=True))}

    def residuals(self, x: Array) -> Array:
        terms, places = self.terms(x), self.places(x)
        table = np.empty_like(self.known)
        for number, place in places.items():
            table[self.sheets == number] = lie(place, self.known[self.sheets == number])
        bent = bend(project(matrix_of(terms[:8]), table), terms[10:12], terms[8], terms[9])
        prior = [terms[i] / PROJECTOR_LENS_SIGMA[i - 8] for i in self.lens_terms]
        return np.concatenate([((bent - self.screen) * self.unit).ravel(), prior])

    def start(self) -> Array:
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
        screen_to_table = inverse(matrix)
        places = [
            rigid(self.known[self.sheets == n], project(screen_to_table, self.screen[self.sheets == n]))
            for n in self.loose
        ]
        return np.concatenate([matrix.ravel()[:8], np.zeros(len(self.lens_terms)), *places])

    def solved(self) -> tuple[Array, Array]:
        from scipy.optimize import least_squares

        result = least_squares(self.residuals, self.start(), jac="3-point", x_scale="jac", max_nfev=200)
        return result.x, np.asarray(result.jac)


def fit_by_hand(
    marks: Sequence[HandMark], crosses_px: Array, screen_px: tuple[int, int], scale: float
) -> HandFit:
    """The map from (n, 2) crosses on n marks; `scale` is the print's true size over the drawn.

    Sheets other than 1 lie loose and need two marks each. Raises AlignmentError where the marks cannot do.
    """
    tried = []
    for name, lens_terms in _MODELS:
        problem = _HandProblem(marks, crosses_px, screen_px, scale, lens_terms)
        x, slopes = problem.solved()
        residual, held_out = _held_out(problem.residuals(x), slopes, len(marks))
        tried.append((float(np.sqrt((held_out**2).mean())), name, problem, x, residual, held_out))
    best = min(entry[0] for entry in tried)
    _, name, problem, x, residual, held_out = next(e for e in tried if e[0] <= _WORTH * best)
    if 2 * len(marks) <= 8 + 3 * len(problem.loose):
        held_out = np.full(len(marks), np.inf)
    return HandFit(
        terms=problem.terms(x),
        covariance=_covariance(marks, crosses_px, screen_px, scale, problem, x, residual),
        places=problem.places(x),
        residual_px=residual * HAND_PX,
        held_out_px=held_out * HAND_PX,
        model=name,
    )


def _held_out(residuals: Array, slopes: Array, marks: int) -> tuple[Array, Array]:
    """(n,) residuals, and (n,) errors at each mark by the fit without it, by its leverage (Cook 1977)."""
    corners = residuals[: 2 * marks].reshape(marks, 2)
    hat = (slopes @ np.linalg.pinv(slopes))[: 2 * marks, : 2 * marks]
    left_out = np.empty_like(corners)
    for i in range(marks):
        own = hat[2 * i : 2 * i + 2, 2 * i : 2 * i + 2]
        left_out[i] = np.linalg.lstsq(np.eye(2) - own, corners[i], rcond=1e-6)[0]
    return np.hypot(*corners.T), np.hypot(*left_out.T)


def _covariance(
    marks: Sequence[HandMark],
    crosses_px: Array,
    screen_px: tuple[int, int],
    scale: float,
    chosen: _HandProblem,
    x: Array,
    residual: Array,
) -> Array:
    """That of the fullest model, whatever model was chosen: bow that was left out may still be there."""
    from scipy.optimize import approx_fprime

    full = _HandProblem(marks, crosses_px, screen_px, scale, _FULLEST)
    at = np.concatenate([chosen.terms(x), x[8 + len(chosen.lens_terms) :]])
    slopes = np.asarray(approx_fprime(at, full.residuals, 1e-7))
    freedom = max(2 * len(marks) - len(x), 0)
    noise2 = (2 * _BELIEF + float((residual**2).sum())) / (2 * _BELIEF + freedom)
    slopes[: 2 * len(marks)] /= np.sqrt(noise2)
    covariance = np.linalg.pinv(slopes.T @ slopes, hermitian=True)[:PROJECTOR, :PROJECTOR]
    return covariance.astype(np.float64)
