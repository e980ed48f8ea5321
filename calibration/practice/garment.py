"""A folded garment on the practice table: its cloth, what lies on it, and the table under it; all of it seeded.

The outline is known to the last digit, which is what tracing it from a photo is held against.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

import numpy as np

from calibration.frames import Array, TableInches
from calibration.practice import scene as scene
from calibration.practice.optics import Eye
from calibration.practice.scene import CameraKind, Faults
from calibration.practice.surface import Pose
from calibration.practice.table import PracticeTable

Tone = tuple[float, float, float]  # red, green, blue as shares of the light that is thrown back

_GARMENT, _CAMERA, _SHEETS, _EXPOSURE, _TOP, _PROJECTOR, _HELD = range(10, 17)
_ROOM_LIGHT = 1.0
_WRINKLE_STEP_IN = 0.02
_WEIGHT_IN = (0.8, 1.1)  # radii of the weights
_OVER_EDGE = (0.1, 0.75)  # of its radius: where a weight's middle lies inside the edge
_APART_IN = 7.0
_LEAST_STEEP_DEG = 58.0  # who traces holds the camera over the garment

# round the table's middle, which is left to the garment
SPOTS: Final = ((-24, 11, 0), (24, -11, 90), (-24, -11, -90), (24, 11, 180))


@dataclass(frozen=True, slots=True, kw_only=True)
class Fabric:
    """How a cloth looks: `cover` is how much of the table it hides, `print_tone` the colour of its spots.

    `creases` is the root mean square of the light's change over its folds, of the light itself.
    """

    tone: Tone
    cover: float = 1.0
    print_tone: Tone | None = None
    creases: float = 0.03


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """How the table looks: `grain` is the wood's root mean square contrast, `seams_in` between its planks.

    `grid_in` is how far apart light lines lie both ways, as on a cutting mat; 0 for none.
    """

    tone: Tone = (0.42, 0.29, 0.18)
    grain: float = 0.08
    seams_in: float = 5.5
    grid_in: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Shadow:
    """The soft shadow beside a garment: it takes `depth` of the light, `width_in` wide, thrown `towards_deg`."""

    depth: float = 0.0
    width_in: float = 0.15
    towards_deg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """A round tin on the cloth: its middle in table inches."""

    at_in: tuple[float, float]
    radius_in: float
    tone: Tone


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LaidGarment:
    """A garment as it lies: `outline_in` (n, 2) closed, in table inches; the last point is not repeated."""

    outline_in: TableInches
    fabric: Fabric
    shadow: Shadow = Shadow()
    weights: tuple[Weight, ...] = ()


FABRICS: Final[Mapping[str, Fabric]] = MappingProxyType(
    {
        "light": Fabric(tone=(0.80, 0.77, 0.70)),
        "dark": Fabric(tone=(0.035, 0.04, 0.07)),
        "printed": Fabric(tone=(0.62, 0.58, 0.55), print_tone=(0.10, 0.16, 0.38)),
        "sheer": Fabric(tone=(0.88, 0.88, 0.90), cover=0.3, creases=0.02),
    }
)


def garment_table(
    seed: int, camera: CameraKind = "phone", sheets: int = 4, faults: Faults | None = None
) -> PracticeTable:
    """A table in daylight with up to four sheets near its corners; no projector shines. Seeded."""
    faults = faults or Faults.none()
    poses = tuple(Pose(x_in=x, y_in=y, turn_deg=turn) for x, y, turn in SPOTS[:sheets])
    laid = scene.laid_sheets(_rng(seed, _SHEETS), poses, faults)
    exposure = replace(
        scene.drawn_exposure(_rng(seed, _EXPOSURE), camera), ambient=_ROOM_LIGHT, floor=0.12, weave=0.02
    )
    return PracticeTable(
        projector=scene.drawn_projector(_rng(seed, _PROJECTOR), (1920, 1080), faults),
        camera=_held_high(scene.drawn_camera(_rng(seed, _CAMERA), camera, faults), _rng(seed, _HELD)),
        top=scene.drawn_top(_rng(seed, _TOP), (64.0, 40.0), faults),
        sheets=laid,
        exposure=exposure,
        frame_in_room=laid[0].pose,
    )


def _held_high(camera: Eye, rng: np.random.Generator) -> Eye:
    """The camera where it sees the whole table from well above."""
    while True:
        held = scene.aimed_camera(rng, camera)
        if held.axes[2][2] < -np.sin(np.radians(_LEAST_STEEP_DEG)):
            return held


def in_the_middle(outline_in: Array, table: PracticeTable, seed: int) -> TableInches:
    """The outline (n, 2) at home in inches of its own, laid at the table's middle, longest side across."""
    rng = _rng(seed, _GARMENT)
    middle = (outline_in.max(axis=0) + outline_in.min(axis=0)) / 2
    turn = (90.0 if np.ptp(outline_in[:, 1]) > np.ptp(outline_in[:, 0]) else 0.0) + rng.uniform(-8.0, 8.0)
    pose = Pose(x_in=rng.uniform(-1, 1), y_in=rng.uniform(-1, 1), turn_deg=turn + 180.0 * rng.integers(2))
    return TableInches(table.frame_in_room.inward(pose.outward(outline_in - middle)))


