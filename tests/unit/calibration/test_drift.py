"""What a drift test may say."""

from datetime import UTC, datetime

import pytest

from calibration.trust.drift import DriftTest

NOON = datetime(2026, 3, 4, 12, 0, tzinfo=UTC)


def test_a_move_is_a_length() -> None:
    with pytest.raises(ValueError, match="a move is 0 in or more"):
        DriftTest(looked_on=NOON, moved_in=-0.1, what="Nothing moved.", moved=False)


def test_it_says_what_moved() -> None:
    with pytest.raises(ValueError, match="says in words what moved, found nothing"):
        DriftTest(looked_on=NOON, moved_in=0.1, what="", moved=True)


def test_a_move_that_was_found_is_sure() -> None:
    with pytest.raises(ValueError, match="found a move that is not"):
        DriftTest(looked_on=NOON, moved_in=0.1, what="It moved.", moved=True, sure=False)
