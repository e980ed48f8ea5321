"""What stands up shows beside its place, held against the practice table's own optics."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.frames import TableInches
from calibration.practice.surface import CURL_REACH_IN
from calibration.solving.curl import TABLE_WAYS, beside, from_their_own_places, in_pictures, lifts
from calibration.solving.joint_model import JointModel
from calibration.solving.solve import solve
from calibration.solving.starts import first_guess
from tests.unit.calibration.corners import SCREEN_PX, seen, table


def test_a_raised_point_is_seen_further_from_the_cameras_foot() -> None:
    on = table(3)
    room = np.array([(-20.0, 9.0), (4.0, -15.0), (26.0, 12.0)])
    raised = on.camera.pixels_from_room(np.column_stack([room, np.full(3, 0.125)]))
    table_in = on.frame_in_room.inward(room)
    x, y = on.frame_in_room.inward(np.array([on.camera.at_in[:2]]))[0]
    shifted = table_in + 0.125 * beside(table_in, (float(x), float(y), on.camera.at_in[2]))
    np.testing.assert_allclose(on.camera_from_table(TableInches(shifted)), raised, atol=0.05)


def test_a_sheet_that_stands_up_shows_in_the_picture_where_it_is_said_to() -> None:
    on = table(3)
    lifted = replace(
        on,
        sheets=tuple(
            replace(sheet, middle_lift_in=0.05, edge_lift_in=0.05) if sheet.number == 2 else sheet
            for sheet in on.sheets
        ),
    )
    flat, up = seen(on, 3), seen(lifted, 3)
    fit = solve([flat], screen_px=SCREEN_PX, printed_scale=1.0)
    model, x = fit.model, fit.unknowns
    foot = on.frame_in_room.inward(np.array([on.camera.at_in[:2]]))[0]
    place = (float(foot[0]), float(foot[1]), on.camera.at_in[2])
    shows = in_pictures(model, x, from_their_own_places(model, x, [place]), lifts(model, x))
    way = TABLE_WAYS + 4  # raising the second sheet
    predicted_px = shows[:, :, way] * 0.05 * on.camera.size_px[0] / 2
    moved_px = np.concatenate(
        [b.camera_px - a.camera_px for a, b in zip(flat.sheets, up.sheets, strict=True)]
        + [up.targets.camera_px - flat.targets.camera_px]
    )
    assert np.abs(moved_px).max() > 1.0
    np.testing.assert_allclose(predicted_px, moved_px, atol=0.05)


def test_a_page_is_bowed_by_one_at_the_middle_of_its_short_sides() -> None:
    model = JointModel([seen(table(3), 3)], SCREEN_PX, 0.002, 1.0)
    ways = lifts(model, first_guess(model))
    assert ways.shape == (len(model.sigma), TABLE_WAYS + 4 * 5)
    first = model.seen[0]
    upward = ways[: len(first.known), 6]  # the last of the first sheet's: up the page, squared
    np.testing.assert_allclose(upward, (first.known[:, 1] * 30 / CURL_REACH_IN) ** 2)
    assert not ways[len(first.known) :, 3:7].any()


@pytest.mark.parametrize("along", [0, 2])
def test_the_table_bows_by_one_at_the_rim_of_the_light(along: int) -> None:
    model = JointModel([seen(table(3), 3)], SCREEN_PX, 0.002, 1.0)
    assert lifts(model, first_guess(model))[model.is_target, along].max() == pytest.approx(1.0)
