"""The printed sheet as an independent reader of PDF (PDFium) puts it on paper."""

from pathlib import Path

import cv2
import numpy as np
import pypdfium2
import pytest

from calibration.frames import Array, Gray
from calibration.sheets.sheet import MOST_SHEETS, PAPERS, RULER_IN, SQUARE_IN, Paper, Sheet
from calibration.sheets.sheet_pdf import write_sheets

_POINTS = 72  # ISO 32000: an inch has 72 units of default user space
_CORNER_IN = 0.002

# ISO 216 for A4 in millimetres; ANSI/ASME Y14.1 size A (letter) in inches
SIZES_IN = {"a4": (210 / 25.4, 297 / 25.4), "letter": (8.5, 11.0)}


@pytest.fixture(scope="module", params=list(SIZES_IN))
def paper(request: pytest.FixtureRequest) -> Paper:
    return PAPERS[request.param]


@pytest.fixture(scope="module")
def pdf(paper: Paper, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp(paper.name) / "sheets.pdf"
    write_sheets(path, paper, MOST_SHEETS)
    return path


def raster(pdf: Path, number: int, dots_per_inch: int) -> Gray:
    with pypdfium2.PdfDocument(pdf) as document:
        page = document[number - 1].render(scale=dots_per_inch / _POINTS, grayscale=True).to_numpy()
    return np.asarray(page, dtype=np.uint8).reshape(page.shape[:2]).copy()


def pixels_of(points_in: Array, page: Gray, paper: Paper) -> Array:
    """Inches from the page's centre to pixels: PDFium fits the page to whole pixels on either side."""
    size = np.array(page.shape[::-1])
    scale = size / [paper.width_in, paper.height_in]
    pixels: Array = points_in * [1, -1] * scale + size / 2 - 0.5
    return pixels


def test_pages_are_of_the_size_the_standards_say(pdf: Path, paper: Paper) -> None:
    with pypdfium2.PdfDocument(pdf) as document:
        assert len(document) == MOST_SHEETS
        for page in document:
            np.testing.assert_allclose(np.array(page.get_size()) / _POINTS, SIZES_IN[paper.name], atol=0.0005)


@pytest.mark.parametrize(("number", "dots_per_inch"), [(1, 300), (MOST_SHEETS, 400)])
def test_corners_of_squares_are_printed_where_they_are_said_to_be(
    pdf: Path, paper: Paper, number: int, dots_per_inch: int
) -> None:
    page = raster(pdf, number, dots_per_inch)
    corners = Sheet(paper=paper, number=number).corners_in
    wanted = pixels_of(corners, page, paper)
    start = np.rint(wanted + [3, -2]).astype(np.float32).reshape(-1, 1, 2)
    stop = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_COUNT, 100, 1e-4)
    found = np.asarray(cv2.cornerSubPix(page, start, (15, 15), (-1, -1), stop)).reshape(-1, 2)
    np.testing.assert_allclose(found, wanted, atol=_CORNER_IN * dots_per_inch)


def test_ruler_measures_what_it_says(pdf: Path, paper: Paper) -> None:
    dots_per_inch = 400
    page = raster(pdf, 1, dots_per_inch)
    left = np.array([[-2.5 * SQUARE_IN - 0.5, 0.0], [-2.5 * SQUARE_IN - 0.02, 0.0]])
    columns = np.rint(pixels_of(left, page, paper)[:, 0]).astype(int)
    black = np.pad(page[:, columns[0] : columns[1]].T < 128, ((0, 0), (1, 1))).astype(int)
    starts_and_ends = np.nonzero(np.diff(black.ravel()))[0].reshape(-1, 2)
    longest = np.diff(starts_and_ends, axis=1).max() / page.shape[0] * paper.height_in
    assert longest == pytest.approx(RULER_IN, abs=1.5 / dots_per_inch)


@pytest.mark.parametrize("number", [1, 4, MOST_SHEETS])
def test_opencv_reads_the_markers_of_each_sheet(pdf: Path, paper: Paper, number: int) -> None:
    page = raster(pdf, number, 150)
    sheet = Sheet(paper=paper, number=number)
    detector = cv2.aruco.ArucoDetector(cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_250))
    corners, numbers, _ = detector.detectMarkers(page)
    seen = dict(zip(np.ravel(numbers).tolist(), np.reshape(corners, (-1, 4, 2)), strict=True))
    assert tuple(sorted(seen)) == sheet.marker_ids
    for marker, drawn in zip(sheet.marker_ids, sheet.marker_corners_in, strict=True):
        np.testing.assert_allclose(seen[marker], pixels_of(drawn, page, paper), atol=2)


@pytest.mark.parametrize("number", [1, MOST_SHEETS])
def test_picture_and_print_agree_to_a_pixel(pdf: Path, paper: Paper, number: int) -> None:
    """The farthest stray pixel both ways: ink in one with none beside it in the other."""
    dots_per_inch = 144
    printed = raster(pdf, number, dots_per_inch)
    page = Sheet(paper=paper, number=number).page(dots_per_inch)
    height, width = (min(sides) for sides in zip(printed.shape, page.shape, strict=True))
    printed, page = printed[:height, :width], page[:height, :width]
    around = np.ones((3, 3), dtype=np.uint8)
    for one, other in ((printed, page), (page, printed)):
        near_ink = np.asarray(cv2.erode(other, around))  # dark wherever ink is within a pixel
        assert not ((one < 64) & (near_ink > 192)).any()
