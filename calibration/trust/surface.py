"""A cutting surface above the plane that was aligned: a mat, foam, folded cloth.

Light on its way to a table point meets a raised surface nearer to the foot, the point straight below the
lens. By similar triangles, light that falls at distance d from the foot on a surface raised by t under a
lens at height h was meant for t d / (h - t) further out.
"""

from dataclasses import dataclass, replace

import numpy as np

from calibration.errors import AlignmentError
from calibration.frames import Array, Points, TableInches, as_points
from calibration.projector_map import ProjectorMap
from calibration.trust.lens_place import LensPlace, find_lens, measured_lens
from calibration.trust.map_change import after, change_of_terms

MOST_HEIGHT_IN = 12.0  # a higher surface is another table, to be aligned by itself
HEIGHT_SIGMA_IN = 1 / 64  # of a thickness measured with a ruler

_HOMOGRAPHY = 8
_RIM = 0.05  # of the picture, left out of what is judged
_GRID = (13, 9)


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

    def lens(self, found: ProjectorMap) -> LensPlace:
        """Where the lens is: as measured, or else by the map."""
        return find_lens(found) if self.lens_in is None else measured_lens(self.lens_in)

    def shift_in(self, found: ProjectorMap, points: Points) -> Array:
        """(n, 2) inches from where light was meant for to where it falls on the surface, at (n, 2) places there."""
        x, y, height = self.lens(found).at_in
        shift: Array = -(as_points(points) - (x, y)) * self.height_in / (height - self.height_in)
        return shift

    def unsure_in(self, found: ProjectorMap, points: Points) -> Array:
        """(n,) one-sigma error of `shift_in`, x and y together, by what is not known of lens and height."""
        lens = self.lens(found)
        x, y, height = lens.at_in
        out_in = as_points(points) - (x, y)
        gain = self.height_in / (height - self.height_in)
        slopes = np.zeros((len(out_in), 2, 4))
        slopes[:, 0, 0] = slopes[:, 1, 1] = gain
        slopes[:, :, 2] = out_in * gain / (height - self.height_in)
        slopes[:, :, 3] = -out_in * height / (height - self.height_in) ** 2
        variance = np.einsum("nij,jk,nik->n", slopes, self._unknown(lens), slopes)
        unsure: Array = np.sqrt(variance)
        return unsure

    def claim_in(self, found: ProjectorMap, p95_in: float) -> float:
        """Inches that 95 % of the lit table keeps to on this surface, for a claim of `p95_in` on the aligned plane."""
        if self.height_in == 0:
            return p95_in
        area = lit_grid(found)
        unsure_in = 2 * float(np.quantile(self.unsure_in(found, area), 0.95))
        if self.corrected:
            return float(np.hypot(p95_in, unsure_in))
        shift_in = float(np.quantile(np.hypot(*self.shift_in(found, area).T), 0.95))
        return shift_in + float(np.hypot(p95_in, unsure_in))

    def corrected_map(self, found: ProjectorMap) -> ProjectorMap:
        """The map for the surface: its points are scaled out about the foot, then go the aligned table's way.

        Exact for a pinhole; lens bow comes after, so only the homography changes. The covariance goes with
        it, and what is not known of lens and height is added.
        """
        if self.height_in == 0:
            return found
        lens = self.lens(found)
        x, y, height = lens.at_in
        rise = height - self.height_in
        out_from_foot = np.array([[1, 0, -x], [0, 1, -y], [0, 0, 0]])
        gain = self.height_in / rise
        aligned_from_surface = np.eye(3) + gain * out_from_foot
        raised = after(found, aligned_from_surface)
        moves = (
            -gain * np.eye(3)[:, :1] * np.eye(3)[2],
            -gain * np.eye(3)[:, 1:2] * np.eye(3)[2],
            -gain / rise * out_from_foot,
            height / rise**2 * out_from_foot,
        )
        matrix = np.array(found.homography)
        by_place = np.zeros((len(found.covariance), len(moves)))
        for i, move in enumerate(moves):
            by_place[:_HOMOGRAPHY, i] = change_of_terms(matrix @ aligned_from_surface, matrix @ move)
        covariance = np.array(raised.covariance) + by_place @ self._unknown(lens) @ by_place.T
        return replace(raised, covariance=tuple(tuple(row) for row in covariance.tolist()))

    def _unknown(self, lens: LensPlace) -> Array:
        """(4, 4) covariance of the lens's x, y, height and of the surface's height, square inches."""
        unknown = np.zeros((4, 4))
        unknown[:3, :3] = lens.covariance
        unknown[3, 3] = HEIGHT_SIGMA_IN**2
        return unknown


def lit_grid(found: ProjectorMap) -> TableInches:
    """(117, 2) table inches all over the picture but for its rim, row by row from its top left."""
    width, height = found.screen_px
    across, down = (np.linspace(_RIM, 1 - _RIM, count) for count in _GRID)
    u, v = np.meshgrid(across * (width - 1), down * (height - 1))
    return found.table_from_screen(np.column_stack([u.ravel(), v.ravel()]))
