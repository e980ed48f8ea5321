"""Bench rows of the outline: half pieces from known contours and from photos, beside the garments as made."""

import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from time import process_time
from typing import Final

import cv2
import numpy as np
import shapely

from calibration.errors import AlignmentError
from calibration.garment.silhouette import find_silhouette
from calibration.practice.scene import CameraKind
from patterns.curves import Array
from patterns.errors import PatternError
from patterns.piece import closed_curves
from patterns.tracing.outline import TracedPiece, half_piece
from tests.bench.row import Row
from tests.unit.patterns.garments import EDGES, Garment, contour, garment, lying
from tests.whole.garment_scenes import KINDS, PAPER, Seen, corners_off_mm, named_right, seen

GARMENTS = 200
MM = 25.4
CAMERAS: Final[tuple[CameraKind, ...]] = ("phone", "webcam")
PHOTOS: Final = 20  # of each camera, all kinds of cloth in turn
NOISES = (
    ("clean", 0.0, 0.0),
    ("1/4 mm a point", 0.01, 0.0),
    ("1/4 mm in waves of 1/2 in", 0.0, 0.01),
)


@dataclass(frozen=True, kw_only=True, eq=False)
class Outcome:
    """How one garment was traced: distances in mm from the garment as made, corners (6,) in order."""

    named: bool
    corners_mm: Array
    mean_mm: float
    most_mm: float
    plain_mm: float
    points: int
    on_fold: bool
    seconds: float


def outline() -> list[Row]:
    """Half pieces from the contours of 200 varied garments, anywhere on the table, either face up"""
    rows = []
    for what, white_in, smooth_in in NOISES:
        found = list(_outcomes(white_in, smooth_in))
        corners = np.array([one.corners_mm for one in found])
        right = sum(one.named for one in found)
        plain = float(np.mean([one.plain_mm for one in found]))
        mean = float(np.mean([one.mean_mm for one in found]))
        points = [one.points for one in found]
        rows += [
            (f"{what}: names right", f"{right} of {GARMENTS}", f"{len(found)} traced, the rest refused"),
            (f"{what}: corners", f"{np.quantile(corners, 0.95):.2f} mm", _corner_words(corners)),
            (
                f"{what}: edge error, mean",
                f"{mean:.3f} mm",
                f"simplified contour of as many points {plain:.3f} mm, ratio {mean / plain:.2f}",
            ),
            (
                f"{what}: edge error, most",
                f"{max(one.most_mm for one in found):.2f} mm",
                "1/64 in is 0.40 mm",
            ),
            (f"{what}: points", f"{np.mean(points):.0f}", f"{max(points)} at most"),
            (
                f"{what}: time",
                f"{np.median([one.seconds for one in found]) * 1000:.0f} ms",
                f"fold at x = 0 exactly in {sum(one.on_fold for one in found)}",
            ),
        ]
    return rows


def photographed(photos: int = PHOTOS, first: int = 500) -> list[Row]:
    """Half pieces from photos, 4 sheets on a flat table, nothing told of fold or names"""
    rows = []
    for camera in CAMERAS:
        tally = _Photographed()
        for seed in range(first, first + photos):
            said = tally.add(seen(seed, camera, list(KINDS.values())[seed % len(KINDS)]))
            print(f"  {camera} {seed}: {said}", file=sys.stderr, flush=True)
        rows += tally.rows(camera)
    return rows


