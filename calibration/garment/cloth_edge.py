"""The edge of cloth against the table, followed to a fraction of a pixel from near it.

The photo is read along normals of a rough outline, in its own pixels. A path is found (dynamic programming)
that has table outside, something else inside, and a sharp step between: shadows are soft, cloth is not. Then
the step is placed by fitting it (`step_fit`), together with what lies a little way along the edge.
"""

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
import numpy.typing as npt
from scipy import ndimage

from calibration.frames import Array, TableInches
from calibration.garment.sheet_camera import SheetCamera
from calibration.garment.step_fit import REACH_PX, SIDES_PX, fitted, steepest
from calibration.garment.table_look import TableLook, light, log_light

Picture = npt.NDArray[np.uint8]
_Whole = npt.NDArray[np.int_]

_STEPS_A_PIXEL: Final = 2.0
_ALONG_STEPS: Final = 2  # steps across to one along
_AVERAGED_IN: Final = 0.12  # one sigma along the edge, for finding it
_PLACED_IN: Final = 0.05  # and for placing it
_SHADE_IN: Final = 0.6  # and for telling shade from the edge
_CALM_ROWS: Final = 21  # four to each of that
_MOST_DRAWN: Final = 2.0  # steps
_STRANGE: Final = 3.5  # sigmas from the bare table's colour: more is cloth
_OVER_USUAL: Final = 1.4  # and so many times what the table itself reaches, beside the cloth
_OUTER: Final = 6  # columns of a band that are bare table
_LOOKED_AT_IN: Final = 0.08
_REGION_IN: Final = (
    0.015  # so much cloth left out, or table taken in, costs as much as a threefold weaker step
)
_SURE_STEP: Final = 40.0  # sigmas: a step is no more a step for being larger
_STEEPEST: Final = 4  # steps across in one along
_BEND_COST: Final = 2.0
_SMOOTHED_ROWS: Final = 1.2  # about pixels, along the edge
_LEAST_TEXTURE: Final = 0.012  # of the root of full light
_CLEAR_STEP: Final = 3.0  # sigmas of the texture
REACHES_IN: Final = (0.4, 0.15, 0.08)  # how far from the outline the edge is looked for, round by round
_SOFTENED_IN: Final = (0.16, 0.12, 0.06)  # by how much the outline is smoothed before its normals are taken


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ClothEdge:
    """The edge as followed: `points_in` (n, 2) closed, about evenly spaced; `inward` (n, 2) unit normals.

    `step` (n,) is how many sigmas of the texture its two sides differ by; `scatter_in` the one-sigma noise of a
    point, by its neighbours.
    """

    points_in: TableInches
    inward: Array
    step: Array
    scatter_in: float

    @property
    def unclear(self) -> float:
        """The share of the edge at which its two sides hardly differ."""
        return float((self.step < _CLEAR_STEP).mean())


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Band:
    """Levels (n, m, 3) across an outline: n places along it, m steps of `step_in`, inside first.

    `strange` (n, m) is 1 where a colour is as far from the table's as cloth has to be.
    """

    points_in: Array
    inward: Array
    across_in: Array
    along_in: float
    step_in: float
    levels: Array
    strange: Array

    def smoothed(self, values: Array, sigma_in: float) -> Array:
        """Averaged along the outline, which closes."""
        out: Array = ndimage.gaussian_filter1d(values, sigma_in / self.along_in, axis=0, mode="wrap")
        return out

    def outline(self, across_in: Array) -> Array:
        """(n, 2) table inches at so far outside of each place."""
        moved: Array = self.points_in - self.inward * across_in[:, None]
        return moved


def follow_edge(photo: Picture, camera: SheetCamera, table: TableLook, outline_in: Array) -> ClothEdge:
    """The cloth's edge near an outline (n, 2), followed round by round, the last the finest."""
    texture = None
    for reach_in, soft_in in zip(REACHES_IN, _SOFTENED_IN, strict=True):
        band = _band(photo, camera, table, outline_in, reach_in, soft_in)
        apart = _apart(band)
        texture = _texture(apart) if texture is None else texture  # the first time, farthest from the edge
        step = np.linalg.norm(apart @ texture, axis=2)
        path = _path(band, step)
        placed = _placed(band, path)
        outline_in = band.outline(placed)
    return ClothEdge(
        points_in=TableInches(band.outline(placed - _drawn_aside(band, path) * band.step_in)),
        inward=band.inward,
        step=step[np.arange(len(path)), path],
        scatter_in=_scatter(placed, band.along_in),
    )


