"""Which coded markers a photo shows, and roughly where: good enough to know a corner by, not to measure with.

OpenCV's ArUco detector finds the outlines. The codes are read here, by correlation of the grey values with
every code in use: that reads markers of 11 pixels, where a decision bit by bit stops at about 15.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from calibration.frames import Array, Gray, Levels
from calibration.sheets.markers import Family

_ENLARGED_UP_TO_PX = 1920  # outlines of small markers are found in a photo made larger
_ENLARGED = 3.0
_LARGEST_PX = 3000  # and larger photos are made smaller, to save time
_SAMPLES = (0.375, 0.625)  # of the way along a module, away from its edges
_STRETCHES = (-0.06, 0.0, 0.06, 0.12)  # outlines come out a little large or small
_REMAPPED = 8192  # outlines at once: OpenCV's remap takes fewer than 2^15 rows
_LEAST_LIKENESS = 0.7
_LEAST_LEAD = 0.05  # before the next best code; a misreading does not agree with the sheet round it


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FoundMarkers:
    """`numbers` (n,) and `corners_px` (n, 4, 2) in the photo, clockwise from the marker's own top left."""

    numbers: npt.NDArray[np.int64]
    corners_px: Array

    def among(self, wanted: npt.ArrayLike) -> "FoundMarkers":
        """Those with one of the wanted numbers."""
        return self.where(np.isin(self.numbers, wanted))

    def where(self, kept: npt.NDArray[np.bool_]) -> "FoundMarkers":
        """Those that the mask (n,) keeps."""
        return FoundMarkers(numbers=self.numbers[kept], corners_px=self.corners_px[kept])


def find_markers(photo: Levels, families: Sequence[tuple[Family, int]]) -> tuple[FoundMarkers, ...]:
    """Markers 0 .. count - 1 of each (family, count), each as often as it is seen; some may be misread."""
    long_side = max(photo.shape)
    scale = _ENLARGED if long_side <= _ENLARGED_UP_TO_PX else min(1.0, _LARGEST_PX / long_side)
    size = (round(photo.shape[1] * scale), round(photo.shape[0] * scale))
    way = cv2.INTER_CUBIC if scale > 1 else cv2.INTER_AREA
    whole: Gray = np.asarray(photo if photo.dtype == np.uint8 else np.rint(photo), dtype=np.uint8)
    searched: Gray = np.asarray(whole if scale == 1 else cv2.resize(whole, size, interpolation=way), np.uint8)
    outlines = _outlines(searched)
    ratio = np.array(photo.shape[::-1]) / size
    found = []
    for family, count in families:
        numbers, corners = _read(searched, outlines, family, count)
        found.append(FoundMarkers(numbers=numbers, corners_px=(corners + 0.5) * ratio - 0.5))
    return tuple(found)


def _outlines(searched: Gray) -> Array:
    """Quadrilaterals (n, 4, 2) that could be markers, clockwise."""
    settings = cv2.aruco.DetectorParameters()
    settings.minMarkerPerimeterRate = 0.015
    settings.adaptiveThreshWinSizeMin, settings.adaptiveThreshWinSizeMax = 7, 43
    settings.adaptiveThreshWinSizeStep = 12
    one_code = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    read, _, unread = cv2.aruco.ArucoDetector(one_code, settings).detectMarkers(searched)
    return np.array([*read, *unread], dtype=np.float64).reshape(-1, 4, 2)


def _read(searched: Gray, outlines: Array, family: Family, count: int) -> tuple[npt.NDArray[np.int64], Array]:
    codes = np.stack([~family.marker(number) for number in range(count)]).astype(np.float64)
    turned = np.stack([np.rot90(codes, -turn, axes=(1, 2)) for turn in range(4)], axis=1)
    known = _standardised(turned.reshape(4 * count, -1))
    middles = outlines.mean(axis=1, keepdims=True)
    likeness = np.full((len(outlines), 4 * count), -1.0)
    for stretch in _STRETCHES:
        stretched = middles + (outlines - middles) * (1 + stretch)
        seen = _module_values(searched, stretched, family.modules)
        likeness = np.maximum(likeness, _standardised(seen) @ known.T)
    best = likeness.argmax(axis=1) if len(outlines) else np.empty(0, dtype=np.int64)
    rows = np.arange(len(outlines))
    by_code = likeness.reshape(-1, count, 4).max(axis=2)
    most = likeness[rows, best]
    by_code[rows, best // 4] = -1
    sure = (most > _LEAST_LIKENESS) & (most - by_code.max(axis=1, initial=-1) > _LEAST_LEAD)
    first = (best[sure, None] + np.arange(4)) % 4
    return best[sure] // 4, np.take_along_axis(outlines[sure], first[..., None], axis=1)


def _standardised(values: Array) -> Array:
    centred = values - values.mean(axis=1, keepdims=True)
    standardised: Array = centred / np.linalg.norm(centred, axis=1, keepdims=True).clip(1e-9)
    return standardised


def _module_values(searched: Gray, outlines: Array, modules: int) -> Array:
    """Mean grey of the middle of each module (n, modules squared), through each outline's own homography."""
    steps = (np.arange(modules)[:, None] + _SAMPLES).ravel() / modules
    places = _in_quadrilaterals(outlines, np.stack(np.meshgrid(steps, steps), axis=-1).reshape(-1, 2))
    maps = places.astype(np.float32)
    values = np.empty(maps.shape[:2])
    for start in range(0, len(maps), _REMAPPED):
        part = maps[start : start + _REMAPPED]
        values[start : start + _REMAPPED] = cv2.remap(searched, part[..., 0], part[..., 1], cv2.INTER_LINEAR)
    cells = values.reshape(-1, modules, len(_SAMPLES), modules, len(_SAMPLES))
    means: Array = cells.mean(axis=(2, 4)).reshape(-1, modules * modules)
    return means


def _in_quadrilaterals(outlines: Array, unit: Array) -> Array:
    """Points (m, 2) of the unit square as they lie in each outline, (n, m, 2).

    The homography from the unit square in closed form, after Heckbert (1989), section 2.2.3.
    """
    first, second, third, fourth = np.moveaxis(outlines, 1, 0)
    across, down = second - third, fourth - third
    bend = first - second + third - fourth
    area = across[:, 0] * down[:, 1] - across[:, 1] * down[:, 0]
    area = np.where(np.abs(area) < 1e-9, 1e-9, area)
    g = (bend[:, 0] * down[:, 1] - bend[:, 1] * down[:, 0]) / area
    h = (across[:, 0] * bend[:, 1] - across[:, 1] * bend[:, 0]) / area
    along_x = second - first + g[:, None] * second
    along_y = fourth - first + h[:, None] * fourth
    x, y = unit.T
    above = along_x[:, None] * x[:, None] + along_y[:, None] * y[:, None] + first[:, None]
    below = g[:, None] * x + h[:, None] * y + 1
    places: Array = above / below[..., None]
    return places
