"""`python -m tests.bench trace`: how true a traced garment is, by cloth and camera, beside a plain threshold."""

import multiprocessing
import os
import sys
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from typing import Final, TypeVar

import cv2
import numpy as np
import shapely

from calibration.errors import AlignmentError
from calibration.frames import Array, TableInches
from calibration.garment.silhouette import find_silhouette
from calibration.practice.scene import CameraKind
from calibration.practice.table import Faults
from patterns.errors import PatternError
from patterns.tracing.outline import half_piece
from tests.bench.row import Row
from tests.whole.garment_scenes import KINDS, MM_PER_IN, PAPER, Kind, Seen, corners_off_mm, named_right, seen

PHOTOS_A_KIND: Final = 2
SHEETS: Final = 4
CAMERAS: Final[tuple[CameraKind, ...]] = ("phone", "webcam")
GOALS_MM: Final = {"phone": (0.4, 1.5), "webcam": (0.8, 2.5)}
CORNER_MM: Final = 2.0
FEW_PHOTOS: Final = 4
_PLAIN_PER_IN: Final = 30.0
_PLAIN_ROOM_IN: Final = 1.5
_Scene = TypeVar("_Scene")
_Seen = TypeVar("_Seen")


@dataclass(frozen=True, kw_only=True)
class Scene:
    """What a photo is made of."""

    camera: CameraKind
    what: str
    seed: int


@dataclass(frozen=True, kw_only=True)
class Traced:
    """What came out of a photo: errors in millimetres, or why it was refused.

    `plain` is the mean error of a plain threshold, infinite where that finds nothing of the garment's size.
    """

    scene: Scene
    plain: float
    refused: str = ""
    mean: float = np.nan
    p95: float = np.nan
    claim: float = np.nan
    corners: tuple[float, ...] = ()
    named: bool | None = None


def tracing() -> list[Row]:
    """Edge of a folded garment by photo, 4 sheets, a table of planks: mean, and 95th percentile of the worst photo"""
    scenes = [
        Scene(camera=camera, what=what, seed=100 + 10 * n + k)
        for camera in CAMERAS
        for k, what in enumerate(KINDS)
        for n in range(PHOTOS_A_KIND)
    ]
    outcomes = _beside(traced, scenes)
    rows: list[Row] = []
    for camera in CAMERAS:
        own = [one for one in outcomes if one.scene.camera == camera]
        rows.extend(
            _row(f"{camera}: {what}", [one for one in own if one.scene.what == what]) for what in KINDS
        )
        rows.append(_row(f"{camera}: all", own))
        rows.extend(_verdicts(camera, own))
    return rows


def traced(scene: Scene) -> Traced:
    """Trace one photo, and judge it by the truth."""
    one = seen(scene.seed, scene.camera, KINDS[scene.what], SHEETS)
    plain = _plain_mm(one)
    try:
        found = find_silhouette(one.photo, PAPER, SHEETS)
        hidden = np.array([(bridge.start_in, bridge.end_in) for bridge in found.bridges])
        piece = half_piece(found.contour_in, noise_in=found.noise_in, hidden_in=hidden)
    except (AlignmentError, PatternError) as error:
        return Traced(scene=scene, plain=plain, refused=str(error))
    off = one.off_mm(found.contour_in)
    return Traced(
        scene=scene,
        plain=plain,
        mean=float(off.mean()),
        p95=float(np.quantile(off, 0.95)),
        claim=found.error_in * MM_PER_IN,
        corners=tuple(corners_off_mm(one, piece).tolist()),
        named=None if piece.unsure else named_right(one, piece),
    )


def _beside(work: Callable[[_Scene], _Seen], scenes: Iterable[_Scene]) -> list[_Seen]:
    """The work done on every scene, in order, by a process a core."""
    spawned = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(os.cpu_count(), spawned, cv2.setNumThreads, (1,)) as pool:
        done = []
        for one in pool.map(work, scenes):
            done.append(one)
            print(f"  {one}", file=sys.stderr, flush=True)
        return done


def _row(what: str, outcomes: Sequence[Traced]) -> Row:
    done = [one for one in outcomes if not one.refused]
    refused = f"refused {len(outcomes) - len(done)}"
    if not done:
        return what, "refused", refused
    corners = [corner for one in done for corner in one.corners]
    named = [one.named for one in done]
    mean = float(np.mean([one.mean for one in done]))
    plain, ratio = np.median([(one.plain, one.plain / one.mean) for one in done], axis=0)
    return (
        what,
        f"{mean:.3f} {max(one.p95 for one in done):.2f} mm",
        f"corners p95 {np.quantile(corners, 0.95):.1f}, names {named.count(True)}/{len(named)} (asked "
        f"{named.count(None)}), {refused}, threshold {plain:.2f} mm: {ratio:.0f} times",
    )


