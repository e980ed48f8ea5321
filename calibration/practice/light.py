"""Where projected lines really fell on the table, measured on the pixels of the frame."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt
import shapely

from calibration.frames import Array, Gray, ScreenPixels, TableInches
from calibration.practice.shading import light_of, sampled

_EVERY_IN = 0.1
_CORNER_DEG = 15.0
_FROM_CORNER_IN = 0.5  # nearer a corner the other side's light would be weighed too
_PROFILE_IN = 0.2
_PROFILE_SAMPLES = 41
_RECENTRINGS = 3
_LEAST_LIGHT = 0.01  # mean along the profile, of full light: less is no line
_LIT = 40  # of 255: a pixel that a person sees as part of a line


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LightFell:
    """How far from the intended lines the light fell, in inches.

    `at_in` (n, 2) are points along the lines and `across_in` (n,) how far to the left of the line's direction
    its light is centred there. `unlit` is the share of points without light; `stray_in` the distance of the
    farthest lit pixel from any line, half the line's own width included.
    """

    at_in: TableInches
    across_in: Array
    unlit: float
    stray_in: float

    @property
    def rms_in(self) -> float:
        """Root mean square of `across_in`."""
        return float(np.sqrt((self.across_in**2).mean()))

    @property
    def p95_in(self) -> float:
        """95th percentile of the distances."""
        return float(np.percentile(np.abs(self.across_in), 95))

    @property
    def most_in(self) -> float:
        """The largest distance."""
        return float(np.abs(self.across_in).max())


def where_lines_fell(
    frame: npt.NDArray[np.uint8],
    lines: Sequence[TableInches],
    screen_from_table: Callable[[Array], ScreenPixels],
    table_from_screen: Callable[[Array], TableInches],
) -> LightFell:
    """The light of `frame`, (h, w) or (h, w, 3), against solid lines that should be lit and nothing else.

    Each line is (n, 2) table inches, a closed one with its first point repeated. The two functions are the
    true ones. ValueError where no point of any line is lit.
    """
    gray: Gray = frame if frame.ndim == 2 else frame.max(axis=2)
    points, normals = _stations(lines)
    light = light_of(gray, 0.0)
    steps = np.linspace(-_PROFILE_IN, _PROFILE_IN, _PROFILE_SAMPLES)
    across = np.zeros(len(points))
    for _ in range(_RECENTRINGS):
        offsets = across[:, None] + steps
        profile = points[:, None] + offsets[..., None] * normals[:, None]
        pixels = screen_from_table(profile.reshape(-1, 2)).astype(np.float32)
        u, v = (np.ascontiguousarray(pixels[:, axis].reshape(offsets.shape)) for axis in range(2))
        seen = sampled(light, u, v, cv2.BORDER_CONSTANT)
        total = seen.sum(axis=1)
        across = np.where(total > 0, (seen * offsets).sum(axis=1) / np.maximum(total, 1e-12), across)
    lit = total > _LEAST_LIGHT * _PROFILE_SAMPLES
    if not lit.any():
        raise ValueError("none of the lines is lit")
    return LightFell(
        at_in=TableInches(points[lit]),
        across_in=across[lit],
        unlit=float(1 - lit.mean()),
        stray_in=_farthest_stray(gray, lines, table_from_screen),
    )


def _stations(lines: Sequence[TableInches]) -> tuple[Array, Array]:
    """Points along the lines and their left normals, leaving out what is near a corner or an open end."""
    found, normals = [], []
    for line in lines:
        path, corners = shapely.LineString(line), shapely.MultiPoint(_corners(line))
        along = np.arange(_EVERY_IN / 2, path.length, _EVERY_IN)
        at = shapely.get_coordinates(shapely.line_interpolate_point(path, along))
        ahead = shapely.get_coordinates(shapely.line_interpolate_point(path, along + 1e-4))
        behind = shapely.get_coordinates(shapely.line_interpolate_point(path, along - 1e-4))
        way = (ahead - behind) / np.linalg.norm(ahead - behind, axis=1, keepdims=True)
        clear = np.ones(len(at), dtype=bool)
        if not corners.is_empty:
            clear = np.asarray(shapely.distance(shapely.points(at), corners) > _FROM_CORNER_IN)
        found.append(at[clear])
        normals.append(np.column_stack([-way[:, 1], way[:, 0]])[clear])
    return np.concatenate(found), np.concatenate(normals)


def _corners(line: TableInches) -> Array:
    ways = np.diff(line, axis=0)
    bearing = np.arctan2(ways[:, 1], ways[:, 0])
    closed = bool(np.allclose(line[0], line[-1]))
    turns = np.diff(bearing, append=bearing[:1]) if closed else np.diff(bearing)
    sharp = np.abs((turns + np.pi) % (2 * np.pi) - np.pi) > np.radians(_CORNER_DEG)
    corners: Array = line[1 : len(turns) + 1][sharp]
    return corners if closed else np.concatenate([corners, line[:1], line[-1:]])


def _farthest_stray(
    gray: Gray, lines: Sequence[TableInches], table_from_screen: Callable[[Array], TableInches]
) -> float:
    lit_v, lit_u = np.nonzero(gray >= _LIT)
    if len(lit_u) == 0:
        return 0.0
    at = table_from_screen(np.column_stack([lit_u, lit_v]).astype(np.float64))
    pieces = np.concatenate([np.stack([line[:-1], line[1:]], axis=1) for line in lines])
    tree = shapely.STRtree([shapely.LineString(piece) for piece in pieces])
    _, distance = tree.query_nearest(shapely.points(at), return_distance=True, all_matches=False)
    return float(distance.max())