def evenly(outline_in: Array, step_in: float, soft_in: float) -> Array:
    """(n, 2) points of the closed outline about `step_in` apart, smoothed by a Gaussian of `soft_in` along it."""
    ring = np.concatenate([outline_in, outline_in[:1]])
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(ring, axis=0), axis=1))])
    count = max(int(along[-1] / step_in), 8)
    at = np.arange(count) * along[-1] / count
    points = np.column_stack([np.interp(at, along, ring[:, axis]) for axis in range(2)])
    smooth: Array = ndimage.gaussian_filter1d(points, soft_in * count / along[-1], axis=0, mode="wrap")
    return smooth


def inward_normals(points_in: Array) -> Array:
    """(n, 2) unit normals into a closed outline."""
    way = np.roll(points_in, -1, axis=0) - np.roll(points_in, 1, axis=0)
    x, y = points_in.T
    sign = np.sign(float(x @ np.roll(y, -1) - y @ np.roll(x, -1)))
    normals = sign * np.column_stack([-way[:, 1], way[:, 0]])
    out: Array = normals / np.linalg.norm(normals, axis=1, keepdims=True)
    return out


def _band(
    photo: Picture, camera: SheetCamera, table: TableLook, outline_in: Array, reach_in: float, soft_in: float
) -> _Band:
    per_in = float(np.median(camera.pixels_per_inch(outline_in)))
    step = 1 / (_STEPS_A_PIXEL * per_in)
    points = evenly(outline_in, _ALONG_STEPS * step, soft_in)
    inward = inward_normals(points)
    half = round(reach_in / step + (SIDES_PX[1] + 1) * _STEPS_A_PIXEL)
    across = np.arange(-half, half + 1, dtype=np.float64) * step
    places = (points[:, None] - inward[:, None] * across[:, None]).reshape(-1, 2)
    pixels = camera.camera_from_table(places).astype(np.float32).reshape(len(points), -1, 2)
    levels = _sampled(photo, pixels)
    along = float(np.linalg.norm(np.roll(points, -1, axis=0) - points, axis=1).mean())
    # averaged first: noise would look strange by itself
    logs = ndimage.gaussian_filter1d(log_light(levels), _LOOKED_AT_IN / along, axis=0, mode="wrap")
    strange = table.strangeness(places, logs.reshape(-1, 3)).reshape(levels.shape[:2])
    return _Band(
        points_in=points, inward=inward, across_in=across, along_in=along, step_in=step, levels=levels,
        strange=strange / max(_STRANGE, _OVER_USUAL * float(np.quantile(strange[:, -_OUTER:], 0.95))),
    )  # fmt: skip


