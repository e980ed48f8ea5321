"""Ground that the practice pictures share: smooth fields spread from coarse nodes, and filtered sources.

A picture is sampled once a pixel. The blur of lens and pixel is put into the sources beforehand (as the
ellipse that it is there), so that edges stay where they are without supersampling.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import cv2
import numpy as np
import numpy.typing as npt

from calibration.frames import Array
from calibration.practice.optics import Eye
from calibration.practice.surface import Height, TableTop, meet_surface, on_surface

STEP_PX = 8  # node pitch: between nodes a plane wavers by under 0.003 px on the bends met here
GAMMA = 2.2

_TILE_PX = 64 * STEP_PX
_KERNEL_SIGMAS = 3.5
_SCREEN_REACH_IN = 75.0  # light falls no farther than this from the table's middle
_EDGE_PER_IN = 20.0
_FLATTEST = -0.03
_WEAVE_PX = 512
_WEAVE_PER_IN = 24.0

Plane = npt.NDArray[np.float32]


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A rectangle of a picture, in pixels that are multiples of `STEP_PX`; ends excluded."""

    top: int
    bottom: int
    left: int
    right: int

    @property
    def cut(self) -> tuple[slice, slice]:
        """The numpy index of the box."""
        return slice(self.top, self.bottom), slice(self.left, self.right)

    def nodes(self) -> Array:
        """(n, 2) pixels of the coarse nodes, one to spare on every side, row by row."""
        rows, columns = self._counts
        v = self.top + STEP_PX * (np.arange(rows) - 1) + (STEP_PX - 1) / 2
        u = self.left + STEP_PX * (np.arange(columns) - 1) + (STEP_PX - 1) / 2
        return np.stack(np.meshgrid(u, v), axis=-1).reshape(-1, 2)

    def spread(self, *fields: Array) -> list[Plane]:
        """Each (n,) field at the nodes as a plane of the box's pixels.

        Linear between nodes, which are first moved by the mean error of chords to a curve (a twelfth of the
        second difference), so that what is left wavers about zero.
        """
        rows, columns = self._counts
        size = (columns * STEP_PX, rows * STEP_PX)
        inner = slice(STEP_PX, -STEP_PX)
        planes = []
        for field in fields:
            grid = field.reshape(rows, columns)
            coarse = grid - (_second_difference(grid) + _second_difference(grid.T).T) / 12
            fine = cv2.resize(coarse.astype(np.float32), size, interpolation=cv2.INTER_LINEAR)
            planes.append(np.asarray(fine, dtype=np.float32)[inner, inner])
        return planes

    def slope(self, field: Array) -> Array:
        """(2, 2) change of an (n, 2) field at the nodes by pixels right and down, at the box's middle."""
        rows, columns = self._counts
        grid = field.reshape(rows, columns, 2)
        row, column = rows // 2, columns // 2
        right = grid[row, column] - grid[row, column - 1]
        down = grid[row, column] - grid[row - 1, column]
        return np.stack([right, down], axis=1) / STEP_PX

    def tiles(self) -> Iterator["Box"]:
        """The box in parts so small that one slope holds for each."""
        for top in range(self.top, self.bottom, _TILE_PX):
            for left in range(self.left, self.right, _TILE_PX):
                bottom, right = min(top + _TILE_PX, self.bottom), min(left + _TILE_PX, self.right)
                yield Box(top=top, bottom=bottom, left=left, right=right)

    @property
    def _counts(self) -> tuple[int, int]:
        return (self.bottom - self.top) // STEP_PX + 2, (self.right - self.left) // STEP_PX + 2


def _second_difference(grid: Array) -> Array:
    """Second differences along the first axis; the first and last rows take their neighbours'."""
    if len(grid) < 3:
        return np.zeros_like(grid)
    inner = np.diff(grid, n=2, axis=0)
    return np.concatenate([inner[:1], inner, inner[-1:]])


