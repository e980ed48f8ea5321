"""What an alignment may claim: residuals, the error to expect over the table, and a verdict in plain words."""

from dataclasses import dataclass, replace

import numpy as np

from calibration.frames import Array, TableInches
from calibration.projector_map import ProjectorMap
from calibration.solving.solve import Fit

CUTTABLE_IN = 1 / 8  # a cut edge is good to this (common practice); a map that claims less cannot be cut by
FINENESSES = (
    (1 / 64, "1/64 in"),
    (1 / 32, "1/32 in"),
    (1 / 16, "1/16 in"),
    (3 / 32, "3/32 in"),
    (1 / 8, "1/8 in"),
)

_NOT_FLAT_RATIO = 1.5  # of noise seen to noise expected
_NOT_FLAT_IN = 0.003  # below it no one can see what is not flat
_TOGETHER = (
    2.5  # times the variance that noise seems to have, where curl and bow move neighbouring corners alike
)
_TOGETHER_FEW = 24.0  # with one sheet or two, nothing else pins the frame that curl turns
_FEW_SHEETS = 2
_DRAWS = 400
_SURE = 0.95
_GRID = (15, 9)


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """`p95_in`: 95 % of the aligned area is claimed to lie within it, shape and size together.

    `rms_in` is the misfit of the corners on the table; `shape_p95_in` leaves out the print's scale.
    """

    map: ProjectorMap
    rms_in: float
    p95_in: float
    shape_p95_in: float
    size_checked: bool
    flat: bool
    verdict: str

    @property
    def trustworthy(self) -> bool:
        """Whether cut lines may be drawn by this map."""
        return self.shape_p95_in <= CUTTABLE_IN


def in_words(inches: float) -> str:
    """The finest of 1/64, 1/32, 1/16, 3/32 and 1/8 in that holds; past them the decimal.

    >>> in_words(0.02)
    '1/32 in'
    """
    for limit, words in FINENESSES:
        if inches <= limit:
            return words
    return f"{inches:.2f} in"


def aligned_area(found: ProjectorMap, fit: Fit) -> TableInches:
    """Points over the area in which marks were seen: a grid over the box of their screen pixels."""
    middle = (np.array(found.screen_px) - 1) / 2
    half = found.screen_px[0] / 2
    marks = [seen.known * half + middle for seen in fit.model.seen if seen.sheet < 0]
    low, high = np.concatenate(marks).min(axis=0), np.concatenate(marks).max(axis=0)
    u, v = np.meshgrid(np.linspace(low[0], high[0], _GRID[0]), np.linspace(low[1], high[1], _GRID[1]))
    return found.table_from_screen(np.column_stack([u.ravel(), v.ravel()]))


def claim(found: ProjectorMap, area: TableInches) -> float:
    """Inches that 95 % of the area keeps to, in 95 of 100 maps drawn from the covariance; repeatable."""
    covariance = np.array(found.covariance)
    values, vectors = np.linalg.eigh(_balanced(covariance))
    spread = np.sqrt(np.diag(covariance))
    root = spread[:, None] * vectors * np.sqrt(np.maximum(values, 0))
    draws = root @ np.random.default_rng(0).standard_normal((len(covariance), _DRAWS))
    strays = np.einsum("nij,jd->nid", found.landing_slopes(area), draws)
    worst: Array = np.quantile(np.hypot(strays[:, 0], strays[:, 1]), 0.95, axis=0)
    return float(np.hypot(np.quantile(worst, _SURE), 2 * found.floor_in))


def _balanced(covariance: Array) -> Array:
    """The correlations, for an eigen-decomposition that does not drown small terms in large ones."""
    spread = np.sqrt(np.diag(covariance))
    correlations: Array = covariance / np.outer(spread, spread)
    return correlations


def prove(fit: Fit) -> Proof:
    """The map with an honest covariance, and what may be claimed of it."""
    misfit_in = fit.model.misfit_in(fit.unknowns)[fit.kept]
    rms_in = float(np.sqrt((misfit_in**2).mean()))
    flat = max(fit.print_sigma, fit.target_sigma) < _NOT_FLAT_RATIO or rms_in < _NOT_FLAT_IN
    hidden = _hidden_variance(fit)
    shape = _widened(fit.shape_map, hidden)
    size_sigma = _size_sigma(fit, hidden)
    area = aligned_area(shape, fit)
    reach_in = float(np.quantile(np.hypot(*area.T), 0.95))
    shape_p95 = claim(shape, area)
    p95 = float(np.hypot(shape_p95, 2 * size_sigma * reach_in))
    checked = bool(fit.tapes)
    return Proof(
        map=_with_size(shape, size_sigma),
        rms_in=rms_in,
        p95_in=p95,
        shape_p95_in=shape_p95,
        size_checked=checked,
        flat=flat,
        verdict=_verdict(shape_p95, p95, checked, fit.ruler_measured, flat),
    )


def _hidden_variance(fit: Fit) -> float:
    """What the covariance has to be multiplied by, since noise was counted corner by corner.

    Of the noise seen, the share beyond the expected is what neighbours have in common. Other views see other
    curl: with more photos it averages out like noise. The factors keep 19 claims of 20 true on practice tables.
    """
    seen = max(fit.print_sigma, fit.target_sigma, 1.0)
    few = len(fit.model.sheet_numbers) <= _FEW_SHEETS
    return 1 + (_TOGETHER_FEW if few else _TOGETHER) * (1 - 1 / seen**2) / len(fit.model.photos)


def _size_sigma(fit: Fit, hidden: float) -> float:
    """Relative error of all lengths: tapes run between sheets that curl, the printed ruler does not."""
    printed = (fit.model.ruler / fit.model.ruler_sigma) ** 2
    taped = max(1 / fit.size_sigma**2 - printed, 0.0)
    return float((printed + taped / hidden) ** -0.5)


def _widened(found: ProjectorMap, times: float) -> ProjectorMap:
    rows = np.array(found.covariance) * times
    return replace(found, covariance=tuple(tuple(float(v) for v in row) for row in rows))


def _with_size(found: ProjectorMap, size_sigma: float) -> ProjectorMap:
    """The error of a wrong print scale added: table points move out from the centre of sheet 1 alike."""
    matrix = np.array(found.homography)
    # homography terms that a relative change of scale moves: the columns of x and y
    slope = np.zeros(12)
    slope[[0, 1, 3, 4, 6, 7]] = -matrix.ravel()[[0, 1, 3, 4, 6, 7]]
    rows = np.array(found.covariance) + size_sigma**2 * np.outer(slope, slope)
    return replace(found, covariance=tuple(tuple(float(v) for v in row) for row in rows))


def _verdict(shape_in: float, p95_in: float, size_checked: bool, ruler: bool, flat: bool) -> str:
    if shape_in > CUTTABLE_IN:
        words = [
            f"Not good enough to cut by: lines may be {in_words(shape_in)} off. "
            "Lay more sheets, near the corners and flat, and take another photo."
        ]
    elif size_checked:
        words = [f"Good to {in_words(p95_in)} over the lit table; shape and size are both checked."]
    else:
        words = [
            f"Shape is checked, and good to {in_words(shape_in)} over the lit table; size is not checked."
        ]
        words.append(
            "Measure between the centre crosses of two sheets and give it as --tape"
            + ("." if ruler else ", and the printed ruler as --printed-ruler.")
            + f" Till then lines may be {in_words(p95_in)} off at the far ends."
        )
    if not flat:
        words.append("The table or the paper is not flat: press the sheets down, or add a photo or a sheet.")
    return " ".join(words)
