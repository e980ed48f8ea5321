"""Pictures of the lit practice table for people to look at, from above and from where someone stands."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

import cv2
import numpy as np
import numpy.typing as npt

from calibration.frames import Array
from calibration.practice.optics import Eye, axes_looking_at
from calibration.practice.shading import (
    GAMMA,
    Box,
    Plane,
    hard_edge,
    light_of,
    lit_by,
    sampled,
    seen_by,
    shadow_in,
    weave,
    weave_pixels,
    whole,
)
from calibration.practice.surface import TABLE_IN, Height, TableTop, floor, on_surface

Picture = npt.NDArray[np.uint8]
RoomSeen = Callable[[Array, Height], Array]  # pixels and a surface to the (n, 3) points of it seen there

_OVERSAMPLING = 2
_MARGIN_IN = 3.0
_STANDING_AT = (0.0, -48.0, 43.0)
_LOOKING_AT = (0.0, -3.0, 0.0)
_STANDING_FOCAL = 0.80  # of the picture's width
_STANDING_SHAPE = 0.6

_TABLE_TONE = np.array([0.66, 0.62, 0.55], dtype=np.float32)
_FLOOR_TONE = np.array([0.16, 0.12, 0.09], dtype=np.float32)
_SIDE_TONE = np.array([0.34, 0.22, 0.13], dtype=np.float32)
_THICKNESS_IN = 1.4
_ROOM_LIGHT = np.array([0.032, 0.029, 0.030], dtype=np.float32)
_BLACK_LEVEL = 0.0012
_LENS_GLOW = ((0.10, 0.12), (0.5, 0.06), (2.0, 0.05))  # sigma in inches, share of the light
_BRIGHTNESS = 2.4
_FILM_GRAIN = 1.0  # of 255: keeps dark slopes from showing steps
_FOLDS_PX = 256
_FOLDS_PER_IN = 4.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cloth:
    """A cloth on the table: (n, 2) outline in inches, colour from 0 to 255, and how much it hides."""

    outline_in: Array
    colour: tuple[int, int, int] = (240, 140, 128)
    cover: float = 0.5


def picture_from_above(
    frame: Picture, projector: Eye, top: TableTop, pixels_per_inch: float, cloths: Sequence[Cloth]
) -> Picture:
    """RGB (h, w, 3), true to scale, with 3 in of floor round the table; outlines in room inches."""
    fine_ppi = pixels_per_inch * _OVERSAMPLING
    size_in = np.array(TABLE_IN) + 2 * _MARGIN_IN
    width, height = (round(side * pixels_per_inch) * _OVERSAMPLING for side in size_in)

    def room_seen(pixels: Array, surface: Height) -> Array:
        from_middle = (pixels - ((width - 1) / 2, (height - 1) / 2)) / (fine_ppi, -fine_ppi)
        return on_surface(from_middle, surface)

    return _shaded(frame, projector, top, cloths, (width, height), room_seen, fine_ppi)


def picture_standing(
    frame: Picture, projector: Eye, top: TableTop, width_px: int, cloths: Sequence[Cloth]
) -> Picture:
    """RGB (h, w, 3) in the perspective of a person one step back from the near edge."""
    width, height = width_px * _OVERSAMPLING, round(width_px * _STANDING_SHAPE) * _OVERSAMPLING
    eye = Eye(
        size_px=(width, height),
        focal_px=_STANDING_FOCAL * width,
        centre_px=((width - 1) / 2, (height - 1) / 2),
        at_in=_STANDING_AT,
        axes=axes_looking_at(_STANDING_AT, _LOOKING_AT, 0.0),
    )

    def room_seen(pixels: Array, surface: Height) -> Array:
        return seen_by(eye, pixels, surface)

    fine_ppi = eye.focal_px / float(np.linalg.norm(_STANDING_AT))
    return _shaded(frame, projector, top, cloths, (width, height), room_seen, fine_ppi)


def _shaded(
    frame: Picture,
    projector: Eye,
    top: TableTop,
    cloths: Sequence[Cloth],
    size_px: tuple[int, int],
    room_seen: RoomSeen,
    per_in: float,
) -> Picture:
    """The picture at twice its size, brought down to size, with the glow of a lens round bright lines."""
    colours = np.repeat(frame[..., None], 3, axis=2) if frame.ndim == 2 else frame
    light = light_of(colours, _BLACK_LEVEL)
    all_of_it = whole(size_px)
    seen = np.empty((all_of_it.bottom, all_of_it.right, 3), dtype=np.float32)
    for box in all_of_it.tiles():
        seen[box.cut] = _in_box(box, room_seen, light, projector, top, cloths)
    seen = seen[: size_px[1], : size_px[0]]
    small_px = (size_px[0] // _OVERSAMPLING, size_px[1] // _OVERSAMPLING)
    small = np.asarray(cv2.resize(seen, small_px, interpolation=cv2.INTER_AREA), dtype=np.float32)
    glow = np.zeros_like(small)
    for sigma_in, share in _LENS_GLOW:
        glow += share * np.asarray(cv2.GaussianBlur(small, (0, 0), sigma_in * per_in / _OVERSAMPLING))
    shown = 255 * np.asarray(cv2.pow(1 - np.exp(-_BRIGHTNESS * (small + glow)), 1 / GAMMA))
    grain = np.random.default_rng(3).normal(0.0, _FILM_GRAIN, shown.shape[:2])[..., None]
    picture: Picture = np.rint(np.clip(shown + grain, 0, 255)).astype(np.uint8)
    return picture


def _in_box(
    box: Box, room_seen: RoomSeen, light: Plane, projector: Eye, top: TableTop, cloths: Sequence[Cloth]
) -> Plane:
    """Light, (rows, columns, 3), that leaves the surfaces of one box."""
    room = room_seen(box.nodes(), top.height)
    across = np.clip(room[:, :2] / (np.array(TABLE_IN) / 2), -2.5, 2.5)
    dimming = np.clip(1 + across @ (-0.35, 0.35) - 0.14 * (across**2).sum(axis=1), 0.15, 2.0)
    u, v, x, y, inside, room_light = box.spread(
        *lit_by(projector, room).T, *room[:, :2].T, top.inside_in(room[:, :2]), dimming
    )
    grain = sampled(weave(), weave_pixels(x), weave_pixels(y), cv2.BORDER_WRAP)
    tone = np.asarray(_TABLE_TONE * (1 + np.float32(0.02) * grain[..., None]))
    for cloth in cloths:
        tone = _under_cloth(tone, cloth, x, y, grain)
    ambient = _ROOM_LIGHT * room_light[..., None]
    on_table = tone * (ambient + sampled(light, u, v))
    beside = _FLOOR_TONE * (0.4 * ambient + _light_on_floor(box, room_seen, light, projector, top))
    (side,) = box.spread(top.inside_in(room_seen(box.nodes(), _underside)[:, :2]))
    beside += (_SIDE_TONE * 0.6 * ambient - beside) * hard_edge(side)[..., None]
    return np.asarray(beside + (on_table - beside) * hard_edge(inside)[..., None], dtype=np.float32)


def _underside(room_xy: Array) -> Array:
    return np.full(len(room_xy), -_THICKNESS_IN)


def _light_on_floor(box: Box, room_seen: RoomSeen, light: Plane, projector: Eye, top: TableTop) -> Plane:
    room = room_seen(box.nodes(), floor)
    u, v, hidden = box.spread(*lit_by(projector, room).T, shadow_in(projector, top, room))
    return np.asarray(sampled(light, u, v) * (1 - hard_edge(hidden))[..., None])


def _under_cloth(tone: Plane, cloth: Cloth, x: Plane, y: Plane, grain: Plane) -> Plane:
    """The tone of what lies under a sheer cloth, seen through it: its colour, soft folds, and a thin edge."""
    inside_in = _inside(cloth.outline_in, x, y)
    soft = sampled(_folds(), x * np.float32(_FOLDS_PER_IN), y * np.float32(_FOLDS_PER_IN), cv2.BORDER_WRAP)
    colour = (np.array(cloth.colour) / 255.0) ** GAMMA
    threads = colour * (1 + 0.13 * soft + 0.04 * grain)[..., None]
    hem = np.float32(0.3) * np.exp(-((inside_in - 0.12) ** 2) / np.float32(0.005))
    cover = np.clip(cloth.cover + hem, 0, 1) * np.clip(inside_in * 10 + 0.5, 0, 1)
    shadow = 1 - np.float32(0.25) * np.exp(-np.abs(inside_in) * 3) * (inside_in < 0)
    return np.asarray(tone * shadow[..., None] * (1 - cover[..., None]) + threads * cover[..., None])


def _inside(outline_in: Array, x: Plane, y: Plane) -> Plane:
    """Inches inside the outline (negative outside) at planes of room inches, from a drawn distance field."""
    per_in, margin_in = 16.0, 2.0
    low = outline_in.min(axis=0) - margin_in
    size = np.ceil((outline_in.max(axis=0) + margin_in - low) * per_in).astype(int)
    mask = np.zeros((size[1], size[0]), dtype=np.uint8)
    cv2.fillPoly(mask, [np.rint((outline_in - low) * per_in * 16).astype(np.int32)], 255, shift=4)
    within = cv2.distanceTransform(mask, cv2.DIST_L2, 5)
    without = cv2.distanceTransform(255 - mask, cv2.DIST_L2, 5)
    inches = ((np.asarray(within) - np.asarray(without)) / per_in).astype(np.float32)
    u = (x - np.float32(low[0])) * np.float32(per_in)
    v = (y - np.float32(low[1])) * np.float32(per_in)
    return sampled(inches, np.asarray(u), np.asarray(v), cv2.BORDER_REPLICATE)


@cache
def _folds() -> Plane:
    """A square of soft ripples that repeats, of mean 0 and root mean square 1."""
    ripples = np.random.default_rng(11).standard_normal((_FOLDS_PX, _FOLDS_PX))
    down, across = np.fft.fftfreq(_FOLDS_PX)[:, None], np.fft.rfftfreq(_FOLDS_PX)[None, :]
    slow = np.exp(-((down / 0.008) ** 2 + (across / 0.03) ** 2))
    soft = np.fft.irfft2(np.fft.rfft2(ripples) * slow, s=ripples.shape)
    return np.asarray((soft - soft.mean()) / soft.std(), dtype=np.float32)
