import itertools
from pathlib import Path

import numpy as np
import pytest
import shapely

from calibration.errors import AlignmentError
from calibration.sheets.markers import PRINTED
from calibration.sheets.sheet import (
    MARKER_IN,
    MARKERS_IN_USE,
    MOST_SHEETS,
    PAPERS,
    PRINTER_MARGIN_IN,
    RULER_IN,
    SQUARE_IN,
    Paper,
    Sheet,
)
from calibration.sheets.sheet_pdf import write_sheets
from calibration.trust.loop_crosses import margin_places

EVERY_PAPER = pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS.keys())


def sheet_of(paper: Paper, number: int = 1) -> Sheet:
    return Sheet(paper=paper, number=number)


def test_no_marker_is_on_two_sheets_of_either_paper() -> None:
    numbers = [
        number
        for paper, sheet in itertools.product(PAPERS.values(), range(1, MOST_SHEETS + 1))
        for number in sheet_of(paper, sheet).marker_ids
    ]
    assert len(set(numbers)) == len(numbers) == MARKERS_IN_USE
    assert max(numbers) < PRINTED.size


def test_corners_are_a_grid_about_the_page_centre() -> None:
    corners = sheet_of(PAPERS["letter"]).corners_in
    np.testing.assert_allclose(corners[0], [-2.1, 3.5])
    np.testing.assert_allclose(corners[-1], [2.1, -3.5])
    np.testing.assert_allclose(corners.mean(axis=0), 0, atol=1e-12)
    np.testing.assert_allclose(np.diff(corners.reshape(6, 4, 2)[:, :, 0], axis=1), SQUARE_IN)


@EVERY_PAPER
def test_ink_does_not_overlap_and_keeps_the_printer_margin(paper: Paper) -> None:
    for number in (1, MOST_SHEETS):
        ink = sheet_of(paper, number).ink_in
        boxes = shapely.box(*ink.T)
        assert shapely.area(boxes).sum() == pytest.approx(shapely.area(shapely.unary_union(boxes)), abs=1e-9)
        limit = np.array([paper.width_in, paper.height_in]) / 2 - PRINTER_MARGIN_IN
        assert (np.abs(ink.reshape(-1, 2)) <= limit + 1e-9).all()


@EVERY_PAPER
def test_nothing_but_four_squares_is_near_a_corner(paper: Paper) -> None:
    """The window that a corner is fitted in must hold two edges and nothing else."""
    sheet = sheet_of(paper, 4)
    scale = 100
    page = sheet.page(scale) < 128
    middle = np.array(page.shape[::-1]) / 2
    reach = int(0.18 * SQUARE_IN * scale)
    for corner in np.rint(sheet.corners_in * [scale, -scale] + middle).astype(int):
        window = page[corner[1] - reach : corner[1] + reach, corner[0] - reach : corner[0] + reach]
        quarters = [
            window[: reach - 1, : reach - 1],
            window[: reach - 1, reach + 1 :],
            window[reach + 1 :, reach + 1 :],
            window[reach + 1 :, : reach - 1],
        ]
        black = [quarter.mean() for quarter in quarters]
        assert black in ([0, 1, 0, 1], [1, 0, 1, 0])


@EVERY_PAPER
def test_markers_stand_where_they_are_said_to_stand(paper: Paper) -> None:
    sheet = sheet_of(paper, 2)
    scale = 50
    page = sheet.page(scale)
    middle = np.array(page.shape[::-1]) / 2
    module = MARKER_IN / PRINTED.modules
    for number, corners in zip(sheet.marker_ids, sheet.marker_corners_in, strict=True):
        steps = (np.arange(PRINTED.modules) + 0.5) * module
        x, y = corners[0][0] + steps, corners[0][1] - steps
        columns, rows = (x * scale + middle[0]).astype(int), (-y * scale + middle[1]).astype(int)
        np.testing.assert_array_equal(page[np.ix_(rows, columns)] < 128, PRINTED.marker(number))


def test_every_sheet_is_a_picture_of_its_own() -> None:
    pages = {sheet_of(paper, number).page(8).tobytes() for paper in PAPERS.values() for number in range(1, 8)}
    assert len(pages) == MOST_SHEETS * len(PAPERS)


def test_crosses_start_at_the_centre_and_reach_the_corners() -> None:
    for paper in PAPERS.values():
        crosses = sheet_of(paper).crosses_in
        np.testing.assert_array_equal(crosses[0], [0, 0])
        np.testing.assert_array_equal(np.sign(crosses[1:]), [(-1, 1), (1, 1), (1, -1), (-1, -1)])
        assert (np.linalg.norm(crosses[1:], axis=1) > 6).all()


def test_a_page_shows_ink_by_the_share_of_a_pixel_it_covers() -> None:
    sheet = sheet_of(PAPERS["letter"])
    page = sheet.page(10.0)
    assert page.shape == (110, 85)
    ink = (255 - page.astype(float)).sum() / 255 / 100
    boxes = sheet.ink_in
    area = ((boxes[:, 2] - boxes[:, 0]) * (boxes[:, 3] - boxes[:, 1])).sum()
    assert ink == pytest.approx(area, rel=0.002)  # grey levels are whole numbers


