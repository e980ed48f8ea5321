"""A kept camera, held against OpenCV's camera model."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from calibration.cameras.kept import KeptCamera, rotation
from calibration.frames import Array, CameraPixels, TableInches
from calibration.lens import Lens

CAMERA = KeptCamera(
    photo_px=(1920, 1080),
    focal_px=1450.0,
    centre_px=(968.5, 533.0),
    lens=Lens(k1=-0.03, k2=0.012, centre_px=(941.0, 552.5), unit_px=960.0),
    turn=(2.6, -0.21, 0.3),
    at_in=(5.0, -31.0, 58.0),
)
ON_TABLE = TableInches(np.array([(x, y) for x in (-28.0, -5.5, 0.0, 24.0) for y in (-16.0, 1.0, 17.0)]))
NO_TURN = np.zeros(3)


def by_opencv(camera: KeptCamera, table_in: Array) -> Array:
    """The same by `cv2.projectPoints`: once for the pinhole, once for the bow about its own centre."""
    turned = np.asarray(cv2.Rodrigues(np.array(camera.turn))[0], dtype=np.float64)
    room = np.column_stack([table_in, np.zeros(len(table_in))])
    straight = projected(
        room, np.array(camera.turn), -turned @ camera.at_in, camera.focal_px, camera.centre_px
    )
    lens = camera.lens
    from_centre = np.column_stack([(straight - lens.centre_px) / lens.unit_px, np.ones(len(straight))])
    return projected(from_centre, NO_TURN, NO_TURN, lens.unit_px, lens.centre_px, (lens.k1, lens.k2))


def projected(
    points: Array,
    turn: Array,
    shift: Array,
    focal: float,
    centre: tuple[float, float],
    bow: tuple[float, float] = (0.0, 0.0),
) -> Array:
    matrix = np.array([[focal, 0, centre[0]], [0, focal, centre[1]], [0, 0, 1]])
    pixels, _ = cv2.projectPoints(points, turn, shift, matrix, np.array([*bow, 0.0, 0.0]))
    return np.asarray(pixels, dtype=np.float64).reshape(-1, 2)


def test_it_sees_the_table_as_opencv_does() -> None:
    np.testing.assert_allclose(CAMERA.photo_from_table(ON_TABLE), by_opencv(CAMERA, ON_TABLE), atol=1e-9)


def test_pixels_are_taken_back_as_opencv_unbends_them() -> None:
    """Rays of `cv2.undistortPoints`, met with the table."""
    one_centre = replace(CAMERA, lens=replace(CAMERA.lens, centre_px=CAMERA.centre_px))
    per_focal = CAMERA.focal_px / CAMERA.lens.unit_px
    terms = np.array([CAMERA.lens.k1 * per_focal**2, CAMERA.lens.k2 * per_focal**4, 0.0, 0.0])
    u, v = CAMERA.centre_px
    matrix = np.array([[CAMERA.focal_px, 0, u], [0, CAMERA.focal_px, v], [0, 0, 1]])
    pixels = np.array([(300.0, 200.0), (960.0, 540.0), (1700.0, 900.0), (100.0, 1000.0)])
    stop = (cv2.TERM_CRITERIA_COUNT + cv2.TERM_CRITERIA_EPS, 60, 1e-13)
    straight = cv2.undistortPoints(pixels.reshape(-1, 1, 2), matrix, terms, criteria=stop)
    rays = (
        np.column_stack([np.asarray(straight).reshape(-1, 2), np.ones(4)])
        @ cv2.Rodrigues(np.array(CAMERA.turn))[0]
    )
    met = CAMERA.at_in - rays / rays[:, 2:] * CAMERA.at_in[2]
    np.testing.assert_allclose(one_centre.table_from_photo(CameraPixels(pixels)), met[:, :2], atol=1e-8)


def test_there_and_back() -> None:
    back = CAMERA.table_from_photo(CAMERA.photo_from_table(ON_TABLE))
    np.testing.assert_allclose(back, ON_TABLE, atol=1e-9)


def test_no_points_are_no_points() -> None:
    none = np.zeros((0, 2))
    assert CAMERA.photo_from_table(TableInches(none)).shape == (0, 2)
    assert CAMERA.table_from_photo(CameraPixels(none)).shape == (0, 2)


def test_what_lies_behind_it_or_above_its_horizon_is_refused() -> None:
    low = replace(CAMERA, turn=(2.0, 0.0, 0.0))  # 25 degrees below level
    with pytest.raises(ValueError, match="behind the camera"):
        low.photo_from_table(TableInches(np.array([(5.0, -200.0)])))
    with pytest.raises(ValueError, match="above the horizon"):
        low.table_from_photo(CameraPixels(np.array([(960.0, -400.0)])))


def test_a_camera_under_the_table_is_none() -> None:
    with pytest.raises(ValueError, match="is above the table"):
        replace(CAMERA, at_in=(0.0, 0.0, -3.0))


@pytest.mark.parametrize("turn", [(0.0, 0.0, 0.0), (0.3, -1.2, 0.5), (3.1, 0.2, 0.0)])
def test_a_rotation_is_that_of_opencv(turn: tuple[float, float, float]) -> None:
    np.testing.assert_allclose(rotation(turn), cv2.Rodrigues(np.array(turn))[0], atol=1e-12)
