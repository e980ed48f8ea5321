"""Ink on a white page: where it lies, how wide, and in which colour."""

import numpy as np
import pytest

from calibration.frames import Array
from projector.lighting.ink import Filled, Lines, arrow, page, words
from projector.lighting.letters import words_width

BLACK = (0, 0, 0)
SIZE_PX = (120, 80)


def ink_of(*inks: Lines | Filled) -> Array:
    """(h, w) share of each pixel that is inked, 0 to 1."""
    shares: Array = 1 - page(SIZE_PX, inks).mean(axis=2) / 255
    return shares


def middle(inked: Array) -> Array:
    down, across = np.mgrid[: SIZE_PX[1], : SIZE_PX[0]]
    centre: Array = np.array([(across * inked).sum(), (down * inked).sum()]) / inked.sum()
    return centre


def test_a_page_without_ink_is_white() -> None:
    assert page(SIZE_PX, []).shape == (80, 120, 3)
    assert (page(SIZE_PX, []) == 255).all()


@pytest.mark.parametrize("width_px", [1.0, 2.0, 3.0])
def test_a_line_has_its_width_and_lies_on_its_points(width_px: float) -> None:
    path = np.array([(20.0, 30.25), (100.0, 30.25)])
    inked = ink_of(Lines(paths=[path], width_px=width_px, colour=BLACK))
    assert inked[:, 40:80].sum() / 40 == pytest.approx(width_px, abs=0.35)
    assert middle(inked) == pytest.approx([60, 30.25], abs=0.35)


def test_an_area_is_filled_but_for_its_hole_and_later_ink_lies_on_top() -> None:
    outer = np.array([(10.0, 10.0), (50.0, 10.0), (50.0, 50.0), (10.0, 50.0)])
    hole = outer / 2 + 15
    picture = page(SIZE_PX, [Filled(contours=[outer, hole], colour=BLACK)])
    assert (picture[12, 30] == 0).all()
    assert (picture[30, 30] == 255).all()
    red = page(SIZE_PX, [Filled(contours=[outer], colour=BLACK), Filled(contours=[hole], colour=(200, 0, 0))])
    assert red[30, 30].tolist() == [200, 0, 0]


def test_words_stand_on_their_base_line_from_their_left_end() -> None:
    inked = ink_of(words("HH", (20.0, 60.0), 30.0, BLACK))
    rows, columns = np.flatnonzero(inked.sum(axis=1) > 0.5), np.flatnonzero(inked.sum(axis=0) > 0.5)
    assert (rows[0], rows[-1]) == pytest.approx((30, 60), abs=1)
    assert columns[0] > 20
    assert columns[-1] < 20 + words_width("HH") * 30
    assert columns[-1] - columns[0] > 0.8 * words_width("HH") * 30


def test_an_arrow_ends_at_its_tip_and_a_short_one_has_a_small_head() -> None:
    start, tip = np.array([20.0, 40.0]), np.array([80.0, 40.0])
    inked = ink_of(*arrow(start, tip, 2.0, 10.0, BLACK))
    columns = np.flatnonzero(inked.sum(axis=0) > 0.3)
    assert (columns[0], columns[-1]) == pytest.approx((20, 80), abs=1.5)
    assert inked[:, 72].sum() > 2 * inked[:, 40].sum()
    _, head = arrow(start, start + (4.0, 0.0), 1.0, 10.0, BLACK)
    assert isinstance(head, Filled)
    assert np.ptp(head.contours[0][:, 0]) == pytest.approx(2.0)
    assert arrow(start, start, 1.0, 10.0, BLACK) == ()
