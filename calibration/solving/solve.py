"""The joint estimate: cameras, projector, loose sheets and the bow of every lens, from corners seen in photos."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from calibration.errors import AlignmentError
from calibration.frames import Array
from calibration.photos.sightings import PhotoSighting
from calibration.projector_map import ProjectorMap
from calibration.solving.descent import descended
from calibration.solving.joint_model import PROJECTOR, TABLE_UNIT_IN, JointModel
from calibration.solving.starts import starts
from calibration.solving.unit_map import map_from_units

PRINTER_SIGMA = 0.002  # of length: what a printer's scale may be off, unmeasured (simulated value)
RULER_READING_IN = 1 / 64  # one sigma of reading the printed ruler with a tape
TAPE_READING_IN = 1 / 64  # one sigma of a tape between two crosses, read to the nearest 1/32 in
WILD_SIGMAS = 4.0
_RAYLEIGH_MEDIAN = 1.1774  # median of a Rayleigh law of sigma 1
_LEAST_SPREAD = 0.02  # of the noise expected: keeps a perfect photo from losing corners to rounding
_WEIGHT_ROUNDS = 4
_ROUGHLY = 1e-4  # of the cost, in one step
_MOST_WILD = 0.3  # of the corners; beyond it the photo cannot be believed
_MOST_MISFIT_IN = (
    1 / 32
)  # root mean square on the table; bow of 1/32 in and curled paper make a quarter of it
_HARDENING = ((100.0, 2), (10.0, 2), (3.0, 1))  # where the soft loss turns over, in sigmas; starts that go on

_DISAGREE = (
    "do not fit one flat table and one projector; keep sheets, projector and focus still between photos, "
    "lay the sheets flat, and retake"
)

Pair = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fit:
    """A solved joint model.

    `unknowns` (k,) and `covariance` (k, k) in model units; `kept` (n,) marks the corners that were believed;
    `print_sigma`, `target_sigma`: noise seen, as multiples of the noise expected of the corners.
    """

    model: JointModel
    unknowns: Array
    covariance: Array
    kept: npt.NDArray[np.bool_]
    print_sigma: float
    target_sigma: float
    tapes: Mapping[Pair, float]
    ruler_measured: bool

    @property
    def size_sigma(self) -> float:
        """One-sigma relative error of all lengths together: the print's scale."""
        at = self.model.scale_at
        return float(np.sqrt(self.covariance[at, at]) / self.unknowns[at])

    @property
    def shape_covariance(self) -> Array:
        """(12, 12) covariance of the projector's terms in model units, were the print's scale known."""
        at = self.model.scale_at
        cross = self.covariance[:PROJECTOR, at]
        known: Array = (
            self.covariance[:PROJECTOR, :PROJECTOR] - np.outer(cross, cross) / self.covariance[at, at]
        )
        return known

    @property
    def shape_map(self) -> ProjectorMap:
        """The projector's share of the fit, in inches and pixels; its forecast leaves the print's scale out."""
        return map_from_units(self.unknowns[:PROJECTOR], self.shape_covariance, self.model.screen_px)

    @property
    def sheet_places(self) -> tuple[tuple[float, float, float], ...]:
        """(x inches, y inches, turn degrees) of each sheet on the table."""
        places = [self.model.place(self.unknowns, i) for i in range(len(self.model.sheet_numbers))]
        return tuple(
            (float(x * TABLE_UNIT_IN), float(y * TABLE_UNIT_IN), float(np.rad2deg(t))) for x, y, t in places
        )


class _Problem:
    """Residuals in sigmas for one weighting of the corners."""

    def __init__(self, model: JointModel, tapes: Mapping[Pair, float]) -> None:
        self.model = model
        self.tapes = tapes
        self.kept = np.ones(len(model.sigma), dtype=bool)
        self.gain = np.ones(len(model.sigma))
        self._prior_slopes = model.prior_slopes()

    def residuals(self, x: Array) -> Array:
        sigma = (self.model.sigma * self.gain)[self.kept, None]
        tapes = [
            (self.model.centre_distance_in(x, pair) - length) / TAPE_READING_IN
            for pair, length in self.tapes.items()
        ]
        corners = self.model.misfit(x)[self.kept] / sigma
        return np.concatenate([corners.ravel(), self.model.prior_misfit(x), tapes])

    def slopes(self, x: Array) -> Array:
        sigma = (self.model.sigma * self.gain)[self.kept, None, None]
        corners = self.model.misfit_slopes(x)[self.kept] / sigma
        tapes = [self.model.centre_distance_slopes(x, pair) / TAPE_READING_IN for pair in self.tapes]
        return np.vstack([corners.reshape(-1, self.model.unknowns), self._prior_slopes, *tapes])

    def roughly_solved(self, begun: Iterable[Array], soft_sigmas: float) -> list[Array]:
        """Robust and cheap: the unknowns from each start, the best first; what lags behind it is given up."""
        tries: list[tuple[Array, float]] = []
        to_beat = np.inf
        for x in begun:
            tries.append(
                descended(self.residuals, self.slopes, x, soft_sigmas, settled=_ROUGHLY, to_beat=to_beat)
            )
            to_beat = min(to_beat, tries[-1][1])
        return [x for x, _ in sorted(tries, key=lambda tried: tried[1])]

    def solved(self, x: Array) -> tuple[Array, float]:
        """Plain least squares: the unknowns and the cost."""
        return descended(self.residuals, self.slopes, x)


