"""The measure of where light fell, on lines drawn in the right place and in wrong ones."""

import cv2
import numpy as np
import pytest

from calibration.frames import Array, Gray, TableInches
from calibration.practice.table import Faults, PracticeTable

TABLE = PracticeTable.random(6, faults=Faults.usual())
ROOM_OUTLINE = np.array([(-12, -9), (-12, 9), (5, 12), (14, 6), (10, -10)], dtype=np.float64)


def _closed(room: Array) -> TableInches:
    return TableInches(TABLE.frame_in_room.inward(np.concatenate([room, room[:1]])))


def _lit(line: TableInches) -> Gray:
    """A frame with the line drawn through the true map, straight lines bending as they must."""
    stops = np.linspace(0, len(line) - 1, 40 * len(line))
    dense = np.column_stack([np.interp(stops, np.arange(len(line)), line[:, axis]) for axis in range(2)])
    frame = np.zeros((1080, 1920), dtype=np.uint8)
    pixels = np.rint(TABLE.true_screen_from_table(dense) * 16).astype(np.int32)
    cv2.polylines(frame, [pixels], False, 255, 1, cv2.LINE_AA, 4)
    return frame


def test_a_line_in_its_place_is_measured_there() -> None:
    line = _closed(ROOM_OUTLINE)

    fell = TABLE.where_light_fell(_lit(line), [line])

    assert fell.rms_in < 0.003  # drawn without gamma a line of 1 px lies 0.05 px off, at 1/26 in a pixel
    assert fell.most_in < 0.01
    assert fell.p95_in < 0.005
    assert fell.unlit == 0.0
    assert fell.stray_in < 0.1  # two pixels, at the corners


@pytest.mark.parametrize("inside_in", [0.05, 0.19])
def test_a_shrunken_outline_lies_to_one_side_by_as_much(inside_in: float) -> None:
    line = _closed(np.array([(-10, -10), (10, -10), (10, 10), (-10, 10)], dtype=np.float64))
    shrunken = _closed(np.array([(-10, -10), (10, -10), (10, 10), (-10, 10)]) * (1 - inside_in / 10))

    fell = TABLE.where_light_fell(_lit(shrunken), [line])

    # counter-clockwise, so that inside is to the left
    assert fell.across_in == pytest.approx(np.full(len(fell.across_in), inside_in), abs=0.006)
    assert fell.rms_in == pytest.approx(inside_in, abs=0.002)


def test_a_missing_side_is_reported_as_unlit() -> None:
    line = _closed(np.array([(-10, -10), (10, -10), (10, 10), (-10, 10)], dtype=np.float64))

    fell = TABLE.where_light_fell(_lit(TableInches(line[:4])), [line])

    assert fell.unlit == pytest.approx(0.25, abs=0.01)


def test_stray_light_is_reported_by_its_distance() -> None:
    line = _closed(ROOM_OUTLINE)
    frame = _lit(line)
    spot = TABLE.true_screen_from_table(TABLE.frame_in_room.inward(np.array([[-17.0, 0.0]])))
    u, v = np.rint(spot[0]).astype(int)
    frame[v, u] = 255

    fell = TABLE.where_light_fell(frame, [line])

    assert fell.stray_in == pytest.approx(5.0, abs=0.03)
    assert fell.rms_in < 0.003


def test_a_coloured_frame_counts_by_its_brightest_channel() -> None:
    line = _closed(ROOM_OUTLINE)
    frame = np.zeros((1080, 1920, 3), dtype=np.uint8)
    frame[..., 1] = _lit(line)

    assert TABLE.where_light_fell(frame, [line]).rms_in < 0.003


def test_an_open_line_may_bend() -> None:
    line = TableInches(_closed(ROOM_OUTLINE)[:4])

    fell = TABLE.where_light_fell(_lit(line), [line])

    assert fell.unlit == 0.0
    assert fell.rms_in < 0.003


def test_a_dark_frame_is_refused() -> None:
    with pytest.raises(ValueError, match="none of the lines is lit"):
        TABLE.where_light_fell(np.zeros((1080, 1920), dtype=np.uint8), [_closed(ROOM_OUTLINE)])
