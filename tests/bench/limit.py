"""Bench rows of the alignment's error beside the least that any estimator could have."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from calibration.frames import Array, CameraPixels
from calibration.photos.sightings import PhotoSighting
from calibration.practice.table import Faults, PracticeTable
from calibration.solving.proof import Proof, prove
from calibration.solving.solve import solve
from tests.bench.least_error import least_rms_in
from tests.bench.row import Row
from tests.unit.calibration.corners import NOISE_PX, SCREEN_PX, seen, table

SCENES = 60
PHOTOS = 4
FAULTY_SCENES = ((1, 100), (3, 50))  # photos of each, and scenes
TAPED = ((2, 4), (3, 5))
_WILD = 0.1
_WILD_PX = (1.0, 50.0)


def thrown(photo: PhotoSighting, seed: int) -> PhotoSighting:
    """The photo with a tenth of its corners 1 to 50 px off in any direction, each size of throw as likely."""
    rng = np.random.default_rng((seed, 99))

    def off(camera: CameraPixels) -> CameraPixels:
        least, most = _WILD_PX
        far = np.exp(rng.uniform(np.log(least), np.log(most), len(camera)))
        far *= rng.random(len(camera)) < _WILD
        way = rng.uniform(0, 2 * np.pi, len(camera))
        return CameraPixels(camera + far[:, None] * np.column_stack([np.cos(way), np.sin(way)]))

    return replace(
        photo,
        sheets=tuple(replace(sheet, camera_px=off(sheet.camera_px)) for sheet in photo.sheets),
        targets=replace(photo.targets, camera_px=off(photo.targets.camera_px)),
    )


def corners_of(photo: PhotoSighting) -> Array:
    """(n, 2) pixels of all corners, sheets before targets."""
    return np.concatenate([*(sheet.camera_px for sheet in photo.sheets), photo.targets.camera_px])


def beside_the_bound(seed: int, wild: bool, photos: int = 1) -> Array:
    """(photos, 2) RMS inches over the table of one flat scene, from each photo alone, and the bound's.

    The photos differ in their noise. With wild corners the bound is that of one who knows which they are.
    """
    on = table(seed)
    pairs = []
    for again in range(photos):
        photo = seen(on, seed + 1000 * again)
        clean = corners_of(photo)
        if wild:
            photo = thrown(photo, seed + 1000 * again)
        fit = solve([photo], screen_px=SCREEN_PX, printed_scale=1.0)
        tame = np.abs(corners_of(photo) - clean).max(axis=1) == 0
        pairs.append((rms(errors_in(on, prove(fit))), least_rms_in((on,), NOISE_PX, tame)))
    return np.array(pairs)


def errors_in(on: PracticeTable, proof: Proof) -> Array:
    """(n,) inches by which light misses its place, over the table."""
    errors: Array = np.linalg.norm(on.light_errors_in(proof.map), axis=1)
    return errors


def rms(errors: Array) -> float:
    """Root mean square."""
    return float(np.sqrt((errors**2).mean()))


def limit() -> list[Row]:
    """Error over the table beside the Cramér-Rao bound: flat scenes, one photo, 5 sheets, corners to 0.015 px"""
    rows = []
    for what, wild in (("corners with their noise", False), ("a tenth of them wild", True)):
        scenes = np.array([beside_the_bound(seed, wild, PHOTOS) for seed in range(SCENES)])
        # One photo's error scatters about what is expected of its scene, since few ways to err make most of it.
        rows.append(_row_of(f"{what}, one photo a scene", scenes[:, :1]))
        rows.append(_row_of(f"{what}, RMS of {PHOTOS} photos a scene", scenes))
    return rows


def _row_of(what: str, scenes: Array) -> Row:
    """Errors over their bounds; (n, photos, 2) errors and bounds, a row a scene."""
    errors, bounds = np.moveaxis(np.sqrt((scenes**2).mean(axis=1)), -1, 0)
    ratios = errors / bounds
    middle, most = np.quantile(ratios, [0.5, 0.9])
    beside = f"{most:.2f} in 90 %, {ratios.max():.2f} at worst of {len(scenes)}"
    return what, f"{middle:.2f} median", f"{beside}; {rms(errors) / rms(bounds):.2f} all together"


@dataclass(frozen=True, slots=True, kw_only=True)
class Faulty:
    """One scene with faults: RMS and 95th percentile of its error, and the claim; inches.

    `shape_rms_in` leaves out the shift and turn that sheet 1's own curl gives to all of the table alike: no
    photo shows them, and no piece is cut wrong by them.
    """

    rms_in: float
    shape_rms_in: float
    p95_in: float
    claimed_in: float


def faulty(seed: int, photos: int) -> Faulty:
    """A scene with bow, curl, jitter of the print and decentring, seen from `photos` places, two tapes."""
    on = table(seed, faults=Faults.usual())
    views = [on, *(on.another_view(further) for further in range(1, photos))]
    fit = solve(
        [seen(view, seed + 1000 * i) for i, view in enumerate(views)],
        screen_px=SCREEN_PX,
        printed_scale=1.0,
        tapes={pair: on.tape(*pair, 1 / 32) for pair in TAPED},
    )
    proof = prove(fit)
    errors = errors_in(on, proof)
    return Faulty(
        rms_in=rms(errors),
        shape_rms_in=rms(np.linalg.norm(on.shape_errors_in(proof.map), axis=1)),
        p95_in=float(np.quantile(errors, 0.95)),
        claimed_in=proof.p95_in,
    )


def _rows_of(found: Sequence[Faulty], photos: int) -> list[Row]:
    held = sum(one.p95_in <= one.claimed_in for one in found)
    times = float(np.median([one.claimed_in / one.p95_in for one in found]))
    errors = np.array([one.rms_in for one in found])
    shapes = np.array([one.shape_rms_in for one in found])
    name = "one photo" if photos == 1 else f"{photos} photos"
    return [
        (f"{name}: RMS error", f"{np.median(errors):.4f} in median", f"{rms(errors):.4f} together"),
        (f"{name}: of shape and size", f"{np.median(shapes):.4f} in median", f"{rms(shapes):.4f} together"),
        (f"{name}: claim", f"true in {held}", f"of {len(found)}; {times:.1f} times the error, median"),
    ]


def faults() -> list[Row]:
    """Bow 1/32 in, curl to 1/16 in, jitter of the print, decentring; 5 sheets, two tapes"""
    return [
        row
        for photos, scenes in FAULTY_SCENES
        for row in _rows_of([faulty(seed, photos) for seed in range(scenes)], photos)
    ]
