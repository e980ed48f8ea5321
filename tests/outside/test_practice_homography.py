"""Without lens bow the practice table is seen and lit by a homography, as two other libraries find it.

Hartley and Zisserman, Multiple View Geometry in Computer Vision, 2nd edition, section 8.1.1: the image of a
plane under a pinhole camera is a homography of it.
"""

from collections.abc import Callable
from dataclasses import replace

import cv2
import numpy as np
import pytest
from skimage.transform import ProjectiveTransform

from calibration.frames import Array
from calibration.practice.table import PracticeTable

SEEDS = range(5)


def _unbowed(seed: int) -> PracticeTable:
    table = PracticeTable.random(seed)
    return replace(
        table,
        projector=replace(table.projector, bow=(0.0, 0.0)),
        camera=replace(table.camera, bow=(0.0, 0.0)),
    )


def _estimated(points: Array, pixels: Array) -> Callable[[Array], Array]:
    found: Callable[[Array], Array] = ProjectiveTransform.from_estimate(points, pixels)  # type: ignore[no-untyped-call]
    return found


@pytest.mark.parametrize("seed", SEEDS)
def test_opencv_finds_the_projectors_homography(seed: int) -> None:
    table = _unbowed(seed)
    grid = table.grid(4.0)
    pixels = table.true_screen_from_table(grid)

    found, _ = cv2.findHomography(grid[::3], pixels[::3], 0)

    mapped = np.asarray(cv2.perspectiveTransform(grid.reshape(-1, 1, 2), found)).reshape(-1, 2)
    assert mapped == pytest.approx(pixels, abs=1e-4)


@pytest.mark.parametrize("seed", SEEDS)
def test_scikit_image_finds_the_cameras_homography(seed: int) -> None:
    table = _unbowed(seed)
    grid = table.grid(4.0)
    pixels = table.camera_from_table(grid)

    found = _estimated(grid[::3], pixels[::3])

    assert found(grid) == pytest.approx(pixels, abs=1e-4)


def test_a_bowed_lens_is_no_homography() -> None:
    table = PracticeTable.random(1)
    grid = table.grid(4.0)
    pixels = table.true_screen_from_table(grid)

    found = _estimated(grid, pixels)

    assert np.abs(found(grid) - pixels).max() > 0.3
