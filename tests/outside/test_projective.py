"""The projector's map against other libraries, and the drawn line against the exactly mapped one.

Sources: scikit-image's `ProjectiveTransform` and OpenCV's `perspectiveTransform` (independent code for the
homography); OpenCV's `projectPoints`, whose radial terms are those of Brown (1971), for the bow of the lens.
"""

import cv2
import numpy as np
import pytest
from skimage.transform import ProjectiveTransform

from calibration.frames import Array
from calibration.lens import Lens
from calibration.projector_map import ProjectorMap
from patterns.cutting.marks import Line, LineKind
from projector.lighting.canvas import compose, tile, whole
from projector.lighting.light import chalk, chalk_light
from projector.lighting.lit_area import lit_area
from tests.unit.projector.samples import SCREEN_PX, a_map

GRID = np.stack(np.meshgrid(np.linspace(-30, 30, 13), np.linspace(-16, 16, 9)), axis=-1).reshape(-1, 2)


def straight(projector_map: ProjectorMap) -> ProjectorMap:
    lens = Lens(k1=0.0, k2=0.0, centre_px=(960.0, 540.0), unit_px=960.0)
    return ProjectorMap(
        screen_px=projector_map.screen_px,
        homography=projector_map.homography,
        lens=lens,
        covariance=projector_map.covariance,
    )


def test_the_homography_agrees_with_scikit_image_and_opencv() -> None:
    projector_map = straight(a_map())
    matrix = np.array(projector_map.homography)
    ours = projector_map.screen_from_table(GRID)
    theirs = ProjectiveTransform(matrix)  # type: ignore[no-untyped-call]
    assert ours == pytest.approx(theirs(GRID), abs=1e-9)
    assert ours == pytest.approx(cv2.perspectiveTransform(GRID[None], matrix)[0], abs=1e-6)
    assert projector_map.table_from_screen(ours) == pytest.approx(theirs.inverse(ours), abs=1e-9)


def test_the_bow_agrees_with_opencv() -> None:
    projector_map = a_map(k1=0.02)
    lens, unit = projector_map.lens, projector_map.lens.unit_px
    straight_px = straight(projector_map).screen_from_table(GRID)
    rays = np.column_stack([(straight_px - lens.centre_px) / unit, np.ones(len(GRID))])
    camera = np.array([[unit, 0, lens.centre_px[0]], [0, unit, lens.centre_px[1]], [0, 0, 1.0]])
    bent, _ = cv2.projectPoints(
        rays, np.zeros(3), np.zeros(3), camera, np.array([lens.k1, lens.k2, 0.0, 0.0])
    )
    assert projector_map.screen_from_table(GRID) == pytest.approx(bent.reshape(-1, 2), abs=1e-6)


def sections(light: Array, path_px: Array, reach: int = 5) -> Array:
    """Signed distances, in pixels, of the light's centre from the path at right angles to it."""
    step = np.gradient(path_px, axis=0)
    normal = np.column_stack([-step[:, 1], step[:, 0]]) / np.linalg.norm(step, axis=1)[:, None]
    offsets = np.arange(-reach, reach + 0.125, 0.25)
    at = path_px[:, None] + offsets[None, :, None] * normal[:, None]
    seen = cv2.remap(
        light.astype(np.float32),
        at[..., 0].astype(np.float32),
        at[..., 1].astype(np.float32),
        cv2.INTER_LINEAR,
    ).astype(np.float64)
    distances: Array = (seen * offsets).sum(axis=1) / seen.sum(axis=1)
    return distances


@pytest.mark.parametrize("kind", [LineKind.CUT, LineKind.GRAIN])
@pytest.mark.parametrize(
    "ends", [((-28.0, -12.0), (26.0, 14.0)), ((-20.0, 10.0), (20.0, 10.0)), ((3.0, -14.0), (2.0, 15.0))]
)
def test_the_drawn_line_lies_on_the_exactly_mapped_one(
    kind: LineKind, ends: tuple[tuple[float, float], tuple[float, float]]
) -> None:
    lit = lit_area(a_map(k1=0.02))
    line = Line(kind=kind, points=np.array(ends))
    light = compose([tile(chalk_light(chalk((line,), lit.span_in), lit), SCREEN_PX)], whole(SCREEN_PX))
    t = np.linspace(0.02, 0.98, 2000)[:, None]
    exact = lit.projector_map.screen_from_table(np.array(ends[0]) * (1 - t) + np.array(ends[1]) * t)
    distances = sections(light / 255.0, exact)
    assert np.abs(distances).mean() < 0.05
    assert np.abs(distances).max() < 0.25


def test_the_measure_of_the_drawn_line_can_fail() -> None:
    lit = lit_area(a_map(k1=0.02))
    line = Line(kind=LineKind.CUT, points=np.array([[-20.0, 10.0], [20.0, 10.0]]))
    light = compose([tile(chalk_light(chalk((line,), lit.span_in), lit), SCREEN_PX)], whole(SCREEN_PX))
    t = np.linspace(0.02, 0.98, 2000)[:, None]
    exact = lit.projector_map.screen_from_table(
        np.array([-20.0, 10.0]) * (1 - t) + np.array([20.0, 10.0]) * t
    )
    assert np.abs(sections(light / 255.0, exact + np.array([0.0, 0.2]))).mean() > 0.15
    chord = exact[0] + t * (exact[-1] - exact[0])
    assert np.abs(sections(light / 255.0, chord)).mean() > 0.5
