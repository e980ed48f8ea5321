"""Roughly where a garment lies: what is unlike the bare table, away from the sheets and the picture's edge."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import cv2
import numpy as np
import numpy.typing as npt
from scipy import ndimage

from calibration.errors import AlignmentError
from calibration.frames import Array, TableInches
from calibration.garment.sheet_camera import SheetCamera
from calibration.garment.table_look import TableLook, log_light
from calibration.sheets.sheet import Paper

_PER_IN: Final = 8.0
_LOOKED_AT_PER_IN: Final = 12.0  # the photo is made smaller for this, which takes its noise away
_NODE_IN: Final = 0.5  # between places whose pixels are computed: the photo's map is smooth
_FARTHEST_IN: Final = 50.0
_LEAST_SHARPNESS: Final = 0.4  # of the pixels per inch at the sheets: beyond lies what nobody can trace
_PAGE_MARGIN_IN: Final = 0.2
_RING_IN: Final = 0.9
_EDGE_IN: Final = 0.3
_STRANGE: Final = 4.0
_LEAST_IN2: Final = 40.0
_REACHES_IN2: Final = 10.0
_ANOTHER: Final = 0.15  # of the largest: a second piece of this size is a garment, not a weight
_GAP_IN: Final = 0.3

Picture = npt.NDArray[np.uint8]
SheetPlace = tuple[float, float, float]  # x inches, y inches, turn degrees
_Mask = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class GarmentRegion:
    """The rough outline (n, 2) in table inches, good to about an eighth of an inch, and how the table looks."""

    outline_in: TableInches
    table: TableLook


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _View:
    """The photo laid flat, coarsely: (h, w) pixels of table, from `low_in`, y upwards with the rows."""

    places_in: Array
    logs: Array
    valid: _Mask
    low_in: Array


def find_region(photo: Picture, camera: SheetCamera, paper: Paper) -> GarmentRegion:
    """The garment's region in a photo (h, w, 3). AlignmentError where there is none, or more than one."""
    view = _flattened(photo, camera, camera.sheet_places)
    pages = _from_pages(view, camera.sheet_places, paper)
    free = view.valid & (pages > _PAGE_MARGIN_IN)
    ring = free & (pages < _RING_IN)
    if ring.sum() < 50:
        raise AlignmentError(
            "no bare table is seen round the sheets; leave an inch of table free round each, and retake the photo"
        )
    mask, table = _unlike_table(view, free, ring, lambda large: _why_none(large, pages))
    if float(pages[mask].min()) <= _PAGE_MARGIN_IN + 1.5 / _PER_IN:
        raise AlignmentError(
            "the garment touches a sheet; lay the sheets beside it, an inch or more away, and retake the photo"
        )
    return GarmentRegion(outline_in=_outline(mask, view), table=table)


def find_region_amid(
    photo: Picture, camera: SheetCamera, places: Sequence[SheetPlace], paper: Paper
) -> GarmentRegion:
    """The same without sheets in the photo, amid the `places` where they lay and all is table.

    AlignmentError also where the garment reaches out of these.
    """
    view = _flattened(photo, camera, places)
    view = replace(view, valid=view.valid & _amid(_from_pages(view, places, paper) == 0))
    ring = view.valid & (_inside_in(view.valid) < _RING_IN)
    if ring.sum() < 50:
        raise AlignmentError(
            "the camera does not see the part of the table that was aligned; aim it as it was, or align again"
        )
    mask, table = _unlike_table(view, view.valid, ring, _why_none_amid)
    return GarmentRegion(outline_in=_outline(mask, view), table=table)


def _unlike_table(
    view: _View, free: _Mask, sure: _Mask, why_none: Callable[[list[_Mask]], str]
) -> tuple[_Mask, TableLook]:
    """The garment's pixels, and how the table looks, which is learnt from where it is `sure` to be bare."""
    learnt = free & _every_other(free.shape)
    table = TableLook.learnt(view.places_in[learnt], view.logs[learnt], sure[learnt])
    strange = np.zeros(view.valid.shape, dtype=np.float32)
    strange[free] = table.strangeness(view.places_in[free], view.logs[free])
    unlike = cv2.medianBlur(strange, 3) > _STRANGE
    round_gap = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * round(_GAP_IN * _PER_IN) + 1,) * 2)
    closed = cv2.morphologyEx(unlike.astype(np.uint8), cv2.MORPH_CLOSE, round_gap)
    return _only_garment((closed > 0) & view.valid, _inside_in(view.valid), why_none), table


