"""The camera from loose sheets alone: held against a table whose truth is known, corner by corner."""

import numpy as np
import pytest

from calibration.errors import AlignmentError
from calibration.frames import Array, CameraPixels, TableInches
from calibration.garment.sheet_camera import SheetCamera, solve_camera
from calibration.photos.sightings import SheetSighting
from calibration.practice.garment import garment_table
from calibration.practice.table import Faults, PracticeTable
from calibration.sheets.sheet import PAPERS, Sheet

NOISE_PX = 0.015
PLACES = np.random.default_rng(1).uniform((-14, -9), (14, 9), (60, 2))


def sighted(table: PracticeTable, seed: int) -> list[SheetSighting]:
    """All corners of all sheets with white noise."""
    rng = np.random.default_rng(seed)
    seen = []
    for laid in table.sheets:
        corners = Sheet(paper=PAPERS["letter"], number=laid.number).corners_in
        pixels = table.camera_from_sheet(laid.number, corners)
        noisy = CameraPixels(pixels + NOISE_PX * rng.standard_normal(pixels.shape))
        seen.append(SheetSighting(sheet=laid.number, sheet_in=corners, camera_px=noisy, sigma_px=NOISE_PX))
    return seen


def solved(table: PracticeTable, seed: int) -> SheetCamera:
    return solve_camera(sighted(table, seed), table.camera.size_px)


def amid(table: PracticeTable) -> TableInches:
    """Places amid the table, in table inches."""
    return TableInches(table.frame_in_room.inward(PLACES))


def off_in(table: PracticeTable, camera: SheetCamera) -> Array:
    places = amid(table)
    strays = camera.table_from_camera(table.camera_from_table(places)) - places
    off: Array = np.hypot(strays[:, 0], strays[:, 1])
    return off


@pytest.mark.parametrize("seed", range(3))
def test_four_sheets_place_a_garment_to_a_few_thousandths(seed: int) -> None:
    table = garment_table(seed, "phone", 4)
    assert off_in(table, solved(table, seed)).max() < 0.004


@pytest.mark.parametrize("seed", range(3))
def test_one_sheet_works_and_promises_less(seed: int) -> None:
    """The promise is of the garment's shape, so it may be smaller than the error of its place."""
    one, four = (garment_table(seed, "phone", sheets) for sheets in (1, 4))
    few, many = solved(one, seed), solved(four, seed)
    assert off_in(one, few).mean() < 0.1
    assert few.shape_error_in(amid(one)).mean() > 5 * many.shape_error_in(amid(four)).mean()


def test_the_shape_error_is_true_of_many_photos() -> None:
    """Root mean square over photos of 2 sheets, moved and turned on to the truth, against its promise."""
    seen, told = [], []
    for seed in range(12):
        table = garment_table(seed, "phone", 2)
        camera = solved(table, seed)
        places = amid(table)
        found = camera.table_from_camera(table.camera_from_table(places))
        a, b = found - found.mean(axis=0), places - places.mean(axis=0)
        left, _, right = np.linalg.svd(a.T @ b)
        seen.append(((a @ left @ right - b) ** 2).sum(axis=1).mean())
        told.append((camera.shape_error_in(places) ** 2).mean())
    assert 0.6 < np.sqrt(np.mean(seen) / np.mean(told)) < 1.4


def test_sheets_are_placed_and_wild_corners_left_out() -> None:
    table = garment_table(3, "phone", 3)
    seen = sighted(table, 3)
    spoilt = seen[1].camera_px.copy()
    spoilt[:3] += 4.0
    seen[1] = SheetSighting(
        sheet=2, sheet_in=seen[1].sheet_in, camera_px=CameraPixels(spoilt), sigma_px=NOISE_PX
    )
    camera = solve_camera(seen, table.camera.size_px)
    assert off_in(table, camera).max() < 0.006
    centre = table.table_from_sheet(3, Sheet(paper=PAPERS["letter"], number=3).corners_in).mean(axis=0)
    assert camera.sheet_numbers == (1, 2, 3)
    assert np.allclose(camera.sheet_places[2][:2], centre, atol=0.01)


def test_sheets_that_contradict_each_other_are_refused() -> None:
    table = garment_table(4, "phone", 2, Faults.none())
    seen = sighted(table, 4)
    bent = seen[1].camera_px + np.random.default_rng(0).normal(0, 6.0, seen[1].camera_px.shape)
    seen[1] = SheetSighting(
        sheet=2, sheet_in=seen[1].sheet_in, camera_px=CameraPixels(bent), sigma_px=NOISE_PX
    )
    with pytest.raises(AlignmentError, match=r"off one flat table, and .* fit nowhere; lay the sheets flat"):
        solve_camera(seen, table.camera.size_px)


def test_size_is_checked_by_a_measured_ruler() -> None:
    table = garment_table(5, "phone", 2)
    measured = solve_camera(sighted(table, 5), table.camera.size_px, printed_scale=1.01)
    bare = solved(table, 5)
    assert measured.size_checked
    assert not bare.size_checked
    apart = [np.hypot(*np.subtract(*np.array(c.sheet_places)[:2, :2])) for c in (measured, bare)]
    assert apart[0] / apart[1] == pytest.approx(1.01, abs=1e-4)
    assert measured.size_sigma < bare.size_sigma
