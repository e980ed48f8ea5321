"""An alignment with the fit behind it, from corners without photos."""

import numpy as np
import pytest

from calibration.errors import AlignmentError
from calibration.practice.table import Faults
from calibration.sheets.sheet import PAPERS
from calibration.solving.from_photos import solved
from tests.unit.calibration.corners import SCREEN_PX, seen, table

PAPER = PAPERS["letter"]


def test_arrows_lie_on_the_table_and_are_as_long_as_the_misfit() -> None:
    on = table(3)
    found = solved([seen(on, 3, wild=0.05)], PAPER, SCREEN_PX)
    arrows, fit = found.residual_arrows, found.fit
    assert arrows.shape == (fit.kept.sum(), 4)
    np.testing.assert_allclose(
        np.hypot(arrows[:, 2], arrows[:, 3]), fit.model.misfit_in(fit.unknowns)[fit.kept]
    )
    first = on.table_from_sheet(1, fit.model.photos[0].sheets[0].sheet_in)[fit.kept[:24]]
    np.testing.assert_allclose(arrows[: len(first), :2], first, atol=0.02)


def test_an_arrow_points_to_where_the_corner_is_seen() -> None:
    found = solved([seen(table(3), 3)], PAPER, SCREEN_PX)
    fit = found.fit
    bare = fit.model.misfit(fit.unknowns)[fit.kept]  # predicted less seen, in the camera's frame
    camera_from_table = fit.model.camera_matrix(fit.unknowns, 0)
    turn = camera_from_table[:2, :2] / np.sqrt(abs(np.linalg.det(camera_from_table[:2, :2])))
    along = (found.residual_arrows[:, 2:] @ turn.T * -bare).sum(axis=1)
    assert (along > 0).mean() > 0.95


def test_paper_and_printed_scale_are_kept() -> None:
    on = table(2, faults=Faults(print_scale=1.004))
    alignment = solved([seen(on, 2)], PAPER, SCREEN_PX, tapes={(2, 4): on.tape(2, 4)}).alignment
    assert alignment.paper == "letter"
    assert alignment.printed_scale == pytest.approx(1.004, abs=1e-3)


def test_the_alignment_keeps_where_its_cameras_were() -> None:
    on = table(3)
    photos = [seen(on, 3), seen(on.another_view(8), 4)]
    cameras = solved(photos, PAPER, SCREEN_PX).alignment.cameras
    assert [camera.at_in[2] for camera in cameras] == pytest.approx(
        [on.camera.at_in[2], on.another_view(8).camera.at_in[2]], abs=1.5
    )


def test_a_tape_that_disagrees_is_named() -> None:
    on = table(3)
    with pytest.raises(AlignmentError, match=r"The tape between sheets 2 and 4 says .* in, the photo"):
        solved([seen(on, 3)], PAPER, SCREEN_PX, tapes={(2, 4): on.tape(2, 4) + 1})


def test_a_ruler_misread_is_named() -> None:
    with pytest.raises(AlignmentError, match=r"said to be 9.000 in long where 8 in was drawn"):
        solved([seen(table(3), 3)], PAPER, SCREEN_PX, printed_ruler_in=9.0)
