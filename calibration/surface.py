"""A cutting surface above the plane that was aligned: a mat, foam, folded cloth.

The lens throws light for a table point on to the raised surface nearer to the foot, the point straight
below the lens: by similar triangles, light that falls at distance d from the foot on a surface raised by t
under a lens at height h was meant for t d / (h - t) further out.
"""

from dataclasses import dataclass, replace

import numpy as np

from calibration.errors import AlignmentError
from calibration.frames import Array, Points, as_points
from calibration.projector_map import ProjectorMap

MOST_HEIGHT_IN = 12.0  # a higher surface is another table, to be aligned by itself

_HOMOGRAPHY = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """The surface that is cut on, `height_in` above the aligned plane (below it: negative).

    `lens_in` is where the lens is, if it was measured: x, y of its foot in table inches and its height
    above the aligned plane. `corrected` says whether what is drawn allows for the height.
    Raises AlignmentError where a height or a lens makes no sense.
    """

    height_in: float = 0.0
    lens_in: tuple[float, float, float] | None = None
    corrected: bool = False

    def __post_init__(self) -> None:
        if not abs(self.height_in) <= MOST_HEIGHT_IN:
            raise AlignmentError(
                f"The cutting surface is said to be {self.height_in:g} in above the aligned table; up to "
                f"{MOST_HEIGHT_IN:g} in can be allowed for: lay the sheets on the surface and align again"
            )
        if self.lens_in is not None:
            if not np.isfinite(self.lens_in).all():
                raise AlignmentError(
                    f"The lens is said to be at {self.lens_in}; give three lengths in inches"
                )
            if self.lens_in[2] <= max(self.height_in, 0.0):
                raise AlignmentError(
                    f"The lens is said to be {self.lens_in[2]:g} in above the table, no higher than the "
                    f"surface at {self.height_in:g} in; measure from the table straight up to the lens"
                )

    def shift_in(self, found: ProjectorMap, points: Points) -> Array:
        """(n, 2) inches from where light was meant for to where it falls on the surface, at (n, 2) places there."""
        x, y, height = self._lens(found)
        out_in = as_points(points) - (x, y)
        shift: Array = -out_in * self.height_in / (height - self.height_in)
        return shift

    def corrected_map(self, found: ProjectorMap) -> ProjectorMap:
        """The map for the surface: its points are scaled out about the foot before the table's map.

        Exact for a pinhole, and lens bow comes after: only the homography changes.
        """
        if self.height_in == 0:
            return found
        x, y, height = self._lens(found)
        gain = height / (height - self.height_in)
        aligned_from_surface = np.array([[gain, 0, x * (1 - gain)], [0, gain, y * (1 - gain)], [0, 0, 1]])
        raised = np.array(found.homography) @ aligned_from_surface
        last = raised[2, 2]
        (a, b, c), (d, e, f), (g, h, i) = (raised / last).tolist()
        slopes = np.eye(len(found.covariance))
        slopes[:_HOMOGRAPHY, :_HOMOGRAPHY] = _scaled_slopes(raised, aligned_from_surface)
        covariance = slopes @ np.array(found.covariance) @ slopes.T
        return replace(
            found,
            homography=((a, b, c), (d, e, f), (g, h, i)),
            covariance=tuple(tuple(row) for row in covariance.tolist()),
        )

    def _lens(self, found: ProjectorMap) -> tuple[float, float, float]:
        if self.lens_in is None:
            raise AlignmentError(
                "Where the lens is has to be measured; give the place under it on the table and its height "
                'as --lens "X,Y,H"'
            )
        return self.lens_in


def _scaled_slopes(raised: Array, aligned_from_surface: Array) -> Array:
    """(8, 8) slopes of the normalised product's terms by the homography's."""
    last = raised[2, 2]
    slopes = np.zeros((_HOMOGRAPHY, _HOMOGRAPHY))
    for i, unit in enumerate(np.eye(9)[:_HOMOGRAPHY]):
        change = unit.reshape(3, 3) @ aligned_from_surface
        slopes[:, i] = ((change - raised * change[2, 2] / last) / last).ravel()[:_HOMOGRAPHY]
    return slopes
