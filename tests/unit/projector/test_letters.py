"""Letters as outlines."""

import pytest

from projector.lighting.letters import glyph, words_outline, words_width


def test_a_capital_is_one_high() -> None:
    points = glyph("H").points
    assert points.imag.min() == pytest.approx(0.0)
    assert points.imag.max() == pytest.approx(1.0)


def test_a_ring_has_two_contours_and_a_space_none() -> None:
    assert len(glyph("o").ends) == 2
    assert glyph(" ").ends == ()
    assert glyph(" ").advance > 0


@pytest.mark.parametrize("letter", "éßœŁñĞЖώ½°·")
def test_letters_of_many_tongues_are_there(letter: str) -> None:
    assert len(glyph(letter).points) != len(glyph("漢").points)


def test_a_letter_that_the_font_lacks_is_a_box_and_not_nothing() -> None:
    assert glyph("漢").ends == (4, 8)


def test_words_are_centred() -> None:
    outline = words_outline("HIH")
    assert outline.points[:, 0].min() == pytest.approx(-outline.points[:, 0].max(), abs=0.02)
    assert outline.points[:, 1].min() == pytest.approx(-0.5)
    assert words_width("HIH") == pytest.approx(2 * words_width("H") + words_width("I"))


def test_each_contour_knows_its_letter() -> None:
    assert words_outline("o i").letters.tolist() == [0, 0, 2, 2]
    assert len(words_outline("  ").points) == 0