def _sampled(photo: Picture, pixels: npt.NDArray[np.float32]) -> Array:
    """Levels (n, m, 3) at (n, m, 2) pixels. OpenCV takes fewer than 2^15 rows."""
    parts = [
        cv2.remap(photo, part[..., 0], part[..., 1], cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE)
        for part in np.array_split(pixels, len(pixels) // 20000 + 1)
    ]
    return np.concatenate(parts).astype(np.float64)


def _path(band: _Band, step: Array) -> _Whole:
    """(n,) columns of the edge."""
    sides = np.clip(band.strange - 1, -1, 1)
    # table taken in inside of the edge, and cloth left out outside of it, as far as the band goes
    inside = np.cumsum(-sides, axis=1)
    region = inside * band.step_in / _REGION_IN
    return _cheapest(region - np.log1p((np.minimum(step, _SURE_STEP) / 2) ** 2))


def _apart(band: _Band) -> Array:
    """(n, m, 3) by which the two sides of a step at each column would differ, averaged along the edge."""
    near, far = (round(px * _STEPS_A_PIXEL) for px in SIDES_PX)
    smooth = band.smoothed(np.sqrt(light(band.levels)), _AVERAGED_IN)
    total = np.cumsum(np.pad(smooth, ((0, 0), (1, 0), (0, 0))), axis=1)
    count = smooth.shape[1]
    column = np.arange(count)

    def mean(low: _Whole, high: _Whole) -> Array:
        low, high = np.clip(low, 0, count - 1), np.clip(high, 1, count)
        out: Array = (total[:, high] - total[:, low]) / (high - low)[:, None]
        return out

    apart = mean(column + near, column + far) - mean(column - far + 1, column - near + 1)
    apart[:, : far + 1] = 0
    apart[:, -far - 1 :] = 0
    return apart


def _texture(apart: Array) -> Array:
    """(3, 3) that makes one sigma of what two patches of bare table differ by, at the band's outer side."""
    far = round(SIDES_PX[1] * _STEPS_A_PIXEL)
    outer = apart[:, -far - 4 : -far - 1].reshape(-1, 3)
    outer = outer[np.linalg.norm(outer, axis=1) <= np.quantile(np.linalg.norm(outer, axis=1), 0.9)]
    values, axes = np.linalg.eigh(outer.T @ outer / len(outer) + _LEAST_TEXTURE**2 * np.eye(3))
    texture: Array = axes / np.sqrt(values)
    return texture


def _cheapest(cost: Array) -> _Whole:
    """(n,) columns of the closed path of least cost, its columns in neighbouring rows at most `_STEEPEST` apart."""
    start = int(np.argmax(np.ptp(cost, axis=1)))
    first = int(np.argmin(cost[start]))
    rows = np.roll(cost, -start, axis=0)
    shifts = np.arange(-_STEEPEST, _STEEPEST + 1)
    price = _BEND_COST * np.abs(shifts)[:, None] ** 1.5
    width = cost.shape[1]
    reached = np.full(width, np.inf)
    reached[first] = 0.0
    came = np.zeros(cost.shape, dtype=np.int8)
    padded = np.full(width + 2 * _STEEPEST, np.inf)
    windows = np.lib.stride_tricks.sliding_window_view(padded, width)
    columns = np.arange(width)
    for row in range(1, len(rows)):
        padded[_STEEPEST:-_STEEPEST] = reached
        tried = windows + price
        best = tried.argmin(axis=0)
        came[row] = best - _STEEPEST
        reached = tried[best, columns] + rows[row]
    path = np.empty(len(rows), dtype=np.int_)
    last = np.clip(first + shifts, 0, width - 1)
    path[-1] = last[int(np.argmin(reached[last] + price[:, 0]))]
    for row in range(len(rows) - 1, 0, -1):
        path[row - 1] = path[row] + came[row, path[row]]
    return np.roll(path, start)


def _placed(band: _Band, path: _Whole) -> Array:
    """(n,) inches outside of the outline where the step truly is, near the path."""
    averaged = _PLACED_IN / band.along_in
    smooth_path = ndimage.gaussian_filter1d(path.astype(np.float64), averaged, mode="wrap")
    near = band.smoothed(_strips(band, smooth_path), _PLACED_IN)
    found = smooth_path + steepest(near, _ways(band, near), _STEPS_A_PIXEL)
    found = ndimage.median_filter(found, max(3, 2 * round(averaged) + 1), mode="wrap")
    found = ndimage.gaussian_filter1d(found, _SMOOTHED_ROWS, mode="wrap")
    out: Array = (found - (band.levels.shape[1] - 1) / 2) * band.step_in
    return out


def _strips(band: _Band, path: Array) -> Array:
    """Light (n, m, 3) across the edge, the path in the middle."""
    reach = round(REACH_PX * _STEPS_A_PIXEL)
    at = np.clip(path[:, None] + np.arange(-reach, reach + 1), 0, band.levels.shape[1] - 1)
    rows = np.broadcast_to(np.arange(len(path))[:, None], at.shape)
    lights = light(band.levels)
    return np.stack(
        [ndimage.map_coordinates(lights[..., c], [rows, at], order=1, mode="nearest") for c in range(3)],
        axis=-1,
    )


def _ways(band: _Band, strips: Array) -> Array:
    """(n, 3) by which the strips are lighter outside, of length 1."""
    near, far = (round(px * _STEPS_A_PIXEL) for px in SIDES_PX)
    middle = strips.shape[1] // 2
    outside, inside = (strips[:, middle + k * far : middle + k * near : -k].mean(axis=1) for k in (1, -1))
    ways = band.smoothed(outside - inside, _PLACED_IN)
    out: Array = ways / np.linalg.norm(ways, axis=1, keepdims=True).clip(1e-9)
    return out


def _drawn_aside(band: _Band, path: _Whole) -> Array:
    """(n,) steps by which the shade beside the cloth draws the steepest slope, which changes slowly along it."""
    every = max(1, round(_SHADE_IN / 4 / band.along_in))
    smooth_path = ndimage.gaussian_filter1d(path.astype(np.float64), _PLACED_IN / band.along_in, mode="wrap")
    strips = band.smoothed(_strips(band, smooth_path), _SHADE_IN)
    calm = strips[::every]
    drawn = steepest(calm, _ways(band, strips)[::every], _STEPS_A_PIXEL) - fitted(calm, _STEPS_A_PIXEL)
    drawn = ndimage.median_filter(np.clip(drawn, -_MOST_DRAWN, _MOST_DRAWN), _CALM_ROWS, mode="wrap")
    drawn = ndimage.gaussian_filter1d(drawn, _CALM_ROWS / 4, mode="wrap")
    at = np.arange(0, len(path), every)
    return np.interp(np.arange(len(path)), at, drawn, period=len(path))


def _scatter(placed: Array, along_in: float) -> float:
    """One-sigma noise of the places, by how they differ from those a tenth of an inch on either side."""
    apart = max(1, round(0.1 / along_in))
    off = placed - (np.roll(placed, apart) + np.roll(placed, -apart)) / 2
    return float(1.4826 * np.median(np.abs(off)) / np.sqrt(1.5))
