"""Corners of a practice table without a photo: as its truth has them, plus seeded noise and wild ones."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from calibration.frames import Array, CameraPixels, ScreenPixels
from calibration.photos.sightings import PhotoSighting, SheetSighting, TargetSighting
from calibration.practice.table import Faults, PracticeTable
from calibration.sheets.sheet import PAPERS, Sheet
from calibration.sheets.targets import Targets

SCREEN_PX = (1920, 1080)
NOISE_PX = 0.015


def table(seed: int, sheets: int = 5, faults: Faults | None = None) -> PracticeTable:
    targets = Targets(screen_px=SCREEN_PX, sheets=sheets, paper=PAPERS["letter"])
    return PracticeTable.random(seed, sheets=sheets, faults=faults, windows=targets.windows)


def seen(
    on: PracticeTable, seed: int, wild: float = 0.0, every: int = 1, numbers: Sequence[int] | None = None
) -> PhotoSighting:
    """A photo's sightings; `wild` is the share of corners thrown off by pixels."""
    rng = np.random.default_rng((seed, 77))
    sheets = []
    for laid in on.sheets:
        if numbers is not None and laid.number not in numbers:
            continue
        drawn = Sheet(paper=PAPERS["letter"], number=laid.number).corners_in
        camera = on.camera_from_sheet(laid.number, drawn)
        sheets.append(
            SheetSighting(
                sheet=laid.number, sheet_in=drawn, camera_px=_noisy(camera, rng, wild), sigma_px=NOISE_PX
            )
        )
    corners = Targets(screen_px=SCREEN_PX, sheets=len(on.sheets), paper=PAPERS["letter"]).corners_px[::every]
    camera = _noisy(on.camera_from_screen(corners), rng, wild)
    targets = TargetSighting(screen_px=ScreenPixels(corners), camera_px=camera, sigma_px=NOISE_PX)
    return PhotoSighting(photo_px=on.camera.size_px, sheets=tuple(sheets), targets=targets)


def mirrored(photo: PhotoSighting) -> PhotoSighting:
    """The same corners in a photo that was turned over."""

    def over(camera: CameraPixels) -> CameraPixels:
        return CameraPixels(np.array((photo.photo_px[0] - 1, 0)) + camera * (-1, 1))

    return replace(
        photo,
        sheets=tuple(replace(sheet, camera_px=over(sheet.camera_px)) for sheet in photo.sheets),
        targets=replace(photo.targets, camera_px=over(photo.targets.camera_px)),
    )


def _noisy(camera: Array, rng: np.random.Generator, wild: float) -> CameraPixels:
    moved = camera + rng.normal(0, NOISE_PX, camera.shape)
    thrown = rng.random(len(moved)) < wild
    moved[thrown] += rng.normal(0, 5, (int(thrown.sum()), 2))
    return CameraPixels(moved)
