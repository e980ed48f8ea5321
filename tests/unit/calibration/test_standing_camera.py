"""A camera that stands where it stood for the alignment, and what gives away that it does not."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.cameras.kept import KeptCamera
from calibration.cameras.standing import MOVED_IN, moved_in, standing_camera
from calibration.errors import AlignmentError
from calibration.frames import TableInches
from calibration.garment.sheet_camera import SheetCamera
from calibration.lens import Lens
from calibration.table.saved import Alignment
from tests.unit.projector.samples import an_alignment

KEPT = KeptCamera(
    photo_px=(1920, 1080),
    focal_px=1450.0,
    centre_px=(968.5, 533.0),
    lens=Lens(k1=-0.03, k2=0.012, centre_px=(941.0, 552.5), unit_px=960.0),
    turn=(2.6, -0.21, 0.3),
    at_in=(5.0, -31.0, 58.0),
)
ON_TABLE = TableInches(np.array([(x, y) for x in (-28.0, -5.5, 0.0, 24.0) for y in (-16.0, 1.0, 17.0)]))


def aligned_by(*cameras: KeptCamera) -> Alignment:
    return replace(an_alignment(), cameras=cameras)


def with_sheets(camera: KeptCamera) -> SheetCamera:
    """The same camera as sheets would tell it."""
    return replace(
        standing_camera(aligned_by(camera), camera.photo_px),
        sheet_numbers=(1, 2),
        sheet_places=((0.0, 0.0, 0.0), (18.0, 6.0, 90.0)),
    )


def test_it_sees_the_table_as_the_kept_camera_does() -> None:
    standing = standing_camera(aligned_by(KEPT), KEPT.photo_px)
    pixels = KEPT.photo_from_table(ON_TABLE)
    np.testing.assert_allclose(standing.camera_from_table(ON_TABLE), pixels, atol=1e-8)
    np.testing.assert_allclose(standing.table_from_camera(pixels), ON_TABLE, atol=1e-8)
    assert standing.ahead(ON_TABLE).all()


def test_its_error_is_what_the_alignment_claims() -> None:
    """95 % of errors in a plane are within 2.45 sigma (Rayleigh distribution)."""
    alignment = aligned_by(KEPT)
    standing = standing_camera(alignment, KEPT.photo_px)
    np.testing.assert_allclose(standing.shape_error_in(ON_TABLE), alignment.p95_in / 2.45, rtol=1e-9)


def test_a_camera_that_was_not_there_is_told_of() -> None:
    with pytest.raises(AlignmentError) as refused:
        standing_camera(aligned_by(KEPT), (4000, 3000))
    assert str(refused.value) == (
        "no sheet is seen, and of a camera whose photos have 4000x3000 pixels the table file knows nothing (only "
        "one whose photos have 1920x1080); lay a printed sheet beside the garment, or align the table by this camera"
    )
    with pytest.raises(AlignmentError, match=r"knows nothing \(none\)"):
        standing_camera(aligned_by(), (4000, 3000))


def test_a_camera_held_in_the_hand_does_not_stand_still() -> None:
    x, y, height = KEPT.at_in
    elsewhere = replace(KEPT, at_in=(x + 3.0, y, height))
    with pytest.raises(AlignmentError) as refused:
        standing_camera(aligned_by(KEPT, elsewhere), KEPT.photo_px)
    assert "from 2 places, as by a camera held in the hand, which does not stand still" in str(refused.value)
    again = replace(KEPT, at_in=(x + 0.1, y, height))
    assert standing_camera(aligned_by(KEPT, again), KEPT.photo_px).photo_px == KEPT.photo_px


@pytest.mark.parametrize(
    ("turned_deg", "raised_in"),
    [(0.5, 0.0), (0.0, 1.0)],
    ids=["turned by half a degree", "an inch higher"],
)
def test_sheets_give_away_that_it_has_moved(turned_deg: float, raised_in: float) -> None:
    standing = standing_camera(aligned_by(KEPT), KEPT.photo_px)
    assert moved_in(standing, with_sheets(KEPT)) < 1e-6
    (a, b, c), (x, y, height) = KEPT.turn, KEPT.at_in
    moved = replace(KEPT, turn=(a + float(np.radians(turned_deg)), b, c), at_in=(x, y, height + raised_in))
    assert moved_in(standing, with_sheets(moved)) > MOVED_IN


def test_sheets_may_lie_elsewhere_than_for_the_alignment() -> None:
    """Their own shape is what is compared: a turn and a shift of the first sheet's frame say nothing."""
    seen = with_sheets(KEPT)
    turned = np.array([[0.8, -0.6, 7.0], [0.6, 0.8, -3.0], [0.0, 0.0, 1.0]])
    matrix = np.array(seen.seen.homography) @ turned
    (a, b, c), (d, e, f), (g, h, i) = (matrix / matrix[2, 2]).tolist()
    elsewhere = replace(seen, seen=replace(seen.seen, homography=((a, b, c), (d, e, f), (g, h, i))))
    assert moved_in(standing_camera(aligned_by(KEPT), KEPT.photo_px), elsewhere) < 1e-6
