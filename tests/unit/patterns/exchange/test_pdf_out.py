"""The exported PDF as another library prints it, measured on the print."""

from dataclasses import replace
from functools import lru_cache

import numpy as np
import numpy.typing as npt
import pypdfium2
import pytest
import shapely

from patterns.errors import PatternError
from patterns.exchange.marked import marked_pieces
from patterns.exchange.pdf_out import one_page_pdf, tiled_pdf
from patterns.exchange.tiles import MARGIN_IN, OVERLAP_IN, PAPERS_IN, Tiling
from patterns.measures import Unit
from tests.unit.patterns.exchange.exchanged import drafted, exported, laid_out

DPI = 300
DARK = 110  # of 255: a black line, its soft rim with it; sheets are named in a paler grey
DOT_IN = 1 / DPI

Print = npt.NDArray[np.uint8]


@lru_cache
def printed(content: bytes, number: int = 0) -> Print:
    """A page in grey, (h, w)."""
    document = pypdfium2.PdfDocument(content)
    page = document[number].render(scale=DPI / 72, grayscale=True).to_numpy()
    return np.asarray(page, dtype=np.uint8).reshape(page.shape[:2])


def middle_of_line(row: Print, near: int, reach: int = 20) -> float:
    """Where along a row of dots the dark line is whose middle is near a dot."""
    low = max(near - reach, 0)
    dark = 255.0 - row[low : near + reach]
    dark[dark < 255 - DARK] = 0
    return low + float((dark * np.arange(len(dark))).sum() / dark.sum())


@lru_cache
def tiled(name: str, paper: str) -> tuple[bytes, Tiling]:
    pattern = drafted(name)
    return tiled_pdf(pattern.name, marked_pieces(pattern), paper, pattern.unit)


def test_one_page_is_as_large_as_the_pieces_and_prints_its_square_true() -> None:
    content, (wide, high) = exported("practice pocket", "pdf"), laid_out("practice pocket").size_in
    page = printed(content)
    assert page.shape == pytest.approx(((high + 3) * DPI, wide * DPI), abs=1.5)
    left, bottom = 0.5, high + 2.5  # inches of the square's corner from the page's top left
    row = page[round((bottom - 1.8) * DPI)]
    across = [middle_of_line(row, round((left + side) * DPI)) for side in (0.0, 2.0)]
    column = page[:, round((left + 0.2) * DPI)]
    down = [middle_of_line(column, round((bottom - side) * DPI)) for side in (2.0, 0.0)]
    for start, end in (across, down):
        assert (end - start) / DPI == pytest.approx(2.0, abs=DOT_IN / 2)


def test_two_points_of_the_cut_line_are_as_far_apart_in_print_as_on_the_piece() -> None:
    page = printed(exported("practice pocket", "pdf"))
    (marked,) = laid_out("practice pocket").pieces
    piece, at = marked.piece, marked.placement
    across_in = 1.0  # from the fold, through the hem's cut edge above and the bottom's below
    crossed = shapely.LinearRing(piece.cut_line).intersection(
        shapely.LineString([(across_in, -9), (across_in, 9)])
    )
    meant = sorted(shapely.get_coordinates(crossed)[:, 1])
    column = page[:, round((at.x_in + across_in) * DPI)]
    found = [middle_of_line(column, round((y - at.y_in) * DPI), reach=8) for y in meant]
    assert meant[0] == pytest.approx(-1.0)
    assert (found[1] - found[0]) / DPI == pytest.approx(meant[1] - meant[0], abs=DOT_IN)


@pytest.mark.parametrize(("name", "paper"), [("harbour overtop", "letter"), ("practice pocket", "a4")])
def test_sheets_show_all_of_the_pieces_and_are_named_by_row_and_column(name: str, paper: str) -> None:
    content, tiling = tiled(name, paper)
    document = pypdfium2.PdfDocument(content)
    assert len(document) == len(tiling.tiles) + 1  # the plan first
    sizes = {tuple(round(side / 72, 3) for side in document[i].get_size()) for i in range(len(document))}
    assert sizes == {tuple(round(side, 3) for side in tiling.paper_in)}
    assert set(tiling.paper_in) == set(PAPERS_IN[paper])
    shown = shapely.union_all([tiling.shown(tile) for tile in tiling.tiles])
    for marked in tiling.sheet.pieces:
        for line in marked.lines:
            assert shown.covers(shapely.LineString(line.points))
    rows, columns = tiling.rows_and_columns
    assert (len(tiling.tiles) < rows * columns) is (name == "harbour overtop")  # what is empty is left out
    for number, tile in enumerate(tiling.tiles, start=1):
        text = document[number].get_textpage().get_text_bounded()
        assert tile.name == f"{'ABCDEFGH'[tile.row]}{tile.column + 1}"
        assert f"{tile.name} {tiling.sheet.name} row {'ABCDEFGH'[tile.row]} of {rows}, column" in text
        assert "2 in square:" in text
    plan = document[0].get_textpage().get_text_bounded()
    assert all(tile.name in plan for tile in tiling.tiles)
    assert "100 %" in plan
    assert "left to right" in plan


def test_each_sheet_prints_its_square_true_and_neighbours_meet_on_the_frame() -> None:
    content, tiling = tiled("harbour overtop", "letter")
    wide, high = tiling.frame_in
    assert (wide, high) == pytest.approx((8.5 - 2 * MARGIN_IN - OVERLAP_IN, 11 - 2 * MARGIN_IN - OVERLAP_IN))
    one, two = tiling.tiles[:2]
    assert (one.name, two.name) == ("A1", "A2")
    seen = []
    for number, tile, frame_in in ((1, one, wide), (2, two, 0.0)):
        page = printed(content, number)
        column = page[
            :, round((MARGIN_IN + frame_in + 0.05) * DPI)
        ]  # a little beyond the line where they are joined
        inside = column[round((MARGIN_IN + 0.3) * DPI) : round((MARGIN_IN + high - 0.3) * DPI)]
        seen.append(np.flatnonzero(inside < DARK))
        assert tile.top_in == 0.0
    assert len(seen[0]) > 3  # the overarm crosses there
    assert seen[0] == pytest.approx(seen[1], abs=1)


def test_pieces_too_long_for_a_page_are_told_so() -> None:
    sheet = replace(laid_out("practice pocket"), size_in=(200.25, 12.0))
    with pytest.raises(
        PatternError, match=r"a page of a PDF is at most 200 in long; name fewer with --piece"
    ):
        one_page_pdf(sheet, Unit.IN)