class _Photographed:
    """What became of some photos."""

    def __init__(self) -> None:
        self.ends: Counter[str] = Counter()
        self.corners_mm: list[float] = []
        self.points: list[int] = []
        self.strays_in: list[float] = []

    def add(self, one: Seen) -> str:
        """Trace one photo; what became of it."""
        end = self._end(one)
        self.ends[end.split(":")[0]] += 1
        return end

    def _end(self, one: Seen) -> str:
        try:
            found = find_silhouette(one.photo, PAPER, len(one.table.sheets))
        except AlignmentError as error:
            return f"refused: {error}"
        hidden = np.array([(bridge.start_in, bridge.end_in) for bridge in found.bridges])
        try:
            traced = half_piece(found.contour_in, noise_in=found.noise_in, hidden_in=hidden)
        except PatternError as error:
            return f"asked: {error}"
        if traced.unsure:
            return f"asked: {traced.unsure[0].edge}, {traced.unsure[0].why}"
        corners = corners_off_mm(one, traced)
        self.corners_mm += corners.tolist()
        self.points.append(sum(len(edge.path) - 1 for edge in traced.piece.edges))
        self.strays_in.append(traced.fold_straightness_in)
        return f"{'right' if named_right(one, traced) else 'wrong'}: corners off {corners.round(1)} mm"

    def rows(self, camera: CameraKind) -> list[Row]:
        """The rows of one camera."""
        told = self.ends["right"] + self.ends["wrong"]
        return [
            (
                f"{camera}: names right",
                f"{self.ends['right']} of {told}",
                f"wrong {self.ends['wrong']}, asked {self.ends['asked']} of {told + self.ends['asked']}, photo "
                f"refused {self.ends['refused']}",
            ),
            (
                f"{camera}: corners",
                f"{np.quantile(self.corners_mm, 0.95):.2f} mm",
                _corner_words(np.array(self.corners_mm)),
            ),
            (
                f"{camera}: points",
                f"{np.median(self.points):.0f}",
                f"{max(self.points)} at most; the fold straight by construction, its trace within "
                f"{max(self.strays_in):.3f} in",
            ),
        ]


def _corner_words(corners_mm: Array) -> str:
    within = float((corners_mm <= 2).mean())
    return f"95th of 100; within 2 mm {within:.1%}, most {corners_mm.max():.2f} mm"


def _outcomes(white_in: float, smooth_in: float) -> Iterator[Outcome]:
    for seed in range(GARMENTS):
        made = garment(seed)
        traced = contour(made, lying(seed), seed, white_in=white_in, smooth_in=smooth_in)
        began = process_time()
        try:
            found = half_piece(traced, noise_in=max(white_in, smooth_in))
        except PatternError:
            continue
        yield _outcome(made, found, lying(seed).lifted(traced), process_time() - began)


def _outcome(made: Garment, found: TracedPiece, traced: Array, seconds: float) -> Outcome:
    edges = found.piece.edges
    curves = closed_curves(edges)
    to_made = made.corners[1] * (0.0, 1.0)
    ring = np.concatenate([curve.points[:-1] for curve in curves]) + to_made
    corners = np.stack([curve.start for curve in curves]) + to_made
    points = sum(len(edge.path) - 1 for edge in edges)
    strays = _strays(ring, made.ring)
    return Outcome(
        named=[edge.name for edge in edges[:-1]] == list(EDGES)
        and float(np.hypot(*(corners - made.corners).T).max()) < 1,
        corners_mm=np.hypot(*(corners - made.corners).T) * MM,
        mean_mm=float(strays.mean()),
        most_mm=float(max(strays.max(), _strays(made.ring, ring).max())),
        plain_mm=float(_strays(_simplified(traced, points), made.ring).mean()),
        points=points,
        on_fold={point.x.exact_inches for point in edges[-1].path} == {0},
        seconds=seconds,
    )


def _strays(line: Array, ring: Array) -> Array:
    """(n,) mm from points all along `ring` to `line`, both closed."""
    closed = shapely.LinearRing(line)
    shapely.prepare(closed)
    dense = shapely.get_coordinates(shapely.segmentize(shapely.LinearRing(ring), 0.05))
    return np.asarray(shapely.distance(closed, shapely.points(dense)), dtype=np.float64) * MM


def _simplified(traced: Array, points: int) -> Array:
    """The contour as OpenCV's Douglas-Peucker polygon of at most so many corners: what a plain finder gives."""
    shape = traced.astype(np.float32)[:, None]
    low, high = 0.0, 2.0
    for _ in range(20):
        middle = (low + high) / 2
        low, high = (middle, high) if len(cv2.approxPolyDP(shape, middle, True)) > points else (low, middle)
    return np.asarray(cv2.approxPolyDP(shape, high, True)[:, 0], dtype=np.float64)
