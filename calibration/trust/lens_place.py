"""Where the projector's lens is, from its map of the table: the foot straight below it, and its height.

A projector is taken for a pinhole with square pixels whose axis passes through the centre of the bow. Then
the homography's first two columns are images of directions at right angles and of one length, which fixes
the focal length as far as the picture is not square to the table (Zhang, A flexible new technique for camera
calibration, 2000, section 2.3). What little they say is weighed for one focal length after another.
"""

from dataclasses import dataclass

import numpy as np

from calibration.frames import Array
from calibration.projector_map import ProjectorMap, inverse
from calibration.solving.joint_model import TABLE_UNIT_IN, matrix_of
from calibration.solving.unit_map import terms_in_units

MEASURED_SIGMA_IN = 1 / 2
USUAL_THROW = 1.2  # distance over the picture's width; common practice for projectors over tables
_THROW_SIGMA = float(np.log(2))  # a doubling either way is one sigma
_THROWS = (0.2, 6.0, 201)  # shortest, longest, how many are weighed
_AXIS_SIGMA = (
    0.05  # half widths between the lens's axis and the bow's centre as a table that is not flat shows it
)
_AMONG = (0, 1, 2, 3, 4, 5, 6, 7, 10, 11)  # of a map's terms: homography and the centre of the bow
_FIRST, _SECOND, _CENTRE = (
    slice(0, 8, 3),
    slice(1, 8, 3),
    slice(8, 10),
)  # columns of the homography among those
_ROUNDS = 3
_STEP = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class LensPlace:
    """`at_in`: x, y of the foot in table inches and height above it; `covariance` (3, 3) in square inches."""

    at_in: tuple[float, float, float]
    covariance: tuple[tuple[float, ...], ...]

    @property
    def sigmas_in(self) -> tuple[float, float, float]:
        """How uncertain x, y and the height are, in inches."""
        x, y, height = np.sqrt(np.diag(np.array(self.covariance))).tolist()
        return x, y, height


def measured_lens(at_in: tuple[float, float, float]) -> LensPlace:
    """The lens's place by tape measure, as well as one can tell where in its housing the lens is."""
    return LensPlace(at_in=at_in, covariance=_rows(np.eye(3) * MEASURED_SIGMA_IN**2))


def find_lens(found: ProjectorMap) -> LensPlace:
    """The lens's place by the map, with how uncertain that is."""
    terms, covariance = terms_in_units(found)
    seen = terms[list(_AMONG)]
    spread = covariance[np.ix_(_AMONG, _AMONG)]
    spread[-2:, -2:] += np.eye(2) * _AXIS_SIGMA**2
    low, high, count = _THROWS
    focals = 2 * np.geomspace(low, high, count)  # in half widths
    pinholes = [_nearest_pinhole(seen, spread, focal) for focal in focals]
    costs = np.array([pinhole.cost for pinhole in pinholes])
    excess = max(
        float(costs.min()), 1.0
    )  # a map that is no pinhole's is known worse than its covariance says
    costs = costs / excess + (np.log(focals / (2 * USUAL_THROW)) / _THROW_SIGMA) ** 2
    weights = np.exp(-(costs - costs.min()) / 2)
    weights /= weights.sum()
    places = np.array([_place(pinhole.terms, focal) for pinhole, focal in zip(pinholes, focals, strict=True)])
    mean = weights @ places
    likeliest = int(weights.argmax())
    by_terms = _place_slopes(pinholes[likeliest].terms, focals[likeliest])
    certain = excess * by_terms @ pinholes[likeliest].covariance @ by_terms.T
    certain += (places - mean).T @ np.diag(weights) @ (places - mean)
    x, y, height = (mean * TABLE_UNIT_IN).tolist()
    return LensPlace(at_in=(x, y, height), covariance=_rows(certain * TABLE_UNIT_IN**2))


def _rows(matrix: Array) -> tuple[tuple[float, ...], ...]:
    return tuple(tuple(row) for row in matrix.tolist())


@dataclass(frozen=True, slots=True, eq=False)
class _Pinhole:
    """The terms nearest to those seen that a pinhole can have, their covariance, and their misfit in squared sigmas."""

    terms: Array
    covariance: Array
    cost: float


def _nearest_pinhole(seen: Array, spread: Array, focal: float) -> _Pinhole:
    """Conditions between observations, linearised again and again (Helmert's method)."""
    terms = seen
    for _ in range(_ROUNDS):
        gap, slopes = _conditions(terms, focal)
        gap = gap + slopes @ (seen - terms)
        gain = spread @ slopes.T @ np.linalg.inv(slopes @ spread @ slopes.T)
        terms = seen - gain @ gap
    cost = float(gap @ np.linalg.solve(slopes @ spread @ slopes.T, gap))
    return _Pinhole(terms, spread - gain @ slopes @ spread, cost)


def _conditions(terms: Array, focal: float) -> tuple[Array, Array]:
    """(2,) by how much the columns are not at right angles nor of one length; (2, 10) slopes by the terms."""
    u, v = terms[_CENTRE]
    from_column = np.array([[1 / focal, 0, -u / focal], [0, 1 / focal, -v / focal], [0, 0, 1]])
    first, second = terms[_FIRST], terms[_SECOND]
    across, along = from_column @ first, from_column @ second
    gap = np.array([across @ along, across @ across - along @ along])
    slopes = np.zeros((2, len(terms)))
    slopes[0, _FIRST] = along @ from_column
    slopes[0, _SECOND] = across @ from_column
    slopes[0, _CENTRE] = -(first[2] * along[:2] + second[2] * across[:2]) / focal
    slopes[1, _FIRST] = 2 * across @ from_column
    slopes[1, _SECOND] = -2 * along @ from_column
    slopes[1, _CENTRE] = -2 * (first[2] * across[:2] - second[2] * along[:2]) / focal
    return gap, slopes


def _place(terms: Array, focal: float) -> Array:
    """(3,) the lens's place in table units: where it is if the table is at its pinhole's place for it."""
    u, v = terms[_CENTRE]
    rays = inverse(np.array([[focal, 0, u], [0, focal, v], [0, 0, 1]])) @ matrix_of(terms[:8])
    across, along, origin = (rays / np.sqrt(np.linalg.norm(rays[:, 0]) * np.linalg.norm(rays[:, 1]))).T
    up = np.cross(across, along)
    place: Array = -np.array([across @ origin, along @ origin, up @ origin])
    return place


def _place_slopes(terms: Array, focal: float) -> Array:
    """(3, 10) slopes of `_place` by the terms."""
    return np.column_stack(
        [
            (_place(terms + step, focal) - _place(terms - step, focal)) / (2 * _STEP)
            for step in np.eye(10) * _STEP
        ]
    )