def _inside_in(valid: _Mask) -> Array:
    """(h, w) inches to where the view ends."""
    return _inches_from(~np.pad(valid, 1))[1:-1, 1:-1]


def _every_other(shape: tuple[int, ...]) -> _Mask:
    """A mask of one pixel in nine: neighbours tell the same."""
    chosen = np.zeros(shape, dtype=bool)
    chosen[::3, ::3] = True
    return chosen


def _inches_from(mask: _Mask) -> Array:
    """(h, w) inches from each pixel of table to the nearest of the mask."""
    found = cv2.distanceTransform((~mask).astype(np.uint8), cv2.DIST_L2, cv2.DIST_MASK_PRECISE)
    return np.asarray(found / _PER_IN, dtype=np.float64)


def _flattened(photo: Picture, camera: SheetCamera, places: Sequence[SheetPlace]) -> _View:
    """The photo, by a camera that saw sheets at these places."""
    sheets = np.array([place[:2] for place in places])
    sharp = float(np.median(camera.pixels_per_inch(sheets)))
    scale = min(1.0, _LOOKED_AT_PER_IN / sharp)
    small = cv2.resize(photo, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    nodes = _grid(sheets.mean(axis=0) - _FARTHEST_IN, np.full(2, 2 * _FARTHEST_IN), 1 / _NODE_IN)
    pixels, sharpness = _seen(camera, nodes)
    rows, columns = np.nonzero(_shown(pixels, camera.photo_px) & (sharpness > _LEAST_SHARPNESS * sharp))
    cut = np.s_[max(rows.min() - 1, 0) : rows.max() + 2, max(columns.min() - 1, 0) : columns.max() + 2]
    low = nodes[cut][0, 0]
    at, fine_sharpness = _finer(pixels[cut]), _finer(sharpness[cut])
    valid = _shown(at, camera.photo_px) & (fine_sharpness > _LEAST_SHARPNESS * sharp)
    at = (at + np.float32(0.5)) * np.float32(scale) - np.float32(0.5)
    levels = cv2.remap(small, at[..., 0], at[..., 1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    return _View(
        places_in=_grid(low, np.array(valid.shape[::-1]) / _PER_IN, _PER_IN)[: len(valid), : valid.shape[1]],
        logs=log_light(np.arange(256.0))[cv2.GaussianBlur(levels, (0, 0), 0.7)],
        valid=valid,
        low_in=low,
    )


def _grid(low_in: Array, size_in: Array, per_in: float) -> Array:
    """(h, w, 2) table inches, y upwards with the rows."""
    width, height = np.ceil(size_in * per_in).astype(int) + 1
    x, y = np.meshgrid(low_in[0] + np.arange(width) / per_in, low_in[1] + np.arange(height) / per_in)
    return np.stack([x, y], axis=-1).astype(np.float64)


def _seen(camera: SheetCamera, places_in: Array) -> tuple[Array, Array]:
    """Pixels (h, w, 2) of table inches, and how many to the inch (h, w); far off, and 0, behind the camera."""
    flat = places_in.reshape(-1, 2)
    ahead = camera.ahead(flat)
    pixels, sharpness = np.full(flat.shape, -1e4), np.zeros(len(flat))
    pixels[ahead] = np.clip(camera.camera_from_table(flat[ahead]), -1e4, 1e5)
    sharpness[ahead] = camera.pixels_per_inch(flat[ahead])
    return pixels.reshape(places_in.shape), sharpness.reshape(places_in.shape[:2])


def _shown(pixels: npt.NDArray[np.floating], photo_px: tuple[int, int]) -> _Mask:
    within = ((pixels >= 0) & (pixels <= np.array(photo_px) - 1)).all(axis=-1)
    return np.asarray(within, dtype=np.bool_)


def _finer(at_nodes: Array) -> npt.NDArray[np.float32]:
    """Values at the nodes (h, w, ...) as the pixels of table between them have them, the first node's first."""
    finer = round(_PER_IN * _NODE_IN)
    height, width = (finer * (side - 1) + 1 for side in at_nodes.shape[:2])
    u, v = np.meshgrid(np.arange(width, dtype=np.float32), np.arange(height, dtype=np.float32))
    out = cv2.remap(at_nodes.astype(np.float32), u / finer, v / finer, cv2.INTER_LINEAR)
    return np.asarray(out, dtype=np.float32)


def _from_pages(view: _View, sheets: Sequence[SheetPlace], paper: Paper) -> Array:
    """(h, w) inches to the nearest sheet's page, 0 on it."""
    on_page = np.zeros(view.valid.shape, dtype=np.uint8)
    half = np.array([paper.width_in, paper.height_in]) / 2
    for x, y, turn in sheets:
        c, s = np.cos(np.radians(turn)), np.sin(np.radians(turn))
        corners = half * [(-1, -1), (1, -1), (1, 1), (-1, 1)] @ np.array([[c, s], [-s, c]]) + (x, y)
        cv2.fillConvexPoly(on_page, np.rint((corners - view.low_in) * _PER_IN).astype(np.int32), 1)
    return _inches_from(on_page > 0)


def _amid(pages: _Mask) -> _Mask:
    """All that lies between pages, them among it."""
    hull = np.zeros(pages.shape, np.uint8)
    if pages.any():
        near = cv2.convexHull(np.float32(np.argwhere(pages)[:, ::-1]).reshape(-1, 1, 2))
        cv2.fillConvexPoly(hull, np.rint(near).astype(np.int32), 1)
    return hull > 0


def _only_garment(unlike: _Mask, inside: Array, why_none: Callable[[list[_Mask]], str]) -> _Mask:
    labels, count = ndimage.label(unlike)
    areas = ndimage.sum_labels(np.ones_like(labels), labels, np.arange(1, count + 1)) / _PER_IN**2
    nearest_edge = ndimage.minimum(inside, labels, np.arange(1, count + 1))
    large = [i for i in range(count) if areas[i] >= _LEAST_IN2]
    whole = sorted((i for i in large if nearest_edge[i] > _EDGE_IN), key=lambda i: -areas[i])
    if not whole:
        raise AlignmentError(why_none([labels == i + 1 for i in large]))
    if len(whole) > 1 and areas[whole[1]] > _ANOTHER * areas[whole[0]]:
        raise AlignmentError(
            f"{len([i for i in whole if areas[i] > _ANOTHER * areas[whole[0]]])} things as large as a garment "
            "lie on the table, sheets that cannot be read among them; leave one garment, lay the sheets flat in "
            "the light, and retake the photo"
        )
    return np.asarray(ndimage.binary_fill_holes(labels == whole[0] + 1))


def _why_none_amid(cut_off: list[_Mask]) -> str:
    """The sentence for a photo without sheets, and with nothing garment-sized that lies wholly amid their places."""
    if cut_off:
        return (
            "the garment reaches out of what the sheets of the alignment lay round, or out of the picture; lay it in "
            "the middle of that, with bare table round it, and retake the photo"
        )
    return (
        "no garment can be told from the table: it is as bright as the table and of its colour; lay a cloth or "
        "paper of another colour under it, and retake the photo"
    )


def _why_none(cut_off: list[_Mask], pages: Array) -> str:
    """The sentence for a photo with nothing garment-sized that lies wholly in it."""
    hull = _amid(pages == 0)
    # between sheets there is table, so what reaches in there from the picture's edge lies on it
    if any((mask & hull).sum() / _PER_IN**2 > _REACHES_IN2 for mask in cut_off):
        return (
            "what is unlike the table reaches the picture's edge: the garment runs out of the picture or off the "
            "table, or an arm reaches in over it; get all of it into the photo with nothing but bare table round "
            "it, and retake it"
        )
    return (
        "no garment can be told from the table: it is as bright as the table and of its colour, or "
        "it is not wholly in the picture; lay a cloth or paper of another colour under it, and retake the photo"
    )


def _outline(mask: _Mask, view: _View) -> TableInches:
    """The closed outline (n, 2) of the mask, in table inches."""
    solid = cv2.GaussianBlur(mask.astype(np.float32), (0, 0), 1.0)
    found, _ = cv2.findContours((solid > 0.5).astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    longest = max(found, key=len).reshape(-1, 2).astype(np.float64)
    return TableInches(view.low_in + longest / _PER_IN)
