"""What is typed after a verb."""

from argparse import ArgumentTypeError
from collections.abc import Callable

import pytest

from projector.arguments import area_in, pixels, place_in, positive_in, tape, turn_deg


@pytest.mark.parametrize(
    ("read", "text", "value"),
    [
        (pixels, "1920x1080", (1920, 1080)),
        (pixels, " 1280 X 800 ", (1280, 800)),
        (place_in, "4 in, -2 1/2 in", (4.0, -2.5)),
        (place_in, "25.4mm,0", (1.0, 0.0)),
        (area_in, "36x24in", (36.0, 24.0)),
        (area_in, "50.8 x 25.4 mm", (2.0, 1.0)),
        (area_in, "36in x 1 1/2 in", (36.0, 1.5)),
        (tape, "1-3=48 1/4 in", ((1, 3), 48.25)),
        (tape, "3-1 = 48in", ((1, 3), 48.0)),
        (turn_deg, "-12.5", -12.5),
        (positive_in, "15mm", 75 / 127),
    ],
)
def test_values_are_read_as_people_write_them(
    read: Callable[[str], object], text: str, value: object
) -> None:
    assert read(text) == value


@pytest.mark.parametrize(
    ("read", "text", "complaint"),
    [
        (pixels, "1920", '"1920" is not a size in pixels such as 1920x1080'),
        (pixels, "1x1", "1x1 is not the size of a screen"),
        (pixels, "99999x99999", "is not the size of a screen"),
        (place_in, "4", '"4" is not a place'),
        (place_in, "4,five", "a length"),
        (area_in, "36", '"36" is not a width and height'),
        (tape, "1-1=48in", "is not a measured distance"),
        (tape, "1=48in", "is not a measured distance"),
        (tape, "1-2=-4in", "must be more than nothing"),
        (turn_deg, "ten", "is not a number of degrees"),
        (turn_deg, "nan", "is not a number of degrees"),
        (positive_in, "0 in", "must be more than nothing"),
    ],
)
def test_nonsense_is_named(read: Callable[[str], object], text: str, complaint: str) -> None:
    with pytest.raises(ArgumentTypeError, match=complaint):
        read(text)
