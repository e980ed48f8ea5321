"""Believable practice scenes by seed: where projector and camera stand, how sheets lie, what is at fault."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from calibration.frames import Array
from calibration.practice.optics import Eye, axes_looking_at, tilted_axes
from calibration.practice.photo import Exposure
from calibration.practice.surface import TABLE_IN, LaidSheet, Pose, Print, TableTop, on_surface

CameraKind = Literal["phone", "webcam"]

_TRIES = 500
_LIT_MARGIN_PX = 6.0
_SEEN_MARGIN = 0.02  # of the photo's width
_OFF_BY_IN = 1.0  # how far from its window a person lays a sheet
_OFF_BY_DEG = 4.0

_LARGEST_PAGE_IN = np.array([8.5, 11.69])  # either paper lies inside it
_FROM_EDGE_IN = 0.2

# sheets where no windows tell: one in the middle, then the corners, some turned
_SPOTS = ((0, 0, 0), (-22, -10, 90), (22, 10, -90), (-22, 10, 0), (22, -10, 90), (11, -1, 0), (-11, 1, 180))


@dataclass(frozen=True, slots=True, kw_only=True)
class Faults:
    """What is not ideal at the table.

    `table_bow_in` is the sagitta of the top, `curl_in` the most that a sheet's edge or middle stands up,
    `print_jitter_in` the root mean square of each coordinate of the ink, `decentring` the sigma of the
    camera's tangential terms (a third of it for the projector's). `print_scale` is the printer's own error of
    size, and `print_stretch` what it adds up the page alone.
    """

    table_bow_in: float = 0.0
    curl_in: float = 0.0
    print_jitter_in: float = 0.0
    decentring: float = 0.0
    print_scale: float = 1.0
    print_stretch: float = 1.0

    @staticmethod
    def none() -> "Faults":
        """A flat world: only pixels, noise and lens bow."""
        return Faults()

    @staticmethod
    def usual() -> "Faults":
        """Bow of 1/32 in, curl up to 1/16 in, print jitter and tangential terms; print of true size."""
        return Faults(table_bow_in=1 / 32, curl_in=1 / 16, print_jitter_in=0.002, decentring=3e-4)


def drawn_top(rng: np.random.Generator, size_in: tuple[float, float], faults: Faults) -> TableTop:
    """A top whose surface spans `faults.table_bow_in` from lowest to highest over `TABLE_IN`."""
    along, sign = rng.uniform(0.0, 1.0), float(rng.choice([-1.0, 1.0]))
    bow = sign * faults.table_bow_in
    return TableTop(size_in=size_in, bow_x_in=bow * along, bow_y_in=bow * (1 - along))


def drawn_projector(rng: np.random.Generator, screen_px: tuple[int, int], faults: Faults) -> Eye:
    """A projector about six feet above the table that lights all of it: 24 to 28 px/in at 1920 x 1080."""
    for _ in range(_TRIES):
        eye = _projector(rng, screen_px, faults)
        if _corners_within(eye, _LIT_MARGIN_PX):
            return eye
    raise ValueError(f"no projector of {screen_px} pixels lights the whole table")


def _projector(rng: np.random.Generator, screen_px: tuple[int, int], faults: Faults) -> Eye:
    half_px = screen_px[0] / 2
    height_in = rng.uniform(66.0, 78.0)
    per_in = rng.uniform(0.8, 0.933) * min(screen_px[0] / TABLE_IN[0], screen_px[1] / TABLE_IN[1])
    shift_px = float(rng.choice([-1.0, 1.0])) * rng.uniform(0.25, 0.6) * half_px
    middle = ((screen_px[0] - 1) / 2, (screen_px[1] - 1) / 2)
    tilts = rng.uniform([-4.0, -3.0, -1.5], [4.0, 3.0, 1.5])
    eye = Eye(
        size_px=screen_px,
        focal_px=per_in * height_in,
        centre_px=(middle[0] + rng.uniform(-0.02, 0.02) * half_px, middle[1] + shift_px),
        at_in=(0.0, 0.0, height_in),
        axes=tilted_axes(*(float(tilt) for tilt in tilts)),
        bow=(rng.uniform(-0.012, 0.012), rng.uniform(-0.003, 0.003)),
        decentring=_pair(rng.normal(0.0, 1.0, 2) * faults.decentring / 3),
    )
    ray = eye.rays_from_pixels(np.array([middle]))[0]
    under = ray[:2] / -ray[2] * height_in
    x, y = rng.uniform(-0.7, 0.7, 2) - under
    return replace(eye, at_in=(float(x), float(y), height_in))


def drawn_camera(rng: np.random.Generator, kind: CameraKind, faults: Faults) -> Eye:
    """A phone or a webcam that sees the whole table at an angle, from any side."""
    size_px, focal_px = {"phone": ((4000, 3000), 2890.0), "webcam": ((1920, 1080), 1450.0)}[kind]
    half_px = size_px[0] / 2
    off = rng.uniform(-0.012, 0.012, 2) * half_px
    lens = Eye(
        size_px=size_px,
        focal_px=focal_px * rng.uniform(0.95, 1.08),
        centre_px=(float((size_px[0] - 1) / 2 + off[0]), float((size_px[1] - 1) / 2 + off[1])),
        at_in=(0.0, 0.0, 60.0),
        axes=tilted_axes(0.0, 0.0, 0.0),
        bow=(rng.uniform(-0.03, 0.03), rng.uniform(-0.015, 0.015)),
        decentring=_pair(rng.normal(0.0, 1.0, 2) * faults.decentring),
    )
    return aimed_camera(rng, lens)


def aimed_camera(rng: np.random.Generator, lens: Eye) -> Eye:
    """The same camera elsewhere: just far enough to see the table, upright or sideways by which is nearer."""
    azimuth, steep = np.radians(rng.uniform(0.0, 360.0)), np.radians(rng.uniform(48.0, 74.0))
    away = np.array([np.cos(azimuth) * np.cos(steep), np.sin(azimuth) * np.cos(steep), np.sin(steep)])
    target = np.array([*rng.uniform(-1.5, 1.5, 2), 0.0])
    lean, upside_down = rng.uniform(-5.0, 5.0), 180.0 * rng.integers(2)
    farther = rng.uniform(1.0, 1.1)
    views = [_nearest_view(lens, away, target, float(lean + upside_down + held)) for held in (0.0, 90.0)]
    reach, roll_deg = min(views)
    return _held(lens, away, target, reach * farther, roll_deg)


def _nearest_view(lens: Eye, away: Array, target: Array, roll_deg: float) -> tuple[float, float]:
    margin_px = _SEEN_MARGIN * lens.size_px[0]
    near, far = 35.0, 400.0
    for _ in range(30):
        reach = (near + far) / 2
        sees_all = _corners_within(_held(lens, away, target, reach, roll_deg), margin_px)
        near, far = (near, reach) if sees_all else (reach, far)
    return far, roll_deg


def _held(lens: Eye, away: Array, target: Array, reach_in: float, roll_deg: float) -> Eye:
    at = target + reach_in * away
    at_in = (float(at[0]), float(at[1]), float(at[2]))
    axes = axes_looking_at(at_in, (float(target[0]), float(target[1]), 0.0), roll_deg)
    return replace(lens, at_in=at_in, axes=axes)


def default_poses(count: int) -> tuple[Pose, ...]:
    """Room places of up to seven sheets, well spread."""
    if not 1 <= count <= len(_SPOTS):
        raise ValueError(f"from 1 to {len(_SPOTS)} sheets, found {count}")
    return tuple(Pose(x_in=x, y_in=y, turn_deg=turn) for x, y, turn in _SPOTS[:count])


def pose_from_corners(room_xy: Array) -> Pose:
    """Place of a page from its (4, 2) room corners: top-left, top-right, bottom-right, bottom-left."""
    x, y = room_xy.mean(axis=0)
    right = room_xy[1] - room_xy[0] + room_xy[2] - room_xy[3]
    return Pose(x_in=float(x), y_in=float(y), turn_deg=float(np.degrees(np.arctan2(right[1], right[0]))))


def laid_sheets(rng: np.random.Generator, poses: Sequence[Pose], faults: Faults) -> tuple[LaidSheet, ...]:
    """Sheets laid by hand near the poses: up to an inch and a few degrees off, each with its own curl.

    None hangs over the table's edge: one that would is drawn in.
    """
    sheets = []
    for number, pose in enumerate(poses, start=1):
        off_in, bearing = rng.uniform(0.0, _OFF_BY_IN), rng.uniform(0.0, 2 * np.pi)
        laid = _on_table(
            Pose(
                x_in=pose.x_in + float(off_in * np.cos(bearing)),
                y_in=pose.y_in + float(off_in * np.sin(bearing)),
                turn_deg=pose.turn_deg + rng.uniform(-_OFF_BY_DEG, _OFF_BY_DEG),
            )
        )
        ink = Print(
            scale_x=faults.print_scale,
            scale_y=faults.print_scale * faults.print_stretch,
            jitter_in=faults.print_jitter_in,
            seed=int(rng.integers(2**31)),
        )
        lift_in, curl_deg = faults.curl_in * rng.uniform(0.2, 1.0), rng.uniform(0.0, 180.0)
        middle = bool(rng.integers(2))
        sheets.append(
            LaidSheet(
                number=number,
                pose=laid,
                print=ink,
                middle_lift_in=lift_in if middle else 0.0,
                edge_lift_in=0.0 if middle else lift_in,
                curl_deg=curl_deg,
            )
        )
    return tuple(sheets)


def _on_table(pose: Pose) -> Pose:
    """The pose, drawn in where a page there would hang over the edge."""
    corners = pose.outward(_LARGEST_PAGE_IN / 2 * [[-1, -1], [1, -1], [1, 1], [-1, 1]])
    half = np.array(TABLE_IN) / 2 - _FROM_EDGE_IN
    x, y = np.maximum(-half - corners.min(axis=0), 0) + np.minimum(half - corners.max(axis=0), 0)
    return replace(pose, x_in=pose.x_in + float(x), y_in=pose.y_in + float(y))


def drawn_exposure(rng: np.random.Generator, kind: CameraKind) -> Exposure:
    """Light of a room with its curtains drawn, and the noise of the kind of camera."""
    noisy = {"phone": 1.0, "webcam": 1.5}[kind]
    return Exposure(
        ambient=rng.uniform(0.05, 0.2),
        ambient_slope=_pair(rng.uniform(-0.3, 0.3, 2)),
        falloff=rng.uniform(0.15, 0.35),
        projector_blur_px=rng.uniform(0.35, 0.6),
        camera_blur_px=rng.uniform(0.65, 0.95),
        exposure=rng.uniform(0.6, 0.8),
        shot_noise=0.012 * noisy,
        read_noise=0.0015 * noisy,
        jpeg_quality=int(rng.integers(88, 96)),
        seed=int(rng.integers(2**31)),
    )


def _corners_within(eye: Eye, margin_px: float) -> bool:
    around = np.linspace(-1, 1, 9)
    rim = np.concatenate([[(t, -1), (t, 1), (-1, t), (1, t)] for t in around])
    room = on_surface(rim * np.array(TABLE_IN) / 2, TableTop().height)
    if ((room - eye.at_in) @ np.array(eye.axes[2])).min() <= 0:
        return False
    pixels = eye.pixels_from_room(room)
    most = np.array(eye.size_px) - 1 - margin_px
    return bool((pixels >= margin_px).all() and (pixels <= most).all())


def _pair(values: Array) -> tuple[float, float]:
    return float(values[0]), float(values[1])
