"""What a photo of the sheets still lying says has moved."""

from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
import pytest

from calibration.errors import AlignmentError
from calibration.frames import Array, SheetInches
from calibration.practice.table import Faults, PracticeTable
from calibration.solving.from_photos import turn_along_screen
from calibration.table.saved import Alignment
from calibration.trust.both_looks import LEAST_MOVE_IN, BothLooks
from calibration.trust.look_again import in_frame, look_again
from calibration.trust.moved import Drift, aligned_again, drift_of, judged
from tests.bench.drift import MOVED_IN, nearby, projector_moved, saved_alignment
from tests.unit.calibration.corners import seen, table
from tests.unit.calibration.test_projector_map import GRID, MAP

SEED = 1
NOON = datetime(2026, 3, 4, 12, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def on() -> PracticeTable:
    return table(SEED)


@pytest.fixture(scope="module")
def alignment(on: PracticeTable) -> Alignment:
    return saved_alignment(on, SEED)


def pushed(on: PracticeTable, *numbers: int, by_in: float = 0.5) -> PracticeTable:
    """Sheets pushed, each its own way."""
    sheets = tuple(
        replace(
            sheet,
            pose=replace(
                sheet.pose, x_in=sheet.pose.x_in + by_in, y_in=sheet.pose.y_in - 0.3 * by_in * sheet.number
            ),
        )
        if sheet.number in numbers
        else sheet
        for sheet in on.sheets
    )
    return replace(on, sheets=sheets)


def looked_at(world: PracticeTable, alignment: Alignment) -> Drift:
    return judged(look_again([seen(world.another_view(9), 50)], alignment), alignment, NOON)


def light_errors(on: PracticeTable, alignment: Alignment) -> Array:
    strays = on.light_errors_in(alignment.map)
    return np.hypot(strays[:, 0], strays[:, 1])


def test_still_light_is_still(on: PracticeTable, alignment: Alignment) -> None:
    found = looked_at(on, alignment)
    assert (found.cause, found.moved_sheets, found.test.moved) == ("nothing", (), False)
    assert found.test.what == "Nothing has moved: the light falls within 1/64 in of where it did."
    assert (found.test.sure, found.look_from) == (True, "")
    assert found.doubt_in < 1 / 128  # flat paper looks alike from every side


def test_a_moved_projector_is_told_with_how_much_and_where(on: PracticeTable, alignment: Alignment) -> None:
    moved = projector_moved(on, 3, MOVED_IN)
    corners = on.frame_in_room.inward(np.array([(-30.0, 18), (30, 18), (30, -18), (-30, -18)]))
    strays = np.hypot(*(moved.light_errors_in(alignment.map, corners)).T)  # type: ignore[arg-type]
    found = looked_at(moved, alignment)
    assert (found.cause, found.test.moved) == ("light", True)
    assert found.test.moved_in == pytest.approx(MOVED_IN, abs=0.02)  # the picture reaches past the table
    name = ("far left", "far right", "near right", "near left")[int(strays.argmax())]
    assert found.test.what == (
        f"The projector has moved, or the table under it: the light falls up to 5/64 in off near the {name} "
        "corner. Align again before you cut: the same command with --realign does it."
    )


def test_where_it_is_not_known_whence_the_table_was_aligned_a_small_move_is_told_with_a_doubt(
    on: PracticeTable, alignment: Alignment
) -> None:
    older = replace(alignment, cameras=())
    again = look_again([seen(projector_moved(on, 3, 0.022).another_view(9), 50)], older)
    assert again.curled == ()
    plain = judged(again, older, NOON).test
    doubtful = judged(replace(again, rms_in=0.006), older, NOON).test
    assert plain.moved
    assert doubtful.what == plain.what + (
        " The table or the paper is not flat, and from another side that can look like a small move: photograph "
        "from where you did for the alignment to be sure."
    )


@pytest.fixture(scope="module")
def curled() -> PracticeTable:
    return table(2, faults=Faults.usual())


@pytest.fixture(scope="module")
def over_curl(curled: PracticeTable) -> Alignment:
    return saved_alignment(curled, 2)


def test_curl_seen_from_another_side_is_no_move_and_a_look_from_the_first_place_is_asked_for(
    curled: PracticeTable, over_curl: Alignment
) -> None:
    elsewhere = curled.another_view(1002)
    for world in (elsewhere, projector_moved(elsewhere, 2, MOVED_IN)):
        found = judged(look_again([seen(world, 5002)], over_curl), over_curl, NOON)
        assert (found.cause, found.test.moved, found.test.sure) == ("unsure", False, False)
        assert found.test.moved_in > LEAST_MOVE_IN
        assert found.doubt_in > MOVED_IN
        assert found.look_from == "from about 1 1/2 ft outside the near edge, about 4 ft up"
        assert found.test.what.startswith(
            "Whether the light has moved cannot be told from this side: it seems up"
        )
        assert found.test.what.endswith(
            "off near the near right corner, but curled sheets seem to shift when they are seen from another side. "
            f"Look again {found.look_from}: the table was aligned from there."
        )


@pytest.mark.parametrize(("by_in", "cause"), [(0.0, "nothing"), (MOVED_IN, "light")])
def test_from_where_the_table_was_aligned_curl_takes_nothing_away(
    by_in: float, cause: str, curled: PracticeTable, over_curl: Alignment
) -> None:
    near = nearby(curled, 2)
    world = projector_moved(near, 2, by_in) if by_in else near
    found = judged(look_again([seen(world, 5002)], over_curl), over_curl, NOON)
    assert (found.cause, found.test.sure) == (cause, True)
    assert found.doubt_in < LEAST_MOVE_IN


def test_the_doubt_grows_with_how_far_paper_seems_to_stand_up(
    on: PracticeTable, alignment: Alignment
) -> None:
    doubts = []
    for lift_in in (1 / 64, 1 / 16, 1 / 4):
        sheets = tuple(replace(sheet, edge_lift_in=lift_in) for sheet in on.sheets)
        again = look_again([seen(replace(on, sheets=sheets).another_view(9), 50)], alignment)
        doubts.append(float(BothLooks(again, alignment).light_doubt(range(1, 6)).max()))
    assert 0.01 < doubts[0] < doubts[1] < doubts[2] / 2


@pytest.mark.parametrize("number", [1, 2, 5])
def test_a_moved_sheet_is_named_and_the_light_is_right(
    number: int, on: PracticeTable, alignment: Alignment
) -> None:
    found = looked_at(pushed(on, number), alignment)
    assert (found.cause, found.moved_sheets, found.test.moved) == ("sheets", (number,), False)
    assert found.test.what == (
        f"Only the sheets: sheet {number} has been moved. The light falls within 1/64 in of where it did, so you "
        "can go on cutting."
    )


def test_most_sheets_may_move_if_the_light_keeps_to_one(on: PracticeTable, alignment: Alignment) -> None:
    found = looked_at(pushed(on, 1, 2, 3, 4), alignment)
    assert (found.cause, found.moved_sheets) == ("sheets", (1, 2, 3, 4))
    assert found.test.what.startswith("Only the sheets: sheets 1, 2, 3 and 4 have been moved. The light")


def test_sheets_and_light_that_moved_are_both_told(on: PracticeTable, alignment: Alignment) -> None:
    found = looked_at(pushed(projector_moved(on, 3, 0.3), 1, 4), alignment)
    assert (found.cause, found.moved_sheets, found.test.moved) == ("light and sheets", (1, 4), True)
    assert found.test.what.startswith(
        "Sheets 1 and 4 have been moved, and so has the projector, or the table"
    )
    assert found.test.moved_in == pytest.approx(0.3, abs=0.06)


def test_sheets_laid_anew_tell_nothing(on: PracticeTable, alignment: Alignment) -> None:
    anew = pushed(projector_moved(on, 3, 0.5), 1, 2, 3, 4, 5)
    alignment = replace(alignment, turn_deg=30.0, shift_in=(4.0, 1.0))
    with pytest.raises(AlignmentError) as refusal:
        looked_at(anew, alignment)
    assert str(refusal.value) == (
        "None of the 5 sheets keeps its place to another or to the light: they have been laid anew, and drift "
        "cannot be told; align again with --realign"
    )
    again = aligned_again(look_again([seen(anew, 51)], alignment), alignment, NOON)
    frame = replace(anew, frame_in_room=anew.sheet(1).pose)
    assert light_errors(frame, again).max() < 0.01
    assert (again.turn_deg, again.shift_in) == (turn_along_screen(again.map), (0.0, 0.0))


def test_one_sheet_cannot_tell_whether_it_or_the_light_moved(on: PracticeTable, alignment: Alignment) -> None:
    alone = replace(alignment, sheet_places=alignment.sheet_places[:1])
    view = seen(projector_moved(on, 3, 0.5).another_view(4), 4, numbers=[1])
    found = judged(look_again([view], alone), alone, NOON)
    assert found.cause == "light or sheet"
    assert "or else sheet 1 was moved: one sheet cannot tell which" in found.test.what


def test_one_flat_sheet_is_sure_from_every_side(on: PracticeTable, alignment: Alignment) -> None:
    alone = replace(alignment, sheet_places=alignment.sheet_places[:1])
    found = judged(look_again([seen(on.another_view(4), 4, numbers=[1])], alone), alone, NOON)
    assert (found.cause, found.test.sure) == ("nothing", True)


def test_the_alignment_by_a_new_look_is_right_and_keeps_lens_and_frame(
    on: PracticeTable, alignment: Alignment
) -> None:
    moved = pushed(projector_moved(on, 3, 1.0), 1)
    test, again = drift_of([seen(moved.another_view(9), 52)], alignment)
    assert test.moved
    assert light_errors(moved, alignment).max() > 0.5
    assert light_errors(moved, again).max() < 0.01
    assert again.map.lens == alignment.map.lens
    assert again.p95_in >= alignment.p95_in
    np.testing.assert_allclose(again.sheet_places[1:], alignment.sheet_places[1:], atol=0.02)
    centre = moved.table_from_sheet(1, SheetInches(np.zeros((1, 2))))[0]
    assert again.sheet_places[0][:2] == pytest.approx(centre, abs=0.02)
    place = again.cameras[0].at_in
    assert place[2] == pytest.approx(moved.another_view(9).camera.at_in[2], abs=1.5)
    foot = moved.frame_in_room.inward(np.array([moved.another_view(9).camera.at_in[:2]]))[0]
    assert place[:2] == pytest.approx(foot, abs=1.5)
    assert again.verdict.endswith("aligned again with the lens's bow kept; shape and size are both checked.")


def test_an_alignment_without_sheets_has_nothing_to_compare(on: PracticeTable, alignment: Alignment) -> None:
    with pytest.raises(AlignmentError, match="knows no places of sheets to compare with"):
        looked_at(on, replace(alignment, sheet_places=()))


def test_no_photo_is_refused(alignment: Alignment) -> None:
    with pytest.raises(AlignmentError, match="No photo was given"):
        look_again([], alignment)


def test_corners_that_fit_nothing_are_refused(on: PracticeTable, alignment: Alignment) -> None:
    with pytest.raises(AlignmentError, match="corners do not fit this projector's lens and one flat table"):
        look_again([seen(on, 3, wild=0.45)], alignment)


def test_a_map_in_another_frame_lights_the_same_places() -> None:
    place = np.array([3.0, -2.0, 0.4])
    moved = in_frame(MAP, place)
    c, s = np.cos(0.4), np.sin(0.4)
    outer = GRID @ np.array([[c, s], [-s, c]]) + place[:2]
    np.testing.assert_allclose(moved.screen_from_table(outer), MAP.screen_from_table(GRID), atol=1e-9)
    np.testing.assert_allclose(moved.forecast(outer), MAP.forecast(GRID), rtol=1e-6)