def _verdicts(camera: CameraKind, outcomes: Sequence[Traced]) -> list[Row]:
    """The goals, and whether the error told was true."""
    done = [one for one in outcomes if not one.refused]
    mean, p95 = GOALS_MM[camera]
    good = sum(one.mean < mean and one.p95 < p95 for one in done)
    corners = [corner < CORNER_MM for one in done for corner in one.corners]
    shares = [one.mean / one.claim for one in done]
    wrong = [one.scene.seed for one in done if one.named is False]
    return [
        (
            f"{camera}: under {mean} and {p95} mm",
            f"{good} of {len(outcomes)}",
            f"corners within {CORNER_MM:.0f} mm {sum(corners)} of {len(corners)} ({np.mean(corners):.0%}); "
            f"names wrong: {wrong or 'none'}",
        ),
        (
            f"{camera}: error told was true",
            f"{sum(share <= 1 for share in shares)} of {len(shares)}",
            f"true over told: median {np.median(shares):.2f}, worst {max(shares):.2f}",
        ),
        *((f"{camera}: refused", f"seed {one.scene.seed}", one.refused) for one in outcomes if one.refused),
    ]


def _plain_mm(one: Seen) -> float:
    """Mean error of Otsu's threshold (1979) with `cv2.findContours`, given the true camera and where to look.

    Of its contours of about the garment's area the best counts.
    """
    low = one.laid.outline_in.min(axis=0) - _PLAIN_ROOM_IN
    width, height = np.ceil((np.ptp(one.laid.outline_in, axis=0) + 2 * _PLAIN_ROOM_IN) * _PLAIN_PER_IN)
    u, v = np.meshgrid(np.arange(width), np.arange(height))
    places = low + np.stack([u.ravel(), v.ravel()], axis=1) / _PLAIN_PER_IN
    at = one.table.camera_from_table(TableInches(places)).astype(np.float32).reshape(*u.shape, 2)
    grey = cv2.cvtColor(cv2.remap(one.photo, at[..., 0], at[..., 1], cv2.INTER_LINEAR), cv2.COLOR_RGB2GRAY)
    _, high = cv2.threshold(grey, 0, 255, cv2.THRESH_BINARY + cv2.THRESH_OTSU)
    best = np.inf
    for mask in (high, 255 - high):
        contours, _ = cv2.findContours(mask, cv2.RETR_LIST, cv2.CHAIN_APPROX_NONE)
        for contour in contours:
            points = low + contour.reshape(-1, 2) / _PLAIN_PER_IN
            if 0.7 < _area_in2(points) / _area_in2(one.laid.outline_in) < 1.4:
                best = min(best, float(one.off_mm(points).mean()))
    return best


def _area_in2(points_in: Array) -> float:
    x, y = points_in.T
    return abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2


@dataclass(frozen=True, kw_only=True)
class Few:
    """A photo with few sheets, of a table that is flat or has its usual faults."""

    sheets: int
    flat: bool
    seed: int


def fewer_sheets() -> list[Row]:
    """Light cloth by webcam with 1 to 3 sheets, flat, then with bow of 1/32 in, curl and print jitter: mean"""
    scenes = [
        Few(sheets=sheets, flat=flat, seed=300 + n)
        for flat in (True, False)
        for sheets in (1, 2, 3)
        for n in range(FEW_PHOTOS)
    ]
    outcomes = dict(zip(scenes, _beside(traced_by_few, scenes), strict=True))
    rows = []
    for flat in (True, False):
        for sheets in (1, 2, 3):
            own = np.array([outcomes[one] for one in scenes if (one.flat, one.sheets) == (flat, sheets)])
            true, told = own.T
            rows.append(
                (
                    f"{'flat' if flat else 'bow, curl, jitter'}, sheets: {sheets}",
                    f"{true.mean():.2f} mm",
                    f"told {told.mean():.2f} mm, true in {(true <= told).sum()} of {len(own)}, worst "
                    f"{(true / told).max():.2f}",
                )
            )
    every = np.array(list(outcomes.values()))
    rows.append(
        ("all of them: error told was true", f"{(every[:, 0] <= every[:, 1]).sum()} of {len(every)}", "")
    )
    return rows


def traced_by_few(few: Few) -> tuple[float, float]:
    """Mean error in millimetres of a contour laid on the true one as well as can be, and that told."""
    faults = Faults.none() if few.flat else Faults.usual()
    one = seen(few.seed, "webcam", Kind(fabric="light"), few.sheets, faults)
    found = find_silhouette(one.photo, PAPER, few.sheets)
    return float(
        one.off_mm(laid_best(found.contour_in, one.laid.outline_in)).mean()
    ), found.error_in * MM_PER_IN


def laid_best(contour_in: TableInches, truth_in: TableInches) -> Array:
    """The contour moved and turned on to the true one: where sheet 1's frame lies cuts no piece wrong."""
    ring = shapely.LinearRing(truth_in)
    moved: Array = np.array(contour_in)[::4]
    for _ in range(10):
        near = shapely.get_coordinates(
            shapely.line_interpolate_point(ring, shapely.line_locate_point(ring, shapely.points(moved)))
        )
        a, b = moved - moved.mean(axis=0), near - near.mean(axis=0)
        left, _, right = np.linalg.svd(a.T @ b)
        moved = a @ left @ right + near.mean(axis=0)
    return moved
