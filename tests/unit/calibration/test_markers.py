import cv2
import numpy as np
import pytest

from calibration.sheets.lettering import lettered
from calibration.sheets.markers import PRINTED, PROJECTED, Family


@pytest.mark.parametrize(
    ("family", "number"), [(PRINTED, 0), (PRINTED, 237), (PROJECTED, 0), (PROJECTED, 155)]
)
def test_markers_are_those_of_opencv(family: Family, number: int) -> None:
    whole = cv2.aruco.getPredefinedDictionary(family.opencv_number)
    drawn = np.asarray(cv2.aruco.generateImageMarker(whole, number, family.modules))
    np.testing.assert_array_equal(family.marker(number), drawn == 0)


def test_a_border_of_black_goes_round_every_marker() -> None:
    for number in range(PRINTED.size):
        black = PRINTED.marker(number)
        assert black[[0, -1]].all()
        assert black[:, [0, -1]].all()


@pytest.mark.parametrize("number", [-1, 250])
def test_numbers_beyond_the_family_are_refused(number: int) -> None:
    with pytest.raises(ValueError, match="250"):
        PRINTED.marker(number)


def test_letters_differ_from_one_another() -> None:
    letters = "ABCDILMPSTabcdefghijklmnopqrstuvwxyz0123456789.,:-/%^"
    drawn = {lettered(letter).tobytes() for letter in letters}
    assert len(drawn) == len(letters)


def test_words_are_as_wide_as_their_letters() -> None:
    assert lettered("sheet 1").shape == (9, 7 * 6 - 1)


def test_a_letter_that_is_not_drawn_is_an_error() -> None:
    with pytest.raises(KeyError):
        lettered("&")
