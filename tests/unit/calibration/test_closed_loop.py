"""The closed loop's numbers."""

from datetime import UTC, datetime

import numpy as np
import pytest

from calibration.trust.closed_loop import LoopTest

NOON = datetime(2026, 3, 4, 12, 0, tzinfo=UTC)


def test_misses_become_rms_percentile_and_most() -> None:
    test = LoopTest.of([(0.03, 0.04), (0.0, 0.0)], NOON, by="eye")
    assert test.marks == 2
    assert test.rms_in == pytest.approx(0.05 / np.sqrt(2))
    assert test.p95_in == pytest.approx(0.95 * 0.05)
    assert test.most_in == pytest.approx(0.05)
    assert test.claim_in == pytest.approx(2 * 0.95 * 0.05)


def test_equal_misses_are_no_more_than_the_most() -> None:
    assert LoopTest.of([(0.1, 0.1)] * 7, NOON).marks == 7


def test_no_cross_is_no_loop() -> None:
    with pytest.raises(ValueError, match="a closed loop needs a cross at least, found 0"):
        LoopTest.of([], NOON)


@pytest.mark.parametrize(("rms", "p95", "most"), [(-0.1, 0.0, 0.1), (0.2, 0.1, 0.1), (0.0, 0.2, 0.1)])
def test_misses_that_contradict_each_other_are_refused(rms: float, p95: float, most: float) -> None:
    with pytest.raises(ValueError, match="misses are 0 or more and none over the most"):
        LoopTest(looked_on=NOON, marks=3, rms_in=rms, p95_in=p95, most_in=most)


def test_it_is_looked_at_by_photo_or_by_eye() -> None:
    with pytest.raises(ValueError, match='looked at by "photo" or by "eye", found "ear"'):
        LoopTest(looked_on=NOON, marks=3, rms_in=0.1, p95_in=0.1, most_in=0.1, by="ear")  # type: ignore[arg-type]