def test_the_page_is_about_its_middle_whatever_its_pixels() -> None:
    """An A4 page is no whole number of pixels; its corners are counted from the middle all the same."""
    sheet = sheet_of(PAPERS["a4"])
    for scale in (37.3, 96.0):
        page = sheet.page(scale)
        middle = (np.array(page.shape[::-1]) - 1) / 2
        corner = sheet.corners_in[0] * [scale, -scale] + middle
        column = page[:, int(corner[0] - 0.12 * scale)].astype(float) / 255
        inside = column[int(corner[1] - 0.2 * scale) : int(corner[1] + 0.2 * scale) + 1]
        start = int(corner[1] - 0.2 * scale) - 0.5
        white_first = inside[0] > 0.5
        edge = start + (inside.sum() if white_first else len(inside) - inside.sum())
        assert edge == pytest.approx(corner[1], abs=0.02)


def test_the_ruler_is_as_long_as_it_says() -> None:
    ink = sheet_of(PAPERS["letter"]).ink_in
    left = ink[(ink[:, 2] < -SQUARE_IN * 2.5) & (ink[:, 3] - ink[:, 1] > 7)]
    assert len(left) == 1
    assert left[0, 3] - left[0, 1] == pytest.approx(RULER_IN, abs=1e-12)


@pytest.mark.parametrize("number", [0, 8])
def test_sheets_have_numbers_from_one_to_seven(number: int) -> None:
    with pytest.raises(ValueError, match="1 to 7"):
        sheet_of(PAPERS["a4"], number)


def test_pdf_is_written_whole(tmp_path: Path) -> None:
    path = tmp_path / "sheets.pdf"
    path.write_text("what stood there before")
    write_sheets(path, PAPERS["letter"], 2)
    assert path.read_bytes().startswith(b"%PDF-")
    assert path.read_bytes().rstrip().endswith(b"%%EOF")
    assert [entry.name for entry in tmp_path.iterdir()] == ["sheets.pdf"]


@pytest.mark.parametrize("count", [0, 8])
def test_a_count_beyond_the_sheets_is_refused(tmp_path: Path, count: int) -> None:
    with pytest.raises(AlignmentError) as refusal:
        write_sheets(tmp_path / "sheets.pdf", PAPERS["a4"], count)
    assert str(refusal.value) == f"found {count} sheets asked for; there are 1 to 7: ask for so many"
    assert not list(tmp_path.iterdir())


def test_a_folder_that_is_not_there_is_refused_in_words(tmp_path: Path) -> None:
    path = tmp_path / "no such folder" / "sheets.pdf"
    with pytest.raises(AlignmentError) as refusal:
        write_sheets(path, PAPERS["letter"], 1)
    assert str(refusal.value) == (
        f"could not write the sheets to {path} (No such file or directory); name a file in a folder that "
        "you may write to"
    )


def test_a_folder_in_the_place_of_the_file_is_refused_and_nothing_left(tmp_path: Path) -> None:
    path = tmp_path / "sheets.pdf"
    path.mkdir()
    with pytest.raises(AlignmentError, match="could not write the sheets"):
        write_sheets(path, PAPERS["letter"], 1)
    assert [entry.name for entry in tmp_path.iterdir()] == ["sheets.pdf"]


def test_the_crosses_carry_a_scale_in_sixteenths() -> None:
    sheet = sheet_of(PAPERS["letter"])
    x, y = sheet.crosses_in[1]
    boxes = sheet.ink_in
    middles = (boxes[:, :2] + boxes[:, 2:]) / 2 - (x, y)
    sides = boxes[:, 2:] - boxes[:, :2]
    ticks = (np.abs(middles).max(axis=1) < 0.2) & (sides.min(axis=1) < 0.01)
    along = np.abs(middles[ticks]).max(axis=1)
    np.testing.assert_allclose(np.unique(along.round(9)), [1 / 16, 1 / 8, 3 / 16])
    assert ticks.sum() == 3 * 4 * 2
    longer = sides[ticks].max(axis=1)
    assert longer[np.isclose(along, 1 / 8)].min() > longer[~np.isclose(along, 1 / 8)].max()


@EVERY_PAPER
def test_the_margin_is_white_where_crosses_of_light_fall(paper: Paper) -> None:
    """Ink under a cross's dark square would shift its centre of light."""
    clear = shapely.box(*np.hstack([margin_places(paper) - 0.3, margin_places(paper) + 0.3]).T)
    ink = shapely.box(*sheet_of(paper, 3).ink_in.T)
    assert not shapely.intersects(shapely.unary_union(ink), clear).any()
    page = shapely.box(-paper.width_in / 2, -paper.height_in / 2, paper.width_in / 2, paper.height_in / 2)
    assert shapely.contains(page, clear).all()
