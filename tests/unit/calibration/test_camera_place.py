"""Where the cameras of an alignment were, against the practice table's truth."""

import numpy as np
import pytest

from calibration.cameras.kept import KeptCamera
from calibration.cameras.place import camera_in_frame, kept_cameras
from calibration.frames import TableInches
from calibration.practice.table import Faults, PracticeTable
from calibration.solving.joint_model import lie
from calibration.solving.solve import solve
from tests.unit.calibration.corners import SCREEN_PX, seen, table
from tests.unit.calibration.test_kept_camera import CAMERA, ON_TABLE

GRID = np.array([(x, y) for x in np.linspace(-29, 29, 7) for y in np.linspace(-17, 17, 5)])
FLAT, CURLED = Faults.none(), Faults.usual()


def found(on: PracticeTable, seed: int) -> tuple[KeptCamera, ...]:
    fit = solve([seen(on, seed)], screen_px=SCREEN_PX, printed_scale=1.0)
    return kept_cameras(fit.model, fit.unknowns, fit.covariance)


def off_in(camera: KeptCamera, on: PracticeTable) -> float:
    x, y, height = on.camera.at_in
    foot = on.frame_in_room.inward(np.array([(x, y)]))[0]
    return float(np.linalg.norm(np.subtract(camera.at_in, (*foot, height))))


@pytest.mark.parametrize(("faults", "within_in"), [(FLAT, 1.5), (CURLED, 2.0)])
def test_its_place_is_known_to_inches_though_paper_curls(faults: Faults, within_in: float) -> None:
    on = table(3, faults=faults)
    (camera,) = found(on, 3)
    assert off_in(camera, on) < within_in
    assert camera.photo_px == on.camera.size_px
    assert camera.focal_px == pytest.approx(on.camera.focal_px, rel=0.05)


def test_it_sees_the_table_as_it_was_photographed() -> None:
    on = table(4)
    (camera,) = found(on, 4)
    table_in = TableInches(on.frame_in_room.inward(GRID))
    pixels = on.camera_from_table(table_in)
    np.testing.assert_allclose(camera.table_from_photo(pixels), table_in, atol=0.01)
    np.testing.assert_allclose(camera.photo_from_table(table_in), pixels, atol=0.5)


def test_a_camera_in_another_frame_sees_the_same_places() -> None:
    place = np.array([3.0, -2.0, 0.4])
    moved = camera_in_frame(CAMERA, place)
    outer = TableInches(lie(place, ON_TABLE))
    np.testing.assert_allclose(moved.photo_from_table(outer), CAMERA.photo_from_table(ON_TABLE), atol=1e-8)
