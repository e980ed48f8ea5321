from dataclasses import replace

import numpy as np
import pytest

from calibration.errors import AlignmentError
from calibration.frames import Array
from calibration.sheets.markers import PROJECTED
from calibration.sheets.sheet import PAPERS
from calibration.sheets.targets import Targets

SCREENS = [(1920, 1080), (1280, 800), (1024, 768), (800, 450), (3840, 2160), (1366, 768), (1400, 1050)]
EVERY_LAYOUT = pytest.mark.parametrize(
    ("screen_px", "sheets"), [(screen, sheets) for screen in SCREENS for sheets in (1, 3, 5, 6, 7)]
)


def targets_of(screen_px: tuple[int, int], sheets: int) -> Targets:
    return Targets(screen_px=screen_px, sheets=sheets, paper=PAPERS["letter"])


@EVERY_LAYOUT
def test_four_plain_squares_meet_at_every_corner(screen_px: tuple[int, int], sheets: int) -> None:
    targets = targets_of(screen_px, sheets)
    frame = targets.frame()
    assert frame.shape == screen_px[::-1]
    reach = int(0.18 * targets.square_px)
    edges = targets.corners_px + 0.5
    np.testing.assert_array_equal(edges, np.rint(edges))
    for u, v in edges.astype(int):
        window = frame[v - reach : v + reach, u - reach : u + reach]
        assert window.shape == (2 * reach, 2 * reach)
        quarters = [
            window[:reach, :reach],
            window[:reach, reach:],
            window[reach:, reach:],
            window[reach:, :reach],
        ]
        assert [set(np.unique(quarter)) for quarter in quarters] in (
            [{255}, {0}, {255}, {0}],
            [{0}, {255}, {0}, {255}],
        )


@EVERY_LAYOUT
def test_windows_leave_light_all_round(screen_px: tuple[int, int], sheets: int) -> None:
    targets = targets_of(screen_px, sheets)
    corners = targets.corners_px
    assert len(corners) >= 100
    assert (corners.min(axis=0) < targets.square_px).all()
    assert (corners.max(axis=0) > np.array(screen_px) - targets.square_px).all()
    quarters = {tuple(place) for place in corners > np.array(screen_px) / 2}
    assert len(quarters) == 4


@EVERY_LAYOUT
def test_pages_lie_in_white_and_apart(screen_px: tuple[int, int], sheets: int) -> None:
    targets = targets_of(screen_px, sheets)
    frame = targets.frame()
    assert len(targets.windows) == sheets
    inch = screen_px[0] / 64
    for page in targets.windows:
        left, top = np.floor(page.min(axis=0)).astype(int)
        right, bottom = np.ceil(page.max(axis=0)).astype(int)
        assert (frame[top:bottom, left:right] == 255).all()
        sides = np.linalg.norm(np.diff(page, axis=0), axis=1)
        np.testing.assert_allclose(sides, [8.5 * inch, 11 * inch, 8.5 * inch])


@pytest.mark.parametrize(("sheets", "ways"), [(1, 1), (2, 2), (3, 3), (7, 3)])
def test_sheets_are_told_how_to_be_turned(sheets: int, ways: int) -> None:
    tops = {tuple(np.sign(np.rint(page[1] - page[0]))) for page in targets_of((1920, 1080), sheets).windows}
    assert len(tops) == ways
    for page in targets_of((1920, 1080), sheets).windows:
        across, down = page[1] - page[0], page[3] - page[0]
        assert across[0] * down[1] - across[1] * down[0] > 0  # seen from above, not from below the table


def test_sheet_one_is_near_the_middle_and_the_words_are_off_its_page() -> None:
    targets = targets_of((1920, 1080), 5)
    middles = np.array([page.mean(axis=0) for page in targets.windows]) - [960, 540]
    assert np.linalg.norm(middles[0]) < 80
    assert (np.abs(middles[1:, 0]) > 400).all()