def _best_start(problem: _Problem) -> Array:
    """The best of several starts under a loss that hardens by steps, so that wild corners lose their pull slowly."""
    tries = starts(problem.model)
    for soft_sigmas, survivors in _HARDENING:
        tries = problem.roughly_solved(tries, soft_sigmas)[:survivors]
    return tries[0]


def _believed(problem: _Problem, x: Array) -> npt.NDArray[np.bool_]:
    """Which corners lie within `WILD_SIGMAS` robust spreads of their kind from the prediction."""
    model = problem.model
    distance = np.hypot(*(model.misfit(x) / model.sigma[:, None]).T)
    for kind in (True, False):
        group = model.is_target == kind
        distance[group] /= max(float(np.median(distance[group])) / _RAYLEIGH_MEDIAN, _LEAST_SPREAD)
    believed: npt.NDArray[np.bool_] = distance < WILD_SIGMAS
    return believed


def _noise_seen(problem: _Problem, x: Array) -> tuple[float, float]:
    """Noise of printed and of projected corners, as multiples of what was expected; sets the gains to them.

    Variance components by the share of redundancy that each group keeps (Förstner 1979).
    """
    kept = problem.kept
    corners = 2 * int(kept.sum())
    slopes = problem.slopes(x)
    hat = ((slopes @ _covariance(slopes)) * slopes).sum(axis=1)[:corners].reshape(-1, 2).sum(axis=1)
    squares = (problem.residuals(x)[:corners].reshape(-1, 2) ** 2).sum(axis=1)
    seen = []
    for kind in (False, True):
        group = problem.model.is_target[kept] == kind
        redundancy = max(2 * int(group.sum()) - float(hat[group].sum()), 1.0)
        members = problem.model.is_target == kind
        problem.gain[members] *= float(np.sqrt(squares[group].sum() / redundancy))
        seen.append(float(problem.gain[members][0]))
    return seen[0], seen[1]


def _covariance(slopes: Array) -> Array:
    """(k, k) of the unknowns from (m, k) slopes in sigmas; columns are made alike first."""
    spread = np.linalg.norm(slopes, axis=0)
    covariance: Array = np.linalg.pinv((slopes / spread).T @ (slopes / spread), hermitian=True)
    return covariance / np.outer(spread, spread)


def solve(
    photos: Sequence[PhotoSighting],
    *,
    screen_px: tuple[int, int],
    printed_scale: float | None = None,
    ruler_in: float = 8.0,
    tapes: Mapping[Pair, float] | None = None,
) -> Fit:
    """The joint least-squares estimate from one or more photos of the same table set-up.

    `printed_scale` is the printed ruler's measured length over its nominal `ruler_in`, or None if it was
    not measured; `tapes` are inches between the centre crosses of two sheets, by their numbers.
    Raises AlignmentError where the corners cannot determine a map or contradict one another.
    """
    if not photos:
        raise AlignmentError("No photo was given; take one that shows the whole lit table and every sheet")
    tapes = dict(tapes or {})
    ruler_sigma = PRINTER_SIGMA if printed_scale is None else min(RULER_READING_IN / ruler_in, PRINTER_SIGMA)
    model = JointModel(photos, screen_px, ruler_sigma, printed_scale or 1.0)
    for pair in tapes:
        _check_pair(pair, model)
    problem = _Problem(model, tapes)
    x = _best_start(problem)
    print_sigma = target_sigma = 1.0
    for again in range(_WEIGHT_ROUNDS):
        problem.kept = _believed(problem, x)
        if problem.kept.mean() < 1 - _MOST_WILD:
            raise AlignmentError(f"{int((~problem.kept).sum())} of {len(problem.kept)} corners {_DISAGREE}")
        if not again:  # rid of wild corners, every start is cheap: a false minimum is left here
            x = problem.roughly_solved((x, *starts(model)), np.inf)[0]
        x = problem.solved(x)[0]
        print_sigma, target_sigma = _noise_seen(problem, x)
    x = problem.solved(x)[0]
    misfit_in = float(np.sqrt((model.misfit_in(x)[problem.kept] ** 2).mean()))
    if misfit_in > _MOST_MISFIT_IN:
        raise AlignmentError(f"The corners are {misfit_in:.2f} in off in the mean; they {_DISAGREE}")
    return Fit(
        model=model,
        unknowns=x,
        covariance=_covariance(problem.slopes(x)),
        kept=problem.kept,
        print_sigma=print_sigma,
        target_sigma=target_sigma,
        tapes=tapes,
        ruler_measured=printed_scale is not None,
    )


def _check_pair(pair: Pair, model: JointModel) -> None:
    a, b = pair
    if a == b or not {a, b} <= set(model.sheet_numbers):
        known = ", ".join(str(n) for n in model.sheet_numbers)
        raise AlignmentError(
            f"A tape between sheets {a} and {b} was given; it needs two of the sheets seen: {known}"
        )
