"""A page as pixels: what is black, where, and how dark."""

import numpy as np

from patterns.paper.page import Page, PageArea, PageLines, PageWords, level
from projector.pictures.page_picture import page_pixels

LINE = np.array([(0.5, -0.5), (2.5, -0.5)])


def test_lines_areas_and_words_lie_where_the_page_has_them() -> None:
    box = np.array([(0.5, -1.0), (1.0, -1.0), (1.0, -1.5), (0.5, -1.5)])
    page = Page(
        title="page",
        size_in=(3.0, 2.0),
        items=(
            PageLines(paths=[LINE], width_in=0.05),
            PageArea(outline=box, shade=0.5),
            PageWords(label=level("H", (2.0, -1.25), 0.4), starts_there=True),
        ),
    )
    pixels = page_pixels(page, 100)
    assert pixels.shape == (200, 300, 3)
    dark = pixels[..., 0] < 64
    assert dark[50, 60:240].all()
    assert not dark[40].any()
    assert abs(int(pixels[125, 75, 0]) - 128) <= 1
    rows, columns = np.nonzero(dark[90:])
    assert abs(rows.min() + 90 - 105) <= 2  # a capital 0.4 in high about its middle
    assert abs(rows.max() + 90 - 145) <= 2
    assert 200 <= columns.min() < 210


def test_dashes_are_left_out() -> None:
    page = Page(
        title="page",
        size_in=(3.0, 1.0),
        items=(PageLines(paths=[LINE], width_in=0.05, dash_in=(0.5, 0.25)),),
    )
    row = page_pixels(page, 100)[50, :, 0] < 128
    assert int(np.diff(row.astype(int)).clip(0).sum()) == 3  # dashes in two inches
    assert row[52]
    assert row[247]
