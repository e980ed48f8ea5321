"""From the markers of one flat pattern that a photo shows to all its square corners, well measured.

Three steps: a homography that most markers agree on; from it, with what the nearest marks say of the lens's
bow, where each corner should be; a fit of each corner there, kept where it is clear and agrees with its
neighbours.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from calibration.frames import Array, Levels
from calibration.photos.corner_fit import HALF_WINDOW, CornerFits, fit_corners
from calibration.photos.found_markers import FoundMarkers
from calibration.projector_map import project

_Mask = npt.NDArray[np.bool_]

LEAST_MARKERS = 2
_SLACK = 0.3  # of a square: by so much may a marker's outline, and bow, miss the homography
_NEIGHBOURS = 12
_FIRMNESS = 0.5  # how much bow changes over the reach of the neighbours, before it is measured
_MOST_MOVED = 0.25  # of a square, from where the corner should be
_MOST_MISFIT = 0.15
_LEAST_STEP = 10  # grey levels from dark to bright squares
_LEAST_SHARE_OF_STEP = 0.25  # of the usual step: light that misses the table lands on a darker floor
_OFF_CENTRE = 0.02  # of a square: a window that lay so far off is laid again
_STRAY = 0.012  # of a square, from where the neighbours say; bow of the table makes a half of this
_STRAY_TIMES = 6.0  # the usual miss of what the neighbours foretell
_STRAY_ROUNDS = 6
_MEDIAN_OF_MISS = (
    1.1774  # of the length of a pair of normal errors: the root of 2 ln 2 (Rayleigh's distribution)
)
_LEAST_SIGMA_PX = 0.003


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pattern:
    """What is drawn, in its flat units: `corners` (n, 2), side of a `square`, corners (4, 2) by marker."""

    corners: Array
    square: float
    markers: Mapping[int, Array]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlacedPattern:
    """`camera_from_pattern` (3, 3) that `agreed` of the found markers fit; `others` lie elsewhere."""

    pattern: Pattern
    camera_from_pattern: Array
    agreed: FoundMarkers
    others: FoundMarkers


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FittedPattern:
    """The corners that were measured: which of the pattern's (n,), where (m, 2), and how well."""

    kept: _Mask
    camera_px: Array
    sigma_px: float
    blur_squares: float


def place_pattern(pattern: Pattern, found: FoundMarkers) -> PlacedPattern | None:
    """Where the pattern lies by its markers; None where fewer than two agree with each other."""
    found = found.among(list(pattern.markers))
    if len(found.numbers) < LEAST_MARKERS:
        return None
    drawn = np.array([pattern.markers[number] for number in found.numbers])
    slack = _SLACK * _square_px(pattern, drawn, found.corners_px)
    homography, _ = cv2.findHomography(
        drawn.reshape(-1, 2),
        found.corners_px.reshape(-1, 2),
        cv2.RANSAC,
        slack,
        maxIters=5000,
        confidence=0.9999,
    )
    if homography is None or abs(np.linalg.det(homography)) < 1e-12:
        return None
    camera_from_pattern = np.asarray(homography, dtype=np.float64)
    outlines = project(camera_from_pattern, drawn.reshape(-1, 2)).reshape(-1, 4, 2)
    miss = np.abs(outlines - found.corners_px).max(axis=(1, 2))
    agreed = np.asarray(miss < 2 * slack)
    if len(np.unique(found.numbers[agreed])) < LEAST_MARKERS:
        return None
    return PlacedPattern(
        pattern=pattern,
        camera_from_pattern=camera_from_pattern,
        agreed=found.where(agreed),
        others=found.where(np.asarray(miss > 6 * slack)),
    )


def fit_pattern(photo: Levels, placed: PlacedPattern) -> FittedPattern:
    """Measure the corners of a placed pattern in the photo; those not seen clearly are left out."""
    pattern, homography = placed.pattern, placed.camera_from_pattern
    marks = np.array([pattern.markers[number] for number in placed.agreed.numbers]).reshape(-1, 2)
    guesses = _foretold(homography, marks, placed.agreed.corners_px.reshape(-1, 2), pattern.corners).places
    sides = _sides(homography, pattern)
    lengths = np.linalg.norm(sides, axis=2).min(axis=1)
    fits = fit_corners(photo, guesses, sides)
    moved = np.linalg.norm(fits.places_px - guesses, axis=1) / lengths
    kept = _clear(fits, moved)
    sigma = float(np.median(fits.sigma_px[kept])) if kept.any() else np.inf
    if kept.sum() > _NEIGHBOURS:
        slack = _SLACK * float(np.median(lengths))
        homography = _through(pattern.corners[kept], fits.places_px[kept], slack, homography)
        known, _ = _without_strays(homography, pattern.corners, fits.places_px, lengths, kept)
        centres = _foretold(homography, pattern.corners[known], fits.places_px[known], pattern.corners).places
        again = ~known | (moved > _OFF_CENTRE)
        fits = fits.with_rows(again, fit_corners(photo, centres[again], sides[again]))
        kept = _clear(fits, np.linalg.norm(fits.places_px - centres, axis=1) / lengths)
        kept, usual = _without_strays(homography, pattern.corners, fits.places_px, lengths, kept)
        sigma = max(min(sigma, usual), _LEAST_SIGMA_PX)
    return FittedPattern(
        kept=kept,
        camera_px=fits.places_px[kept],
        sigma_px=sigma,
        blur_squares=float(np.median((fits.blur_px / lengths)[kept])) if kept.any() else np.inf,
    )


