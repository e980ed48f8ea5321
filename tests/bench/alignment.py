"""Bench rows of the alignment: error over the table, beside a plain chain of two homographies by OpenCV."""

from time import perf_counter

import cv2
import numpy as np

from calibration.frames import Array, Points, ScreenPixels, as_points
from calibration.photos.sightings import PhotoSighting
from calibration.practice.table import Faults, PracticeTable, ScreenFromTable
from calibration.projector_map import project
from calibration.solving.proof import prove
from calibration.solving.solve import solve
from tests.bench.row import Row
from tests.unit.calibration.corners import SCREEN_PX, seen, table

SCENES = 10
TAPED = ((2, 4), (3, 5))


class HomographyChain:
    """Sheet 1 to photo, photo to screen: `cv2.findHomography` twice, no bow, one sheet."""

    def __init__(self, photo: PhotoSighting) -> None:
        first = photo.sheets[0]
        to_photo, _ = cv2.findHomography(first.sheet_in, first.camera_px, cv2.RANSAC, 3.0)
        to_screen, _ = cv2.findHomography(photo.targets.camera_px, photo.targets.screen_px, cv2.RANSAC, 3.0)
        self._matrix = np.asarray(to_screen @ to_photo, dtype=np.float64)

    def screen_from_table(self, points: Points) -> ScreenPixels:
        return ScreenPixels(project(self._matrix, as_points(points)))


def alignment() -> list[Row]:
    """Alignment from the corners of one photo, 5 loose sheets, 10 scenes: RMS inches over the 60 x 36 in table"""
    rows = []
    for what, faults, taped in (
        ("flat table", Faults.none(), ()),
        ("bow 1/32, curl, jitter; two tapes", Faults.usual(), TAPED),
    ):
        ours, chains, claims, seconds = [], [], 0, []
        for seed in range(SCENES):
            on = table(seed, faults=faults)
            photo = seen(on, seed)
            began = perf_counter()
            fit = solve(
                [photo],
                screen_px=SCREEN_PX,
                printed_scale=1.0,
                tapes={pair: on.tape(*pair, 1 / 32) for pair in taped},
            )
            seconds.append(perf_counter() - began)
            proof = prove(fit)
            errors = _errors(on, proof.map)
            ours.append(_rms(errors))
            claims += float(np.quantile(errors, 0.95)) <= proof.p95_in
            chains.append(_rms(_errors(on, HomographyChain(photo))))
        mine, chain = float(np.median(ours)), float(np.median(chains))
        rows.append((what, f"{mine:.4f} in", f"homography chain {chain:.3f} in, ratio {mine / chain:.4f}"))
        rows.append((f"{what}: worst scene", f"{max(ours):.4f} in", f"claim true in {claims} of {SCENES}"))
        rows.append((f"{what}: solve", f"{np.median(seconds):.2f} s", f"{SCENES} scenes, {len(taped)} tapes"))
    return rows


def _errors(on: PracticeTable, found: ScreenFromTable) -> Array:
    strays = on.light_errors_in(found)
    return np.hypot(strays[:, 0], strays[:, 1])


def _rms(errors: Array) -> float:
    return float(np.sqrt((errors**2).mean()))
