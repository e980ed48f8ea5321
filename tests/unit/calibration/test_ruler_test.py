"""The ruler test: what passes, what fails, and what is said of it."""

from datetime import UTC, datetime

import numpy as np
import pytest

from calibration.errors import AlignmentError
from calibration.trust.ruler_test import DIAGONALS_APART_IN, LENGTH_OFF_IN, RulerTest

SIDE_IN = 24.0
DIAGONAL_IN = SIDE_IN * float(np.sqrt(2))


def taped(
    across_in: float = 36.0,
    along_in: float = 24.0,
    one_in: float = DIAGONAL_IN,
    other_in: float = DIAGONAL_IN,
) -> RulerTest:
    return RulerTest(
        tested_on=datetime(2026, 11, 25, 8, tzinfo=UTC),
        lengths=((36.0, across_in), (24.0, along_in)),
        diagonals=((DIAGONAL_IN, one_in), (DIAGONAL_IN, other_in)),
    )


def test_the_limits_are_those_of_the_trade() -> None:
    """1/32 in across the table; diagonals of a 36 by 24 in rectangle, 43.27 in, within 1/16 (common practice)."""
    assert (LENGTH_OFF_IN, DIAGONALS_APART_IN) == (1 / 32, 1 / 16)
    assert np.hypot(36, 24) == pytest.approx(43.27, abs=0.005)
    diagonal_in = float(np.hypot(36, 24))
    for apart_in, passes in ((1 / 16, True), (5 / 64, False)):
        test = RulerTest(
            tested_on=datetime(2026, 11, 25, 8, tzinfo=UTC),
            lengths=((36.0, 36.0), (24.0, 24.0)),
            diagonals=((diagonal_in, diagonal_in + apart_in / 2), (diagonal_in, diagonal_in - apart_in / 2)),
        )
        assert test.passed is passes


@pytest.mark.parametrize(
    ("test", "passes", "words"),
    [
        (
            taped(),
            True,
            "Ruler test passed: the tape agrees with every line to 1/64 in, and the diagonals with each other to "
            "1/64 in.",
        ),
        (
            taped(36 + 1 / 32, 24 - 1 / 32, DIAGONAL_IN + 1 / 16),
            True,
            "Ruler test passed: the tape agrees with every line to 1/16 in, and the diagonals with each other to "
            "1/16 in.",
        ),
        (
            taped(other_in=DIAGONAL_IN + 1 / 8),
            False,
            "Ruler test FAILED: the diagonals differ by 1/8 in, so the shape is off. Something has moved, or the "
            "sheets did not lie flat: align again.",
        ),
        (
            taped(36.125, 24.083, DIAGONAL_IN * 1.0035, DIAGONAL_IN * 1.0035),
            False,
            "Ruler test FAILED: every line is 0.3 % too long, 1/8 in on 36 in. The shape is right and the size is "
            "off: try another tape; if it says the same, measure the printed ruler or the mat and align again.",
        ),
        (
            taped(35.75, 23.83, DIAGONAL_IN * 0.993, DIAGONAL_IN * 0.993),
            False,
            "Ruler test FAILED: every line is 0.7 % too short, 1/4 in on 36 in. The shape is right and the size is "
            "off: try another tape; if it says the same, measure the printed ruler or the mat and align again.",
        ),
        (
            taped(36.25, 23.75),
            False,
            "Ruler test FAILED: lines are up to 1/4 in off, each by another share, so the shape is off. Measure "
            "again from tick to tick; if it stays so, align again.",
        ),
        (
            taped(one_in=DIAGONAL_IN + 3 / 32, other_in=DIAGONAL_IN + 3 / 32),
            False,
            "Ruler test FAILED: lines are up to 3/32 in off, each by another share, so the shape is off. Measure "
            "again from tick to tick; if it stays so, align again.",
        ),
    ],
)
def test_the_result_is_said_with_what_to_do(test: RulerTest, passes: bool, words: str) -> None:
    assert test.passed is passes
    assert test.words == words


@pytest.mark.parametrize("over_in", [1 / 16, -1 / 16, 0.2, -0.2])
def test_one_length_off_fails_whatever_the_other(over_in: float) -> None:
    assert not taped(36 + over_in).passed
    assert not taped(along_in=24 + over_in).passed


def test_the_worst_is_the_most_of_all_four() -> None:
    assert taped(36.03).worst_in == pytest.approx(0.03)
    assert taped(one_in=DIAGONAL_IN - 0.05).worst_in == pytest.approx(0.05)


def test_what_no_tape_can_have_said_is_refused() -> None:
    with pytest.raises(AlignmentError) as error:
        taped(63.0)
    assert str(error.value) == (
        "line 1 is 36 in of light, but the tape is said to read 63 in; measure again from tick to tick, and "
        "mind the unit"
    )
    with pytest.raises(AlignmentError, match=r"line 4 is 33\.9411 in of light"):
        taped(other_in=86.2)
