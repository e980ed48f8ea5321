"""A new look at an aligned table: where its sheets lie and its light falls now, the lens's bow held as it was.

The bow belongs to the projector, not to where it stands. Holding it leaves the projector's homography, the
sheets and the camera to be found; the saved alignment is so near that one start will do.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from calibration.cameras.kept import KeptCamera, Triple
from calibration.cameras.place import kept_cameras
from calibration.errors import AlignmentError
from calibration.frames import Array
from calibration.photos.sightings import PhotoSighting
from calibration.projector_map import ProjectorMap, inverse
from calibration.solving.curl import (
    PAGE_STANDS_IN,
    TABLE_STANDS_IN,
    TABLE_WAYS,
    from_their_own_places,
    in_pictures,
    lifts,
)
from calibration.solving.joint_model import PROJECTOR, TABLE_UNIT_IN, JointModel, lie
from calibration.solving.starts import first_guess, rigid
from calibration.solving.unit_map import map_from_units, terms_in_units
from calibration.table.saved import Alignment
from calibration.trust.map_change import after

_HOMOGRAPHY = 8
_SAME_PRINT = 1e-6  # relative scale: they are the sheets of the alignment
_HARDENING = (100.0, 10.0, 3.0)  # where the soft loss turns over, in sigmas
_ROUNDS = 3
_WILD_SIGMAS = 4.0
_RAYLEIGH_MEDIAN = 1.1774  # median of a Rayleigh law of sigma 1
_MOST_WILD = 0.3
_LEAST_SPREAD = 0.02
_CHANCE_SIGMAS = 2.0  # that the noise seen may be over the expected by chance


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LookAgain:
    """`map` is in the frame of the lowest-numbered sheet; its covariance counts this look's noise alone.

    `places` by sheet number: (x inches, y inches, turn in radians) in that frame, in which `cameras` are too.
    `noise_times` is the noise of corners seen, over the noise expected of them. `curled` is what this look could
    as well have shown beside the alignment's: once for each way that paper and table can stand up by as much as
    they seem to. It is empty where the alignment's cameras are not known.
    """

    map: ProjectorMap
    places: dict[int, Array]
    cameras: tuple[KeptCamera, ...]
    rms_in: float
    noise_times: float
    photos: int
    marks: int
    curled: tuple["LookAgain", ...] = ()


def look_again(photos: Sequence[PhotoSighting], alignment: Alignment) -> LookAgain:
    """Sheets and light as photos show them now; raises AlignmentError where the photos contradict themselves."""
    from scipy.optimize import least_squares

    if not photos:
        raise AlignmentError("No photo was given; take one that shows the whole lit table and every sheet")
    held = _Held(photos, alignment)
    x = held.start
    for soft in _HARDENING:
        x = least_squares(
            held.residuals, x, jac=held.slopes, loss="soft_l1", f_scale=soft, x_scale="jac", ftol=1e-4
        ).x
    for _ in range(_ROUNDS):
        held.weigh(x)
        x = least_squares(held.residuals, x, jac=held.slopes, x_scale="jac").x
    slopes = held.slopes(x)
    covariance = np.linalg.pinv(slopes.T @ slopes, hermitian=True).astype(np.float64)
    found = _found(held, x, covariance)
    then = _first_places(found, alignment)
    if not then:
        return found
    strays = _strays(held, x, covariance, [camera.at_in for camera in found.cameras], then)
    return replace(found, curled=tuple(_seen_as(held, x + stray, found) for stray in strays.T))


def _found(held: "_Held", x: Array, covariance: Array) -> LookAgain:
    model, unknowns = held.model, held.unknowns(x)
    spread = np.zeros((model.unknowns, model.unknowns))
    spread[np.ix_(held.free, held.free)] = covariance
    return LookAgain(
        map=map_from_units(unknowns[:PROJECTOR], spread[:PROJECTOR, :PROJECTOR], model.screen_px),
        places=_places(model, unknowns),
        cameras=kept_cameras(model, unknowns, spread),
        rms_in=float(np.sqrt((model.misfit_in(unknowns)[held.kept] ** 2).mean())),
        noise_times=float((held.sigma / model.sigma).max()),
        photos=len(model.photos),
        marks=int(held.kept.sum()),
    )


def _seen_as(held: "_Held", x: Array, found: LookAgain) -> LookAgain:
    """The same look with other unknowns."""
    unknowns = held.unknowns(x)
    as_map = map_from_units(unknowns[:PROJECTOR], np.zeros((PROJECTOR, PROJECTOR)), found.map.screen_px)
    return replace(found, map=as_map, places=_places(held.model, unknowns))


def _places(model: JointModel, unknowns: Array) -> dict[int, Array]:
    units = (TABLE_UNIT_IN, TABLE_UNIT_IN, 1.0)
    return {number: model.place(unknowns, i) * units for i, number in enumerate(model.sheet_numbers)}


def _first_places(found: LookAgain, alignment: Alignment) -> list[Triple]:
    """Where the alignment's cameras were, in the frame of the new look, by the light: it has hardly moved."""
    width, height = found.map.screen_px
    pixels = np.array([(u, v) for u in (0.0, width - 1.0) for v in (0.0, height - 1.0)])
    frame = rigid(alignment.map.table_from_screen(pixels), found.map.table_from_screen(pixels))
    places = []
    for camera in alignment.cameras:
        x, y = lie(frame, np.array([camera.at_in[:2]]))[0]
        places.append((float(x), float(y), camera.at_in[2]))
    return places


