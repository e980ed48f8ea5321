"""The joint estimate from corners, without photos."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.errors import AlignmentError
from calibration.frames import CameraPixels, ScreenPixels
from calibration.practice.table import Faults
from calibration.solving.joint_model import JointModel
from calibration.solving.solve import solve
from calibration.solving.starts import starts
from tests.unit.calibration.corners import SCREEN_PX, mirrored, seen, table


def test_slopes_agree_with_differences() -> None:
    on = table(3, sheets=4)
    model = JointModel([seen(on, 3), seen(on.another_view(5), 4)], SCREEN_PX, 0.002, 1.0)
    x = starts(model)[0] + 1e-3
    step = 1e-6
    measured = np.stack(
        [(model.misfit(x + d) - model.misfit(x - d)) / (2 * step) for d in np.eye(model.unknowns) * step],
        axis=-1,
    )
    np.testing.assert_allclose(model.misfit_slopes(x), measured, atol=1e-7)
    tape = [
        (model.centre_distance_in(x + d, (1, 3)) - model.centre_distance_in(x - d, (1, 3))) / (2 * step)
        for d in np.eye(model.unknowns) * step
    ]
    np.testing.assert_allclose(model.centre_distance_slopes(x, (1, 3)), tape, atol=1e-6)


@pytest.mark.parametrize("sheets", [1, 2, 3, 5])
@pytest.mark.parametrize("seed", range(3))
def test_light_goes_where_it_should(sheets: int, seed: int) -> None:
    on = table(seed, sheets)
    fit = solve([seen(on, seed)], screen_px=SCREEN_PX, printed_scale=1.0)
    errors = np.hypot(*on.light_errors_in(fit.shape_map).T)
    assert np.sqrt((errors**2).mean()) < {1: 0.03, 2: 0.01, 3: 0.01, 5: 0.005}[sheets]
    assert fit.target_sigma == pytest.approx(1, abs=0.2)


@pytest.mark.parametrize("seed", range(3))
def test_wild_corners_are_left_out(seed: int) -> None:
    on = table(seed)
    fit = solve([seen(on, seed, wild=0.1)], screen_px=SCREEN_PX, printed_scale=1.0)
    errors = np.hypot(*on.light_errors_in(fit.shape_map).T)
    assert np.sqrt((errors**2).mean()) < 0.006
    assert 0.85 < fit.kept.mean() < 0.95


def test_a_tape_finds_the_printers_scale() -> None:
    on = table(2, faults=Faults(print_scale=1.004))
    fit = solve([seen(on, 2)], screen_px=SCREEN_PX, tapes={(2, 4): on.tape(2, 4), (3, 5): on.tape(3, 5)})
    assert fit.unknowns[fit.model.scale_at] == pytest.approx(1.004, abs=4e-4)
    assert np.hypot(*on.light_errors_in(fit.shape_map).T).max() < 0.02


def test_the_measured_ruler_is_used() -> None:
    on = table(2, faults=Faults(print_scale=0.96))
    fit = solve([seen(on, 2)], screen_px=SCREEN_PX, printed_scale=on.printed_length(8.0) / 8.0)
    assert np.hypot(*on.light_errors_in(fit.shape_map).T).max() < 0.01


def test_sheet_places_are_found() -> None:
    on = table(4)
    fit = solve([seen(on, 4)], screen_px=SCREEN_PX, printed_scale=1.0)
    for number, (x, y, _) in enumerate(fit.sheet_places, start=1):
        np.testing.assert_allclose((x, y), on.table_from_sheet(number, np.zeros((1, 2)))[0], atol=0.01)  # type: ignore[arg-type]


def test_mirrored_photos_are_refused() -> None:
    with pytest.raises(AlignmentError, match="seen mirror-wise; turn off mirroring"):
        solve([mirrored(seen(table(1), 1))], screen_px=SCREEN_PX)


def test_targets_on_a_line_are_refused() -> None:
    photo = seen(table(1), 1)
    row = photo.targets.screen_px[:, 1] == photo.targets.screen_px[0, 1]
    line = replace(
        photo.targets,
        screen_px=ScreenPixels(photo.targets.screen_px[row]),
        camera_px=CameraPixels(photo.targets.camera_px[row]),
    )
    with pytest.raises(AlignmentError, match="The projected marks lie on one line"):
        solve([replace(photo, targets=line)], screen_px=SCREEN_PX)


def test_a_projector_moved_between_photos_is_refused() -> None:
    on = table(1)
    other = seen(table(2), 2)
    with pytest.raises(AlignmentError, match="keep sheets, projector and focus still"):
        solve([seen(on, 1), other], screen_px=SCREEN_PX)


def test_a_tape_needs_two_sheets_that_are_there() -> None:
    with pytest.raises(AlignmentError, match="A tape between sheets 1 and 9 was given; it needs two of"):
        solve([seen(table(1), 1)], screen_px=SCREEN_PX, tapes={(1, 9): 20.0})


def test_no_photo_is_refused() -> None:
    with pytest.raises(AlignmentError, match="No photo was given"):
        solve([], screen_px=SCREEN_PX)


def test_no_false_minimum_is_taken_where_the_projector_hardly_bows() -> None:
    on = table(45)
    assert abs(on.projector.bow[0]) < 0.003
    fit = solve([seen(on, 45)], screen_px=SCREEN_PX, printed_scale=1.0)
    assert max(fit.print_sigma, fit.target_sigma) < 1.2