def words_in_window(targets: Targets, page: Array) -> tuple[int, int]:
    """Dark pixels just beyond the page's top and just beyond its foot."""
    frame = targets.frame()
    up = (page[0] - page[3]) / np.linalg.norm(page[0] - page[3])
    counts = []
    for start, out in ((page[[0, 1]], up), (page[[3, 2]], -up)):
        strip = np.linspace(start[0], start[1], 200)[:, None] + np.arange(4, 32)[:, None] * out
        columns, rows = np.rint(strip).astype(int).reshape(-1, 2).T
        counts.append(int((frame[rows, columns] == 0).sum()))
    return counts[0], counts[1]


def test_words_stand_at_the_top_end_of_each_page() -> None:
    targets = targets_of((1920, 1080), 5)
    for page in targets.windows:
        at_top, at_foot = words_in_window(targets, page)
        assert at_top > 50
        assert at_foot == 0


@EVERY_LAYOUT
def test_a_row_kept_dark_for_words_takes_its_corners_and_markers_along(
    screen_px: tuple[int, int], sheets: int
) -> None:
    whole = targets_of(screen_px, sheets)
    worded = replace(whole, dark_rows=1)
    below = worded.dark_from_px
    assert whole.square_px <= screen_px[1] - below < 2.1 * whole.square_px
    assert not worded.frame()[below:].any()
    np.testing.assert_array_equal(worded.frame()[:below], whole.frame()[:below])
    for page, same in zip(worded.windows, whole.windows, strict=True):
        np.testing.assert_array_equal(page, same)
        assert page[:, 1].max() < below
    above = whole.corners_px[:, 1] < below - 1
    np.testing.assert_array_equal(worded.corners_px, whole.corners_px[above])
    places = worded.marker_places
    assert set(places) == {n for n, place in whole.marker_places.items() if place[:, 1].max() < below}


def test_more_rows_than_the_windows_leave_free_are_a_mistake() -> None:
    with pytest.raises(ValueError, match="one row at most is free for words, found 2 asked for"):
        Targets(screen_px=(1920, 1080), sheets=5, paper=PAPERS["letter"], dark_rows=2)


@pytest.mark.parametrize("sheets", [1, 5, 7])
def test_markers_are_drawn_where_they_are_said_to_be(sheets: int) -> None:
    targets = targets_of((1920, 1080), sheets)
    frame = targets.frame()
    assert len(targets.marker_places) >= 60
    for number, place in targets.marker_places.items():
        (left, top), (right, bottom) = place[0] + 0.5, place[2] + 0.5
        module = (right - left) / PROJECTED.modules
        assert module == int(module)
        seen = frame[int(top) : int(bottom), int(left) : int(right)][:: int(module), :: int(module)]
        np.testing.assert_array_equal(seen == 0, PROJECTED.marker(number))
        assert number < targets.markers_in_use <= PROJECTED.size


def test_a_marker_tells_its_place_whatever_the_windows() -> None:
    few, many = targets_of((1920, 1080), 1).marker_places, targets_of((1920, 1080), 7).marker_places
    for number in set(few) & set(many):
        np.testing.assert_array_equal(few[number], many[number])


@pytest.mark.parametrize(
    ("screen_px", "sheets", "sentence"),
    [
        ((1920, 1080), 0, "found 0 sheets asked for; there are 1 to 7: ask for so many"),
        ((1920, 1080), 8, "found 8 sheets asked for; there are 1 to 7: ask for so many"),
        (
            (1080, 1920),
            2,
            "the screen is 1080x1920; it must be wider than high: turn its picture to landscape",
        ),
        (
            (640, 480),
            2,
            "the screen is 640x480; the marks need 800x450 or more, with 7 or more of height to 16 of "
            "width: choose a larger screen mode",
        ),
        (
            (2560, 1080),
            2,
            "the screen is 2560x1080; the marks need 800x450 or more, with 7 or more of height to 16 of "
            "width: choose a larger screen mode",
        ),
    ],
)
def test_screens_without_room_are_refused(screen_px: tuple[int, int], sheets: int, sentence: str) -> None:
    with pytest.raises(AlignmentError) as refusal:
        targets_of(screen_px, sheets)
    assert str(refusal.value) == sentence