def _strays(
    held: "_Held", x: Array, covariance: Array, now: Sequence[Triple], then: Sequence[Triple]
) -> Array:
    """(free, k) by which what stands up leads this look away from one taken where the first was, way by way."""
    model, unknowns, slopes = held.model, held.unknowns(x), held.slopes(x)
    ways = lifts(model, unknowns)
    own = from_their_own_places(model, unknowns, now)
    first = np.mean([from_their_own_places(model, unknowns, [place] * len(now)) for place in then], axis=0)
    shown = held.in_sigmas(in_pictures(model, unknowns, own, ways))
    unexplained = shown - slopes @ (covariance @ (slopes.T @ shown))
    apart = held.in_sigmas(in_pictures(model, unknowns, own - first, ways))
    strays: Array = covariance @ (slopes.T @ apart) * _heights_in(held, x, unexplained)
    return strays


def _heights_in(held: "_Held", x: Array, unexplained: Array) -> Array:
    """(k,) one sigma of how much stands up, each way: of the table by the light on it, of sheets by their print.

    It is what their misfit needs that is beyond their noise, if by an inch that stands up `unexplained` is left
    of it; and no less than is usual, as far as there is any.
    """
    corners = int(held.kept.sum())
    squares = (held.residuals(x)[: 2 * corners].reshape(-1, 2) ** 2).sum(axis=1)
    left = (unexplained[: 2 * corners].reshape(corners, 2, -1) ** 2).sum(axis=1)
    heights = []
    for light, usual_in in ((True, TABLE_STANDS_IN), (False, PAGE_STANDS_IN)):
        own = held.model.is_target[held.kept] == light
        ways = slice(0, TABLE_WAYS) if light else slice(TABLE_WAYS, None)
        hidden = held.hidden[held.model.is_target == light]
        measured_in = np.sqrt(squares[own].sum() * hidden[0] / left[own, ways].sum())
        heights.append(np.full(left[:, ways].shape[1], max(measured_in, np.sqrt(hidden[0]) * usual_in)))
    return np.concatenate(heights)


class _Held:
    """Residuals in sigmas of the joint model, with the projector's bow and the print's scale held."""

    def __init__(self, photos: Sequence[PhotoSighting], alignment: Alignment) -> None:
        model = JointModel(photos, alignment.map.screen_px, _SAME_PRINT, alignment.printed_scale)
        self.model = model
        self._base = first_guess(model)
        self._base[_HOMOGRAPHY:PROJECTOR] = terms_in_units(alignment.map)[0][_HOMOGRAPHY:]
        self._base[model.scale_at] = alignment.printed_scale
        self.free = np.r_[0:_HOMOGRAPHY, model.places_at : model.unknowns]
        self._prior_slopes = model.prior_slopes()[:, self.free]
        self.start: Array = self._base[self.free]
        self.kept: npt.NDArray[np.bool_] = np.ones(len(model.sigma), dtype=np.bool_)
        self.sigma = model.sigma.copy()
        self.hidden = np.zeros(len(model.sigma))  # share of the variance that is neither noise nor chance

    def unknowns(self, x: Array) -> Array:
        unknowns = self._base.copy()
        unknowns[self.free] = x
        return unknowns

    def residuals(self, x: Array) -> Array:
        unknowns = self.unknowns(x)
        corners = self.model.misfit(unknowns)[self.kept] / self.sigma[self.kept, None]
        return np.concatenate([corners.ravel(), self.model.prior_misfit(unknowns)])

    def slopes(self, x: Array) -> Array:
        all_slopes = self.model.misfit_slopes(self.unknowns(x))[self.kept][:, :, self.free]
        corners = all_slopes / self.sigma[self.kept, None, None]
        return np.vstack([corners.reshape(-1, len(self.free)), self._prior_slopes])

    def in_sigmas(self, shown: Array) -> Array:
        """(rows of `residuals`, k) of (n, 2, k) picture units by which corners show elsewhere."""
        corners = (shown / self.sigma[:, None, None])[self.kept].reshape(-1, shown.shape[2])
        return np.vstack([corners, np.zeros((len(self._prior_slopes), shown.shape[2]))])

    def weigh(self, x: Array) -> None:
        """Leave out wild corners, and set the noise of printed and of projected ones to what is seen."""
        away = np.hypot(*self.model.misfit(self.unknowns(x)).T)
        for kind in (True, False):
            group = self.model.is_target == kind
            expected = self.model.sigma[group]
            usual = max(float(np.median(away[group] / expected)) / _RAYLEIGH_MEDIAN, _LEAST_SPREAD)
            self.kept[group] = away[group] < _WILD_SIGMAS * usual * expected
            near = group & self.kept
            spare = max(2 * int(near.sum()) - len(self.free) / 2, 1.0)
            times = float(((away[near] / self.model.sigma[near]) ** 2).sum() / spare)
            self.sigma[group] = expected * np.sqrt(times)
            self.hidden[group] = max(1 - (1 + _CHANCE_SIGMAS * np.sqrt(2 / spare)) / times, 0.0)
        if self.kept.mean() < 1 - _MOST_WILD:
            raise AlignmentError(
                f"{int((~self.kept).sum())} of {len(self.kept)} corners do not fit this projector's lens and "
                "one flat table; keep everything still for the photo and retake it, or align anew"
            )


def in_frame(found: ProjectorMap, place: Array) -> ProjectorMap:
    """The map for a table frame in which the map's own lies at `place` (x inches, y inches, turn in radians)."""
    c, s = np.cos(place[2]), np.sin(place[2])
    outer_from_own = np.array([[c, -s, place[0]], [s, c, place[1]], [0, 0, 1]])
    return after(found, inverse(outer_from_own))
