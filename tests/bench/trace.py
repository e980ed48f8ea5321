"""`python -m tests.bench trace`: how true a traced garment is, by cloth and camera, beside a plain threshold."""

import resource
import sys
from dataclasses import dataclass, field
from time import perf_counter, process_time
from typing import Final

import cv2
import numpy as np
import shapely

from calibration.errors import AlignmentError
from calibration.frames import Array, TableInches
from calibration.practice_scene import CameraKind
from calibration.practice_table import Faults
from calibration.silhouette import Silhouette, find_silhouette
from patterns.errors import PatternError
from patterns.outline import half_piece
from tests.bench.row import Row
from tests.whole.garment_scenes import KINDS, MM_PER_IN, PAPER, Kind, Seen, corners_off_mm, named_right, seen

PHOTOS_A_KIND: Final = 2
GOALS_MM: Final = {"phone": (0.4, 1.5), "webcam": (0.8, 2.5)}
CORNER_MM: Final = 2.0
_PLAIN_PER_IN: Final = 40.0
_PLAIN_ROOM_IN: Final = 1.5


@dataclass
class _Tally:
    """What came out of some photos."""

    means: list[float] = field(default_factory=list)
    p95s: list[float] = field(default_factory=list)
    corners: list[float] = field(default_factory=list)
    named: list[bool] = field(default_factory=list)
    unsure: int = 0
    claims: list[float] = field(default_factory=list)
    plain: list[float] = field(default_factory=list)
    seconds: list[float] = field(default_factory=list)
    cpu: list[float] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)

    def add(self, one: Seen, sheets: int) -> None:
        """Trace one photo and judge it."""
        began, began_cpu = perf_counter(), process_time()
        try:
            found = find_silhouette(one.photo, PAPER, sheets)
        except AlignmentError as error:
            self.refused.append(f"seed {one.seed}: {str(error).split(';')[0]}")
            return
        self.seconds.append(perf_counter() - began)
        self.cpu.append(process_time() - began_cpu)
        off = one.off_mm(found.contour_in)
        self.means.append(float(off.mean()))
        self.p95s.append(float(np.quantile(off, 0.95)))
        self.claims.append(found.error_in * MM_PER_IN)
        self.plain.append(_plain_mm(one, found))
        try:
            traced = half_piece(found.contour_in, noise_in=found.noise_in)
        except PatternError as error:
            self.refused.append(f"seed {one.seed}, piece: {str(error).split(';')[0]}")
            return
        self.unsure += bool(traced.unsure)
        self.corners.extend(corners_off_mm(one, traced).tolist())
        if not traced.unsure:
            self.named.append(named_right(one, traced))

    def row(self, what: str) -> Row:
        """Mean and 95th percentile of the edge, worst photo of each."""
        value = f"{np.mean(self.means):.3f} {max(self.p95s):.2f} mm" if self.means else "refused"
        plain = f"{np.median(self.plain):.2f}" if self.plain else "-"
        corners = f"{np.quantile(self.corners, 0.95):.1f}" if self.corners else "-"
        beside = (
            f"worst mean {max(self.means, default=np.nan):.2f}, corners p95 {corners}, names {sum(self.named)}/"
            f"{len(self.named)}, asked {self.unsure}, refused {len(self.refused)}, threshold {plain} mm"
        )
        return what, value, beside


def _plain_mm(one: Seen, found: Silhouette) -> float:
    """Mean error of Otsu's threshold (1979) with `cv2.findContours`, given our flat photo cut out round the garment.

    Of its contours of about the garment's area the best counts; infinite where there is none.
    """
    low = one.laid.outline_in.min(axis=0) - _PLAIN_ROOM_IN
    width, height = np.ceil((np.ptp(one.laid.outline_in, axis=0) + 2 * _PLAIN_ROOM_IN) * _PLAIN_PER_IN)
    u, v = np.meshgrid(np.arange(width), np.arange(height))
    places = low + np.stack([u.ravel(), v.ravel()], axis=1) / _PLAIN_PER_IN
    at = found.camera.camera_from_table(places).astype(np.float32).reshape(*u.shape, 2)
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


def tracing(photos: int = PHOTOS_A_KIND, cameras: tuple[CameraKind, ...] = ("phone", "webcam")) -> list[Row]:
    """Edge of a folded garment by photo, 4 sheets on a flat table: mean, and p95 of the worst photo"""
    rows: list[Row] = []
    for camera in cameras:
        whole = _Tally()
        for k, (what, kind) in enumerate(KINDS.items()):
            tally = _Tally()
            for n in range(photos):
                tally.add(seen(100 + 10 * n + k, camera, kind), 4)
            rows.append(tally.row(f"{camera}: {what}"))
            print("  {:38} {:>18}   {}".format(*rows[-1]), *tally.refused, file=sys.stderr, flush=True)
            for name in ("means", "p95s", "corners", "named", "claims", "plain", "seconds", "cpu", "refused"):
                getattr(whole, name).extend(getattr(tally, name))
            whole.unsure += tally.unsure
        rows.append(whole.row(f"{camera}: all"))
        mean, p95 = GOALS_MM[camera]
        good = sum(m < mean and p < p95 for m, p in zip(whole.means, whole.p95s, strict=True))
        true = sum(c >= m for c, m in zip(whole.claims, whole.means, strict=True))
        near = sum(c < CORNER_MM for c in whole.corners)
        rows.append(
            (
                f"{camera}: within {mean} and {p95} mm",
                f"{good} of {len(whole.means)}",
                f"corners within 2 mm {near} of {len(whole.corners)}; mean error under the claim in {true}",
            )
        )
        rows.append(
            (
                f"{camera}: time",
                f"{np.median(whole.seconds):.1f} s",
                f"CPU {np.median(whole.cpu):.1f} s; peak memory of this process "
                f"{resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 2**20:.2f} GB, simulation and all",
            )
        )
        rows.extend((f"{camera}: refused", "", reason) for reason in whole.refused)
    return rows


def fewer_sheets() -> list[Row]:
    """Light cloth by phone with 1 to 4 sheets; then with bow of 1/32 in, curl and print jitter: mean, claim"""
    rows = []
    for what, faults in (("flat", Faults.none()), ("bow, curl, jitter", Faults.usual())):
        for sheets in (1, 2, 3, 4):
            one = seen(7, "phone", Kind(fabric="light"), sheets, faults)
            found = find_silhouette(one.photo, PAPER, sheets)
            off = one.off_mm(_laid_best(found.contour_in, one.laid.outline_in))
            claim = found.error_in * MM_PER_IN
            rows.append((f"{what}, sheets: {sheets}", f"{off.mean():.2f} mm", f"claimed {claim:.2f} mm"))
    return rows


def _laid_best(contour_in: TableInches, truth_in: TableInches) -> Array:
    """The contour moved and turned on to the true one: where sheet 1's frame lies cuts no piece wrong."""
    ring = shapely.LinearRing(truth_in)
    moved: Array = np.array(contour_in)
    for _ in range(10):
        near = shapely.get_coordinates(
            shapely.line_interpolate_point(ring, shapely.line_locate_point(ring, shapely.points(moved)))
        )
        a, b = moved - moved.mean(axis=0), near - near.mean(axis=0)
        left, _, right = np.linalg.svd(a.T @ b)
        moved = a @ left @ right + near.mean(axis=0)
    return moved
