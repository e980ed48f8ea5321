"""Which frames agree, and what their average is worth."""

import numpy as np
import pytest

from calibration.cameras.steady import SteadyFrames
from calibration.frames import Array, CameraPixels
from calibration.photos.photo import sight
from calibration.photos.sightings import PhotoSighting
from tests.unit.calibration.recorded import PAPER, SHEETS, developed, light, moved, table, targets

MANY = 12


@pytest.fixture(scope="module")
def marks_px() -> CameraPixels:
    return table().camera_from_screen(targets().corners_px)


@pytest.fixture(scope="module")
def begun(marks_px: CameraPixels) -> SteadyFrames:
    return SteadyFrames.begun(developed(light(), 1), marks_px)


@pytest.mark.parametrize("exposure", [1.0, 1.05, 0.97])
def test_frames_of_a_still_camera_agree(begun: SteadyFrames, exposure: float) -> None:
    assert begun.agrees(developed(exposure * light(), 2))


def test_so_do_noisy_ones(marks_px: CameraPixels) -> None:
    first, second = (developed(0.3 * light(), seed, shot_noise=0.04, read_noise=0.006) for seed in (1, 2))
    assert SteadyFrames.begun(first, marks_px).agrees(second)


@pytest.mark.parametrize("right_px", [0.3, 1.0, 5.0, 60.0])
def test_a_camera_that_was_pushed_does_not_agree(begun: SteadyFrames, right_px: float) -> None:
    assert not begun.agrees(developed(moved(light(), right_px), 2))


def test_nor_does_a_hand_over_the_table(begun: SteadyFrames) -> None:
    hidden = light().copy()
    hidden[300:620, 500:800] = 0.15
    assert not begun.agrees(developed(hidden, 2))


def test_nor_does_another_exposure_or_another_size(begun: SteadyFrames) -> None:
    assert not begun.agrees(developed(1.4 * light(), 2))
    assert not begun.agrees(developed(light(), 2)[:1000])


def test_the_average_keeps_parts_of_a_grey_level(begun: SteadyFrames) -> None:
    second = developed(light(), 2)
    both = begun.with_frame(second)
    assert both.frames == 2
    np.testing.assert_allclose(both.mean, (begun.first.astype(float) + second) / 2)


def places(sighting: PhotoSighting) -> dict[tuple[float, ...], Array]:
    found: dict[tuple[float, ...], Array] = {}
    for sheet in sighting.sheets:
        drawn = np.round(sheet.sheet_in, 3).tolist()
        found.update({(sheet.sheet, *at): px for at, px in zip(drawn, sheet.camera_px, strict=True)})
    drawn = sighting.targets.screen_px.tolist()
    found.update({(0, *at): px for at, px in zip(drawn, sighting.targets.camera_px, strict=True)})
    return found


def spread_px(one: PhotoSighting, other: PhotoSighting) -> float:
    """Noise of one coordinate of one corner, from the median distance (Rayleigh: sigma root of 2 ln 2)."""
    first, second = places(one), places(other)
    apart = np.array([first[key] - second[key] for key in first.keys() & second.keys()])
    return float(np.median(np.hypot(*apart.T)) / np.sqrt(2 * np.log(2)) / np.sqrt(2))


def test_corners_in_the_average_have_the_noise_of_one_frame_over_the_root_of_their_number(
    marks_px: CameraPixels,
) -> None:
    sightings: dict[int, list[PhotoSighting]] = {1: [], MANY: []}
    for many, found in sightings.items():
        for start in (100, 200):
            frames = SteadyFrames.begun(developed(light(), start), marks_px)
            for seed in range(start + 1, start + many):
                frames = frames.with_frame(developed(light(), seed))
            found.append(sight(frames.mean, PAPER, SHEETS, targets()))
    ratio = spread_px(*sightings[MANY]) / spread_px(*sightings[1])
    assert ratio == pytest.approx(1 / np.sqrt(MANY), rel=0.2)