def whole(size_px: tuple[int, int]) -> Box:
    """The box of a picture of (width, height), rounded up to whole steps."""
    width, height = (-(-side // STEP_PX) * STEP_PX for side in size_px)
    return Box(top=0, bottom=height, left=0, right=width)


def box_around(points: Array, size_px: tuple[int, int]) -> Box | None:
    """The box of whole steps around (n, 2) pixels and inside a picture; None where they miss it."""
    most = np.array([-(-side // STEP_PX) * STEP_PX for side in size_px])
    low = np.clip(np.floor(points.min(axis=0) / STEP_PX - 1) * STEP_PX, 0, most).astype(int)
    high = np.clip(np.ceil(points.max(axis=0) / STEP_PX + 1) * STEP_PX, 0, most).astype(int)
    if (high <= low).any():
        return None
    return Box(top=int(low[1]), bottom=int(high[1]), left=int(low[0]), right=int(high[0]))


def softly_sampled(image: Plane, box: Box, at: Array, camera_blur_px: float, own_blur_px: float) -> Plane:
    """The image at the (n, 2) pixels of it that lie at the box's nodes, as a plane of the box.

    It is blurred by Gaussians of `camera_blur_px` in pixels of the box and `own_blur_px` in its own.
    Beyond its sides it goes on as its last pixels do.
    """
    slope = box.slope(at)
    spread = camera_blur_px**2 * slope @ slope.T + own_blur_px**2 * np.eye(2)
    reach = np.ceil(_KERNEL_SIGMAS * np.sqrt(np.diag(spread))).astype(int) + 2
    most = np.array(image.shape[::-1]) - 1
    low = np.clip(np.floor(at.min(axis=0)) - reach, 0, most).astype(int)
    high = np.clip(np.ceil(at.max(axis=0)) + reach, 0, most).astype(int)
    part = image[low[1] : high[1] + 1, low[0] : high[0] + 1]
    u, v = box.spread(*(at - low).T)
    return sampled(_blurred(part, spread, reach), u, v, cv2.BORDER_REPLICATE)


def _blurred(image: Plane, spread: Array, reach: npt.NDArray[np.int_]) -> Plane:
    """The image under a Gaussian of the (2, 2) covariance `spread` in its own pixels."""
    u, v = np.meshgrid(np.arange(-reach[0], reach[0] + 1), np.arange(-reach[1], reach[1] + 1))
    at = np.stack([u, v], axis=-1).astype(np.float64)
    kernel = np.exp(-0.5 * np.einsum("...i,ij,...j", at, np.linalg.inv(spread), at))
    kernel /= kernel.sum()
    out = cv2.filter2D(image, -1, kernel.astype(np.float32), borderType=cv2.BORDER_REPLICATE)
    return np.asarray(out, dtype=np.float32)


def sampled(image: Plane, u: Plane, v: Plane, border: int = cv2.BORDER_CONSTANT) -> Plane:
    """The image at pixel planes u and v, linear between its pixels; 0 outside unless `border` says more."""
    out = cv2.remap(image, u, v, cv2.INTER_LINEAR, borderMode=border, borderValue=0)
    return np.asarray(out, dtype=np.float32)


def light_of(frame: npt.NDArray[np.uint8], black_level: float) -> Plane:
    """The frame as light from `black_level` to 1, with a projector's usual gamma; any number of channels."""
    levels = black_level + (1 - black_level) * (np.arange(256) / 255.0) ** GAMMA
    light: Plane = levels.astype(np.float32)[frame]
    return light


def seen_by(eye: Eye, pixels: Array, height: Height) -> Array:
    """(n, 2) pixels to the (n, 3) room inches seen there; what looks above the horizon sees far-off floor."""
    rays = eye.rays_from_pixels(pixels)
    rays[:, 2] = np.minimum(rays[:, 2], _FLATTEST)
    return on_surface(meet_surface(eye.at_in, rays, height), height)


def lit_by(projector: Eye, room: Array) -> Array:
    """(n, 3) room inches to the (n, 2) projector pixels that light them; far points are off the screen.

    Points so far that the polynomial of a lens might fold back are drawn in to where it does not.
    """
    reach = np.abs(room[:, :2]).max(axis=1, keepdims=True)
    near = np.minimum(1.0, _SCREEN_REACH_IN / np.maximum(reach, 1e-9))
    return projector.pixels_from_room(np.column_stack([room[:, :2] * near, room[:, 2]]))


def shadow_in(projector: Eye, top: TableTop, floor_room: Array) -> Array:
    """(n,) inches that light on its way to (n, 3) points of the floor passes inside the table's edge.

    Where it is positive the floor lies in the table's shadow.
    """
    above_in = projector.at_in[2]
    share = above_in / (above_in - floor_room[:, 2:])
    start = np.array(projector.at_in[:2])
    return top.inside_in(start + share * (floor_room[:, :2] - start))


def hard_edge(inside_in: Plane) -> Plane:
    """From 0 outside to 1 inside an edge, in the width of about a pixel."""
    within: Plane = np.clip(inside_in * np.float32(_EDGE_PER_IN) + np.float32(0.5), 0, 1)
    return within


@cache
def weave() -> Plane:
    """A square of cloth grain that repeats, of mean 0 and root mean square 1."""
    grain = np.random.default_rng(7).standard_normal((_WEAVE_PX, _WEAVE_PX)).astype(np.float32)
    spectrum = np.fft.rfft2(grain)
    down = np.fft.fftfreq(_WEAVE_PX)[:, None]
    across = np.fft.rfftfreq(_WEAVE_PX)[None, :]
    threads = np.exp(-((down / 0.18) ** 2 + (across / 0.05) ** 2)) + np.exp(
        -((down / 0.05) ** 2 + (across / 0.18) ** 2)
    )
    soft = np.fft.irfft2(spectrum * threads, s=grain.shape)
    return np.asarray((soft - soft.mean()) / soft.std(), dtype=np.float32)


def weave_pixels(room_in: Plane) -> Plane:
    """Room inches along one axis to pixels of the `weave`."""
    return room_in * np.float32(_WEAVE_PER_IN)
