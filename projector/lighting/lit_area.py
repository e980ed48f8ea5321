"""The part of the table that the projector can light, and how finely it bends straight lines."""

from dataclasses import dataclass

import cv2
import numpy as np

from calibration.frames import Array
from calibration.projector_map import ProjectorMap

MARGIN_PX = 64.0  # lines are followed this far off the screen: no end of a stroke shows
BEND_PX = (
    0.02  # a straight line may stray this much from the lens's curve; a fiftieth of a pixel is invisible
)
BORDER_STEPS = 12
TRIAL_IN = 1.0
LONGEST_IN = 60.0
FEW = 1000  # points that are sooner looked at one by one than the box about them
ROUNDING_IN = 1e-9  # what was cut off at the margin lies within it


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LitArea:
    """`border_in` is the screen's border on the table, (n, 2) inches, convex and anticlockwise.

    `reach_normals @ p <= reach_limits` holds for points not more than `MARGIN_PX` off the screen;
    a straight piece of line up to `span_in` long may be drawn between its mapped ends.
    """

    projector_map: ProjectorMap
    border_in: Array
    reach_normals: Array
    reach_limits: Array
    span_in: float

    @property
    def centre_in(self) -> Array:
        """(2,) table inches under the centre of the screen."""
        width, height = self.projector_map.screen_px
        centre: Array = self.projector_map.table_from_screen([[(width - 1) / 2, (height - 1) / 2]])[0]
        return centre

    def reaches(self, points_in: Array) -> Array:
        """(n,) inches that each table point lies beyond the margin; negative inside."""
        beyond: Array = (self.reach_normals @ points_in.T - self.reach_limits[:, None]).max(axis=0)
        return beyond

    def holds(self, points_in: Array) -> bool:
        """Whether none of the table points lies beyond the margin, but for rounding; there must be some."""
        if len(points_in) > FEW:
            x, y = points_in.T
            corners = np.array([(u, v) for u in (x.min(), x.max()) for v in (y.min(), y.max())])
            if self.reaches(corners).max() <= ROUNDING_IN:
                return True
        furthest = (self.reach_normals @ points_in.T).max(axis=1)
        return bool((furthest <= self.reach_limits + ROUNDING_IN).all())


def lit_area(projector_map: ProjectorMap) -> LitArea:
    """What the map's screen lights on the table."""
    border = _hull(projector_map.table_from_screen(_screen_border(projector_map.screen_px, 0.5)))
    reach = _hull(projector_map.table_from_screen(_screen_border(projector_map.screen_px, MARGIN_PX)))
    sides = np.roll(reach, -1, axis=0) - reach
    normals = np.column_stack([sides[:, 1], -sides[:, 0]])
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    return LitArea(
        projector_map=projector_map,
        border_in=border,
        reach_normals=normals,
        reach_limits=(normals * reach).sum(axis=1),
        span_in=_span(projector_map),
    )


def _screen_border(screen_px: tuple[int, int], margin_px: float) -> Array:
    width, height = screen_px
    low = -margin_px
    right, bottom = width - 1 + margin_px, height - 1 + margin_px
    t = np.linspace(0, 1, BORDER_STEPS, endpoint=False)[:, None]
    corners = np.array([[low, low], [right, low], [right, bottom], [low, bottom]])
    following = np.roll(corners, -1, axis=0)
    return np.concatenate([a + t * (b - a) for a, b in zip(corners, following, strict=True)])


def _hull(points: Array) -> Array:
    hull = cv2.convexHull(points.astype(np.float32), clockwise=False).reshape(-1, 2).astype(np.float64)
    area = cv2.contourArea(hull.astype(np.float32), oriented=True)
    return hull if area > 0 else hull[::-1].copy()


def _span(projector_map: ProjectorMap) -> float:
    """Longest straight piece in inches whose middle stays within `BEND_PX`; the sag grows with its square."""
    width, height = projector_map.screen_px
    across, down = np.meshgrid(
        np.linspace(-MARGIN_PX, width + MARGIN_PX, 13), np.linspace(-MARGIN_PX, height + MARGIN_PX, 9)
    )
    middles = projector_map.table_from_screen(np.column_stack([across.ravel(), down.ravel()]))
    worst = 0.0
    for angle in np.arange(8) * np.pi / 8:
        half = np.array([np.cos(angle), np.sin(angle)]) * TRIAL_IN / 2
        start = projector_map.screen_from_table(middles - half)
        end = projector_map.screen_from_table(middles + half)
        middle = projector_map.screen_from_table(middles)
        chord = (end - start) / np.linalg.norm(end - start, axis=1, keepdims=True)
        offset = middle - start
        worst = max(worst, float(np.abs(offset[:, 0] * chord[:, 1] - offset[:, 1] * chord[:, 0]).max()))
    if worst == 0.0:
        return LONGEST_IN
    return min(LONGEST_IN, 0.8 * TRIAL_IN * float(np.sqrt(BEND_PX / worst)))
