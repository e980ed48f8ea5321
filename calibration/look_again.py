"""A new look at an aligned table: where its sheets lie and its light falls now, the lens's bow held as it was.

The bow belongs to the projector, not to where it stands. Holding it leaves the projector's homography, the
sheets and the camera to be found; the saved alignment is so near that one start will do.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from calibration.errors import AlignmentError
from calibration.frames import Array
from calibration.joint_model import PROJECTOR, TABLE_UNIT_IN, JointModel
from calibration.map_change import after
from calibration.projector_map import ProjectorMap, inverse
from calibration.saved import Alignment
from calibration.sightings import PhotoSighting
from calibration.starts import first_guess
from calibration.unit_map import map_from_units, terms_in_units

_HOMOGRAPHY = 8
_SAME_PRINT = 1e-6  # relative scale: they are the sheets of the alignment
_HARDENING = (100.0, 10.0, 3.0)  # where the soft loss turns over, in sigmas
_ROUNDS = 3
_WILD_SIGMAS = 4.0
_RAYLEIGH_MEDIAN = 1.1774  # median of a Rayleigh law of sigma 1
_MOST_WILD = 0.3
_LEAST_SPREAD = 0.02


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LookAgain:
    """`map` is in the frame of the lowest-numbered sheet; its covariance counts this look's noise alone.

    `places` by sheet number: (x inches, y inches, turn in radians) in that frame.
    """

    map: ProjectorMap
    places: dict[int, Array]
    rms_in: float
    photos: int
    marks: int


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
    covariance = np.zeros((PROJECTOR, PROJECTOR))
    covariance[:_HOMOGRAPHY, :_HOMOGRAPHY] = np.linalg.pinv(slopes.T @ slopes, hermitian=True)[
        :_HOMOGRAPHY, :_HOMOGRAPHY
    ]
    model, unknowns = held.model, held.unknowns(x)
    units = (TABLE_UNIT_IN, TABLE_UNIT_IN, 1.0)
    return LookAgain(
        map=map_from_units(unknowns[:PROJECTOR], covariance, model.screen_px),
        places={number: model.place(unknowns, i) * units for i, number in enumerate(model.sheet_numbers)},
        rms_in=float(np.sqrt((model.misfit_in(unknowns)[held.kept] ** 2).mean())),
        photos=len(photos),
        marks=int(held.kept.sum()),
    )


class _Held:
    """Residuals in sigmas of the joint model, with the projector's bow and the print's scale held."""

    def __init__(self, photos: Sequence[PhotoSighting], alignment: Alignment) -> None:
        model = JointModel(photos, alignment.map.screen_px, _SAME_PRINT, alignment.printed_scale)
        self.model = model
        self._base = first_guess(model)
        self._base[_HOMOGRAPHY:PROJECTOR] = terms_in_units(alignment.map)[0][_HOMOGRAPHY:]
        self._base[model.scale_at] = alignment.printed_scale
        self._free = np.r_[0:_HOMOGRAPHY, model.places_at : model.unknowns]
        self._prior_slopes = model.prior_slopes()[:, self._free]
        self.start: Array = self._base[self._free]
        self.kept: npt.NDArray[np.bool_] = np.ones(len(model.sigma), dtype=np.bool_)
        self._sigma = model.sigma.copy()

    def unknowns(self, x: Array) -> Array:
        unknowns = self._base.copy()
        unknowns[self._free] = x
        return unknowns

    def residuals(self, x: Array) -> Array:
        unknowns = self.unknowns(x)
        corners = self.model.misfit(unknowns)[self.kept] / self._sigma[self.kept, None]
        return np.concatenate([corners.ravel(), self.model.prior_misfit(unknowns)])

    def slopes(self, x: Array) -> Array:
        all_slopes = self.model.misfit_slopes(self.unknowns(x))[self.kept][:, :, self._free]
        corners = all_slopes / self._sigma[self.kept, None, None]
        return np.vstack([corners.reshape(-1, len(self._free)), self._prior_slopes])

    def weigh(self, x: Array) -> None:
        """Leave out wild corners, and set the noise of printed and of projected ones to what is seen."""
        away = np.hypot(*self.model.misfit(self.unknowns(x)).T)
        for kind in (True, False):
            group = self.model.is_target == kind
            expected = self.model.sigma[group]
            usual = max(float(np.median(away[group] / expected)) / _RAYLEIGH_MEDIAN, _LEAST_SPREAD)
            self.kept[group] = away[group] < _WILD_SIGMAS * usual * expected
            near = group & self.kept
            spare = max(2 * int(near.sum()) - len(self._free) / 2, 1.0)
            self._sigma[group] = expected * np.sqrt(
                ((away[near] / self.model.sigma[near]) ** 2).sum() / spare
            )
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
