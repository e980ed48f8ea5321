"""The practice table's scenes and its truth."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.frames import Points, ScreenPixels, SheetInches, TableInches, as_points
from calibration.practice.scene import CameraKind
from calibration.practice.surface import TABLE_IN, Pose, TableTop
from calibration.practice.table import Faults, PracticeTable

SEEDS = range(20)
CENTRE = SheetInches(np.zeros((1, 2)))


class _Moved:
    """The true map of a table, but for a scale, a turn and a shift of the whole drawing."""

    def __init__(self, table: PracticeTable, scale: float, pose: Pose) -> None:
        self.table, self.scale, self.pose = table, scale, pose

    def screen_from_table(self, points: Points) -> ScreenPixels:
        return self.table.true_screen_from_table(self.pose.outward(as_points(points) * self.scale))


TRUE = Pose()


def _rim(table: PracticeTable) -> TableInches:
    rim = np.array([(x, y) for x in (-1, 0, 1) for y in (-1, 0, 1)]) * np.array(TABLE_IN) / 2
    return TableInches(table.frame_in_room.inward(rim))


@pytest.mark.parametrize("camera", ["phone", "webcam"])
def test_all_of_the_table_is_lit_and_seen(camera: CameraKind) -> None:
    for seed in SEEDS:
        table = PracticeTable.random(seed, camera=camera, faults=Faults.usual())
        lit = table.true_screen_from_table(_rim(table))
        assert (lit >= 0).all()
        assert (lit <= [1919, 1079]).all()
        seen = table.camera_from_table(_rim(table))
        assert (seen >= 0).all()
        assert (seen <= np.array(table.camera.size_px) - 1).all()


@pytest.mark.parametrize("screen", [(1280, 720), (1280, 800), (1024, 768), (3840, 2160)])
def test_any_usual_screen_lights_the_table(screen: tuple[int, int]) -> None:
    table = PracticeTable.random(3, screen=screen)

    lit = table.true_screen_from_table(_rim(table))

    assert table.projector.size_px == screen
    assert (lit >= 0).all()
    assert (lit <= np.array(screen) - 1).all()


def test_a_larger_top_takes_all_of_the_light() -> None:
    corners = np.array([[0, 0], [1919, 0], [1919, 1079], [0, 1079]], dtype=np.float64)
    for seed in SEEDS:
        table = PracticeTable.random(seed, top_in=(84.0, 54.0))
        fell = table.frame_in_room.outward(table.true_table_from_screen(corners))
        assert table.top.inside_in(fell).min() > 0
        assert TableTop().inside_in(fell).min() < 0


def test_projectors_are_as_the_method_expects_them() -> None:
    shifts, scales = [], []
    for seed in SEEDS:
        table = PracticeTable.random(seed)
        across = TableInches(table.frame_in_room.inward(np.array([[-5.0, 0.0], [5.0, 0.0]])))
        ends = table.true_screen_from_table(across)
        scales.append(np.linalg.norm(ends[1] - ends[0]) / 10)
        shifts.append((table.projector.centre_px[1] - 539.5) / 960)
    assert min(scales) > 23
    assert max(scales) < 29
    assert max(scales) - min(scales) > 2
    assert np.abs(shifts).min() >= 0.25  # the lens is shifted far from the picture's centre, either way
    assert min(shifts) < 0 < max(shifts)


def test_light_and_truth_are_each_other_undone() -> None:
    for seed in (0, 7):
        table = PracticeTable.random(seed, faults=replace(Faults.usual(), table_bow_in=1 / 4))
        grid = table.grid(3.0)
        there_and_back = table.true_table_from_screen(table.true_screen_from_table(grid))
        assert there_and_back == pytest.approx(grid, abs=1e-8)


def test_the_same_seed_makes_the_same_scene() -> None:
    again = PracticeTable.random(5, faults=Faults.usual())

    assert PracticeTable.random(5, faults=Faults.usual()) == again
    assert PracticeTable.random(6, faults=Faults.usual()) != again


def test_more_sheets_or_faults_move_neither_projector_nor_lens() -> None:
    curled = Faults(curl_in=1 / 16, table_bow_in=1 / 32)
    few, many = PracticeTable.random(5, sheets=1), PracticeTable.random(5, sheets=7, faults=curled)

    assert few.projector == many.projector
    assert few.camera == many.camera
    assert few.sheets[0].pose == many.sheets[0].pose


def test_no_faults_are_none() -> None:
    table = PracticeTable.random(2)

    assert table.top == TableTop()
    assert table.camera.decentring == table.projector.decentring == (0.0, 0.0)
    for sheet in table.sheets:
        assert (sheet.middle_lift_in, sheet.edge_lift_in) == (0.0, 0.0)
        assert (sheet.print.scale_x, sheet.print.scale_y, sheet.print.jitter_in) == (1.0, 1.0, 0.0)


def test_usual_faults_are_of_their_size() -> None:
    for seed in SEEDS:
        table = PracticeTable.random(seed, faults=Faults.usual())
        heights = table.top.height(table.frame_in_room.outward(table.grid()))
        assert np.ptp(heights) == pytest.approx(1 / 32)
        for sheet in table.sheets:
            lifts = (sheet.middle_lift_in, sheet.edge_lift_in)
            assert min(lifts) == 0.0
            assert 0.2 / 16 <= max(lifts) <= 1 / 16


def test_sheets_lie_near_the_windows_and_on_the_table() -> None:
    places = [Pose(x_in=0, y_in=0, turn_deg=0), Pose(x_in=-20, y_in=10, turn_deg=90), Pose(x_in=24, y_in=-12)]
    page = np.array([[-4.25, 5.5], [4.25, 5.5], [4.25, -5.5], [-4.25, -5.5]])
    for seed in SEEDS:
        scene = PracticeTable.random(seed, sheets=3)
        windows = [
            scene.true_screen_from_table(scene.frame_in_room.inward(place.outward(page))) for place in places
        ]
        laid = PracticeTable.random(seed, sheets=3, windows=windows)
        for sheet, place in zip(laid.sheets[:2], places[:2], strict=True):
            off = np.hypot(sheet.pose.x_in - place.x_in, sheet.pose.y_in - place.y_in)
            assert off <= 1.01
            assert abs(sheet.pose.turn_deg - place.turn_deg) <= 4.1
        for sheet in laid.sheets:
            assert (np.abs(sheet.pose.outward(page)) <= np.array(TABLE_IN) / 2).all()


def test_windows_must_be_as_many_as_sheets() -> None:
    with pytest.raises(ValueError, match="5 sheets need 5 windows, found 0"):
        PracticeTable.random(1, windows=[])


def test_no_more_than_seven_sheets() -> None:
    with pytest.raises(ValueError, match="from 1 to 7 sheets, found 8"):
        PracticeTable.random(1, sheets=8)


def test_sheet_1_sets_the_frame_in_true_inches() -> None:
    faults = replace(Faults.usual(), print_jitter_in=0.0, print_scale=1.002, print_stretch=1.001)
    table = PracticeTable.random(9, faults=faults)

    marks = table.table_from_sheet(1, SheetInches(np.array([[0.0, 0.0], [4.0, 0.0], [0.0, 5.0]])))

    assert marks == pytest.approx(np.array([[0, 0], [4 * 1.002, 0], [0, 5 * 1.002 * 1.001]]), abs=1e-12)
    assert table.printed_length(8.0) == pytest.approx(8 * 1.002 * 1.001)


def test_a_tape_gives_the_true_distance_of_two_centres() -> None:
    table = PracticeTable.random(8, faults=replace(Faults.none(), print_scale=1.01))
    first, second = table.sheet(2).pose, table.sheet(3).pose
    true = np.hypot(first.x_in - second.x_in, first.y_in - second.y_in)

    assert table.tape(2, 3) == pytest.approx(true)
    read = table.tape(2, 3, to_nearest_in=1 / 32)
    assert read * 32 == round(read * 32)
    assert abs(read - true) <= 1 / 64


def test_a_sheet_taken_away_leaves_the_frame() -> None:
    table = PracticeTable.random(8)
    without = table.without_sheet(1)

    assert [sheet.number for sheet in without.sheets] == [2, 3, 4, 5]
    assert without.frame_in_room == table.frame_in_room
    with pytest.raises(KeyError):
        without.camera_from_sheet(1, CENTRE)


def test_another_view_is_the_same_camera_elsewhere() -> None:
    table = PracticeTable.random(8, faults=Faults.usual())
    other = table.another_view(1)

    assert other.camera.at_in != table.camera.at_in
    assert replace(other.camera, at_in=table.camera.at_in, axes=table.camera.axes) == table.camera
    assert (other.projector, other.sheets) == (table.projector, table.sheets)
    assert other.exposure.seed != table.exposure.seed
    seen = other.camera_from_table(_rim(other))
    assert (seen >= 0).all()
    assert (seen <= [3999, 2999]).all()


def test_the_grid_covers_the_table() -> None:
    table = PracticeTable.random(8)
    grid = table.frame_in_room.outward(table.grid())

    assert grid.shape == (61 * 37, 2)
    assert grid.min(axis=0) == pytest.approx([-30, -18])
    assert grid.max(axis=0) == pytest.approx([30, 18])


def test_the_true_map_has_no_error() -> None:
    table = PracticeTable.random(8, faults=Faults.usual())
    true_map = _Moved(table, 1.0, TRUE)

    assert np.abs(table.light_errors_in(true_map)).max() < 1e-8
    assert np.abs(table.shape_errors_in(true_map)).max() < 1e-8


def test_a_shifted_map_is_off_by_its_shift_and_true_in_shape() -> None:
    table = PracticeTable.random(8)
    shifted = _Moved(table, 1.0, Pose(x_in=0.03, y_in=-0.04))
    turned = _Moved(table, 1.0, Pose(x_in=0.03, turn_deg=1.0))
    grid = table.grid(6.0)

    assert table.light_errors_in(shifted, grid) == pytest.approx(np.tile([0.03, -0.04], (len(grid), 1)))
    assert np.abs(table.light_errors_in(turned, grid)).max() > 0.3
    assert np.abs(table.shape_errors_in(turned, grid)).max() < 1e-8


def test_a_wrong_size_is_an_error_of_shape() -> None:
    table = PracticeTable.random(8)
    large = _Moved(table, 1.002, TRUE)

    errors = np.linalg.norm(table.shape_errors_in(large), axis=1)

    # 0.2 % from the middle of the table to its corner
    assert errors.max() == pytest.approx(0.002 * np.hypot(30, 18), rel=1e-6)


def test_a_bowed_top_shifts_light_by_hand_reckoning() -> None:
    flat = PracticeTable.random(8)
    bowed = replace(flat, top=TableTop(bow_x_in=1 / 32))
    place = flat.frame_in_room.inward(np.array([[30.0, 0.0]]))
    foot = np.array(flat.projector.at_in[:2])
    r, height = np.linalg.norm([30.0, 0.0] - foot), flat.projector.at_in[2]

    aimed = bowed.true_table_from_screen(flat.true_screen_from_table(place))

    # z r / (H - z), z where the light meets the top: within a hundredth of that at the edge
    assert np.linalg.norm(aimed - place) == pytest.approx((1 / 32) * r / (height - 1 / 32), rel=0.01)
    fell, foot_in_frame = aimed[0], flat.frame_in_room.inward(foot[None])[0]
    assert np.linalg.norm(fell - foot_in_frame) < r


def test_curl_moves_printed_ink_in_the_photo_away_from_the_cameras_foot() -> None:
    table = PracticeTable.random(8)
    corner = SheetInches(np.array([[0.0, 5.5]]))
    sheet = replace(table.sheets[1], edge_lift_in=1 / 16, curl_deg=90.0)
    curled = replace(table, sheets=(table.sheets[0], sheet))
    ray = table.camera.rays_from_pixels(curled.camera_from_sheet(2, corner))[0]
    height = table.camera.at_in[2]
    seen_at = np.array(table.camera.at_in[:2]) + ray[:2] / -ray[2] * height
    true_at = table.frame_in_room.outward(table.table_from_sheet(2, corner))[0]
    foot = np.array(table.camera.at_in[:2])

    away = (true_at - foot) * (1 / 16) / (height - 1 / 16)  # z r / (H - z)

    assert seen_at - true_at == pytest.approx(away, rel=1e-6)
