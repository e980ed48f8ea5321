"""Bow, curl, print jitter, tangential terms: the error stays small and the claim stays true."""

import pytest

from calibration.practice.table import Faults
from tests.whole.scenes import Aligned, aligned, scene

SCENES = 20


@pytest.fixture(scope="module")
def found(tmp_path_factory: pytest.TempPathFactory) -> list[Aligned]:
    folder = tmp_path_factory.mktemp("faults")
    return [
        aligned(scene(seed, "phone", 5, Faults.usual()), 5, folder, [(2, 4), (3, 5)])
        for seed in range(SCENES)
    ]


def test_the_error_is_small(found: list[Aligned]) -> None:
    assert max(one.rms_in for one in found) < 0.06


def test_the_claim_is_true_in_17_of_20(found: list[Aligned]) -> None:
    assert sum(one.claim_is_true for one in found) >= 17


def test_a_table_that_is_not_flat_is_named(found: list[Aligned]) -> None:
    assert sum("not flat" in one.alignment.verdict for one in found) >= SCENES / 2
