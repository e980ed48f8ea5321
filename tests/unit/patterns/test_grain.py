"""The grainline that a piece is given where its outline has changed."""

import numpy as np
import pytest

from patterns.alterations.grain import GRAIN_PART, longest_grain

BAND = np.array([[0.0, 8.0], [4.0, 0.0], [4.0, 3.0], [0.0, 11.0]])  # as long wherever it is looked at: 3 in


def test_it_runs_up_the_longest_way_down_a_piece() -> None:
    kite = np.array([[0.0, 5.0], [3.0, 1.0], [4.0, 5.0], [3.0, 9.0]])
    grain = longest_grain(kite)
    assert grain[:, 0] == pytest.approx([3, 3], abs=0.16)
    assert grain[0, 1] - grain[1, 1] == pytest.approx(8 * GRAIN_PART, abs=0.4)
    assert grain[:, 1].mean() == pytest.approx(5, abs=0.01)


def test_it_stays_where_it_is_while_the_last_digits_of_an_outline_change() -> None:
    grain = longest_grain(BAND)
    generator = np.random.default_rng(7)
    for _ in range(20):
        assert longest_grain(BAND + generator.normal(0, 1e-9, BAND.shape)) == pytest.approx(grain, abs=1e-6)
