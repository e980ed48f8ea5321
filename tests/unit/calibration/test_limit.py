"""The alignment and the corner fit beside the Cramér-Rao bound: a quick look; the bench takes more scenes."""

import numpy as np
import pytest

from tests.bench.corner_limit import PRINTED, PROJECTED, Kind, over_the_bound
from tests.bench.least_error import least_rms_in
from tests.bench.limit import beside_the_bound, corners_of, rms
from tests.unit.calibration.corners import NOISE_PX, seen, table


@pytest.mark.parametrize("wild", [False, True])
def test_error_is_near_the_bound(wild: bool) -> None:
    pairs = np.concatenate([beside_the_bound(seed, wild) for seed in range(2)])
    assert (pairs[:, 0] < 2 * pairs[:, 1]).all()
    assert rms(pairs[:, 0]) < 1.4 * rms(pairs[:, 1])


def test_the_bound_follows_noise_and_corners() -> None:
    on = table(1)
    whole = least_rms_in((on,), NOISE_PX)
    assert least_rms_in((on,), 2 * NOISE_PX) == pytest.approx(2 * whole, rel=1e-6)
    printed = np.arange(len(corners_of(seen(on, 1)))) < 24 * len(on.sheets)
    fewer = ~printed | (np.arange(len(printed)) % 4 == 0)  # three printed corners of four gone
    assert least_rms_in((on,), NOISE_PX, fewer) > 1.2 * whole


@pytest.mark.parametrize("kind", [PRINTED, PROJECTED], ids=lambda kind: kind.name)
def test_corners_are_near_the_bound(kind: Kind) -> None:
    _, ratio = over_the_bound(kind, 1.6, 40.0, corners=60)
    assert 0.8 < ratio < 1.3