def window_points(placed: PlacedPattern, camera_px: Array, kept: _Mask) -> Array:
    """The corners of the window (m, 4, 2) in which each kept corner was fitted, in the photo's pixels."""
    sides = _sides(placed.camera_from_pattern, placed.pattern)[kept] * HALF_WINDOW
    signs = np.array([(1, 1), (1, -1), (-1, -1), (-1, 1)])
    points: Array = camera_px[:, None] + signs @ sides
    return points


def _square_px(pattern: Pattern, drawn: Array, seen_px: Array) -> float:
    """The side of a square in the photo, from the sides of the markers."""
    ratios = np.linalg.norm(np.diff(seen_px, axis=1), axis=2) / np.linalg.norm(np.diff(drawn, axis=1), axis=2)
    return float(np.median(ratios)) * pattern.square


def _sides(homography: Array, pattern: Pattern) -> Array:
    """The sides of the squares at each corner as pixel vectors, (n, 2, 2)."""
    here = project(homography, pattern.corners)
    steps = [project(homography, pattern.corners + step) - here for step in np.eye(2) * pattern.square]
    return np.stack(steps, axis=1)


def _through(drawn: Array, seen_px: Array, slack: float, otherwise: Array) -> Array:
    """A homography through measured corners, be there a few strays; `otherwise` where they lie on a line."""
    homography, _ = cv2.findHomography(drawn, seen_px, cv2.RANSAC, slack, maxIters=2000, confidence=0.9999)
    return otherwise if homography is None else np.asarray(homography, dtype=np.float64)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Foretold:
    """Pixels (n, 2), and (n,) how many sigmas of one corner a corner may well miss them by."""

    places: Array
    spread: Array


def _foretold(homography: Array, known: Array, known_px: Array, wanted: Array) -> _Foretold:
    """Where the wanted points lie: by the homography, and by what it misses at the nearest known points.

    The miss is taken as a plane over the neighbours, whose slopes are held back where the neighbours are few.
    A wanted point that is itself known does not count among its own neighbours.
    """
    miss = known_px - project(homography, known)
    apart = known[None] - wanted[:, None]
    far = (apart**2).sum(axis=2)
    far[far < 1e-9] = np.inf
    nearest = np.argpartition(far, min(_NEIGHBOURS, len(known) - 1) - 1, axis=1)[:, :_NEIGHBOURS]
    reach = np.sqrt(np.take_along_axis(far, nearest, axis=1))
    usable = np.isfinite(reach)
    unit = np.where(usable, reach, 0).max(axis=1)[:, None]
    weight = np.where(usable, 1 / (0.1 + (np.where(usable, reach, 0) / unit) ** 2), 0.0)
    slopes = np.take_along_axis(apart, nearest[..., None], axis=1) / unit[..., None]
    plane = np.dstack([np.ones_like(weight), slopes])
    normal = np.einsum("nki,nk,nkj->nij", plane, weight, plane) + np.diag([0.0, _FIRMNESS, _FIRMNESS])
    shares = np.einsum("ni,nki,nk->nk", np.linalg.inv(normal)[:, 0], plane, weight)
    places = project(homography, wanted) + np.einsum("nk,nkd->nd", shares, miss[nearest])
    return _Foretold(places=places, spread=np.sqrt(1 + (shares**2).sum(axis=1)))


def _without_strays(
    homography: Array, corners: Array, places: Array, lengths: Array, kept: _Mask
) -> tuple[_Mask, float]:
    """The kept corners that agree with their neighbours, and the usual noise (pixels) that this shows.

    What is off the homography by more than bow explains goes first: a group of corners beside the table may
    agree among themselves. Strays go in rounds, because one that is gone no longer vouches for the next.
    """
    kept = kept & (np.linalg.norm(places - project(homography, corners), axis=1) <= _SLACK * lengths)
    usual = 0.0
    for _ in range(_STRAY_ROUNDS):
        if kept.sum() <= _NEIGHBOURS:
            break
        foretold = _foretold(homography, corners[kept], places[kept], corners)
        miss = np.linalg.norm(places - foretold.places, axis=1)
        usual = float(np.median(miss[kept] / foretold.spread[kept])) / _MEDIAN_OF_MISS
        in_line = miss <= np.maximum(_STRAY * lengths, _STRAY_TIMES * usual * foretold.spread)
        if in_line[kept].all():
            break
        kept = kept & in_line
    return kept, usual


def _clear(fits: CornerFits, moved: Array) -> _Mask:
    """Which corners were fitted well; `moved` (n,) is how far from where they should be, in squares."""
    clear = (fits.misfit <= _MOST_MISFIT) & (fits.step >= _LEAST_STEP) & (moved <= _MOST_MOVED)
    usual_step = np.median(fits.step[clear]) if clear.any() else 0.0
    return np.asarray(clear & (fits.step >= _LEAST_SHARE_OF_STEP * usual_step))
