"""Where a garment in a photo lies in the projector's light, by the sheets that both know."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.garment.sheet_camera import SheetCamera
from calibration.table.saved import Alignment
from patterns.cutting.placement import Placement
from projector.errors import ProjectorError
from projector.person import Person
from projector.tracing.photo_frame import SheetPlace, photo_frame
from tests.unit.projector.samples import a_map, an_alignment

ON_TABLE: tuple[SheetPlace, ...] = ((0.0, 0.0, 0.0), (20.0, 3.0, 10.0), (-4.0, 15.0, -80.0))
ALIGNMENT: Alignment = replace(an_alignment(), sheet_places=ON_TABLE, paper="a4")


def seen_from(first: int, *others: int, beside_in: float = 0.0) -> SheetCamera:
    """A camera that saw these sheets as they lie on the table; the last may lie beside its place."""
    x0, y0, turn0 = ON_TABLE[first - 1]
    places = []
    for number in (first, *others):
        x, y, turn = ON_TABLE[number - 1]
        right, up = Person(facing_deg=turn0).seen(np.array([[x - x0, y - y0]]))[0].tolist()
        places.append((right, up, turn - turn0))
    right, up, turn = places[-1]
    places[-1] = (right + beside_in, up, turn)
    return SheetCamera(
        seen=a_map(),
        sheet_numbers=(first, *others),
        sheet_places=tuple(places),
        size_sigma=0.0,
        size_checked=True,
    )


def test_sheet_one_sets_the_tables_own_frame() -> None:
    frame = photo_frame(seen_from(1, 2, 3), ALIGNMENT)
    assert frame.moved_in == pytest.approx(0.0, abs=1e-9)
    lying = Placement(x_in=3.0, y_in=-1.0, turn_deg=20.0, mirrored=True)
    assert frame.on_table(lying) == lying


@pytest.mark.parametrize("mirrored", [False, True])
def test_from_another_sheet_the_garment_is_brought_into_the_tables_frame(mirrored: bool) -> None:
    frame = photo_frame(seen_from(2, 3), ALIGNMENT)
    lying = Placement(x_in=3.0, y_in=-1.0, turn_deg=20.0, mirrored=mirrored)
    points = np.array([[0.0, 0.0], [5.0, 1.0], [2.0, 20.0]])
    x, y, turn = ON_TABLE[1]
    expected = Person(facing_deg=turn).on_table(lying.placed(points)) + (x, y)
    assert frame.on_table(lying).placed(points) == pytest.approx(expected)


def test_a_lone_sheet_proves_nothing() -> None:
    assert photo_frame(seen_from(1), ALIGNMENT).moved_in is None


def test_a_camera_that_stands_as_it_did_is_in_the_tables_frame() -> None:
    frame = photo_frame(replace(seen_from(1), sheet_numbers=(), sheet_places=()), ALIGNMENT)
    lying = Placement(x_in=3.0, y_in=-1.0, turn_deg=20.0)
    assert (frame.on_table(lying), frame.moved_in) == (lying, None)


def test_sheets_that_have_moved_are_a_sentence() -> None:
    assert photo_frame(seen_from(1, 2, beside_in=1 / 20), ALIGNMENT).moved_in == pytest.approx(1 / 20)
    with pytest.raises(ProjectorError) as refused:
        photo_frame(seen_from(1, 2, beside_in=0.5), ALIGNMENT)
    assert str(refused.value) == (
        "the sheets have moved by 1/2 in since the alignment, so the light would be beside the garment; lay them as "
        "they were, or align again"
    )


def test_a_first_sheet_that_was_not_aligned_is_a_sentence() -> None:
    fewer = replace(ALIGNMENT, sheet_places=ON_TABLE[:1])
    with pytest.raises(ProjectorError, match="the photo's sheet 2 was not on the table for the alignment"):
        photo_frame(seen_from(2), fewer)
