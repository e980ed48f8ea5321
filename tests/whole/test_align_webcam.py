"""Five loose sheets, one photo from a 1920 x 1080 webcam, 20 scenes; and fewer sheets, and light off the table."""

from pathlib import Path

import pytest

from calibration.practice.table import Faults
from tests.whole.scenes import aligned, scene


@pytest.mark.parametrize("seed", range(20))
def test_a_webcam_will_do(seed: int, tmp_path: Path) -> None:
    found = aligned(scene(seed, "webcam", 5, Faults.none()), 5, tmp_path, [(2, 4)])
    assert found.rms_in < 0.015
    assert found.claim_is_true
    assert found.alignment.size_checked


@pytest.mark.parametrize("seed", range(2))
def test_three_sheets_work(seed: int, tmp_path: Path) -> None:
    found = aligned(scene(seed, "webcam", 3, Faults.none()), 3, tmp_path, [(2, 3)])
    assert found.rms_in < 0.03
    assert found.claim_is_true
    assert found.alignment.trustworthy


@pytest.mark.parametrize("seed", range(2))
def test_one_sheet_works_and_promises_less(seed: int, tmp_path: Path) -> None:
    one = aligned(scene(seed, "webcam", 1, Faults.none()), 1, tmp_path)
    five = aligned(scene(seed, "webcam", 5, Faults.none()), 5, tmp_path)
    assert one.claim_is_true
    assert one.alignment.p95_in > five.alignment.p95_in


@pytest.mark.parametrize("seed", range(2))
def test_light_that_spills_over_the_table_is_left_out(seed: int, tmp_path: Path) -> None:
    found = aligned(scene(seed, "webcam", 5, Faults.none(), top_in=(60.0, 36.0)), 5, tmp_path, [(2, 4)])
    assert found.rms_in < 0.03
    assert found.claim_is_true
