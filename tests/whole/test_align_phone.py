"""Five loose sheets, one photo from a 12 MP phone, 20 scenes without faults."""

from pathlib import Path

import pytest

from calibration.practice.table import Faults
from tests.whole.scenes import aligned, scene


@pytest.mark.parametrize("seed", range(20))
def test_light_lies_within_a_hundredth_of_an_inch(seed: int, tmp_path: Path) -> None:
    found = aligned(scene(seed, "phone", 5, Faults.none()), 5, tmp_path)
    assert found.rms_in < 0.01
    assert found.errors_in.max() < 1 / 32
    assert found.claim_is_true
    assert found.alignment.trustworthy
    assert "size is not checked" in found.alignment.verdict