def wrinkled(outline_in: TableInches, seed: int, swing_in: float = 0.02) -> TableInches:
    """The outline with an edge that wavers by `swing_in` (root mean square) in waves of 1 to 4 in."""
    rng = _rng(seed, _GARMENT + 100)
    points = _dense(outline_in)
    along = np.arange(len(points)) * _WRINKLE_STEP_IN
    round_in = along[-1] + _WRINKLE_STEP_IN
    waves = [
        np.sin(2 * np.pi * round(round_in / rng.uniform(1, 4)) * along / round_in + rng.uniform(0, 6.3))
        for _ in range(6)
    ]
    way = np.roll(points, -1, axis=0) - np.roll(points, 1, axis=0)
    normals = np.column_stack([-way[:, 1], way[:, 0]]) / np.linalg.norm(way, axis=1, keepdims=True)
    return TableInches(points + normals * (swing_in * np.sqrt(2 / 6) * sum(waves))[:, None])


def weights_on(outline_in: TableInches, seed: int, count: int = 2) -> tuple[Weight, ...]:
    """Round weights that lie partly over the edge, away from the outline's sharp corners and from each other."""
    rng = _rng(seed, _GARMENT + 200)
    points = _dense(outline_in)
    way = np.roll(points, -1, axis=0) - points
    reach = round(1.6 / _WRINKLE_STEP_IN)
    bearing = np.arctan2(way[:, 1], way[:, 0])
    turn = np.abs((np.roll(bearing, -reach) - np.roll(bearing, reach) + np.pi) % (2 * np.pi) - np.pi)
    free = np.flatnonzero(turn < np.radians(18))
    inward = np.sign(_area(points)) * np.column_stack([-way[:, 1], way[:, 0]])
    inward /= np.linalg.norm(inward, axis=1, keepdims=True)
    laid: list[Weight] = []
    for at in rng.permutation(free).tolist():
        radius = rng.uniform(*_WEIGHT_IN)
        x, y = points[at] + inward[at] * radius * rng.uniform(*_OVER_EDGE)
        if all(np.hypot(x - one.at_in[0], y - one.at_in[1]) > _APART_IN for one in laid):
            level = rng.choice([0.06, 0.3])
            laid.append(
                Weight(at_in=(float(x), float(y)), radius_in=radius, tone=(level, level, 1.05 * level))
            )
        if len(laid) == count:
            break
    return tuple(laid)


def _dense(outline_in: Array) -> Array:
    """The closed outline with points `_WRINKLE_STEP_IN` apart, its own left out."""
    ring = np.concatenate([outline_in, outline_in[:1]])
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(ring, axis=0), axis=1))])
    at = np.arange(0, along[-1], _WRINKLE_STEP_IN)
    return np.column_stack([np.interp(at, along, ring[:, axis]) for axis in range(2)])


def _area(points: Array) -> float:
    x, y = points.T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2


def _rng(seed: int, stream: int) -> np.random.Generator:
    return np.random.default_rng((seed, stream))
