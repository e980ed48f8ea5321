"""Least squares on the normal equations, beside SciPy's."""

from typing import Literal

import numpy as np
import pytest
from scipy.optimize import least_squares

from calibration.frames import Array
from calibration.solving.descent import descended

_T = np.linspace(0, 3, 40)


def residuals(x: Array) -> Array:
    noise = np.random.default_rng(1).normal(0, 0.05, len(_T))
    noise[7] = 4.0
    off: Array = x[0] * np.exp(-x[1] * _T) + x[2] * 1e-4 - (2 * np.exp(-0.7 * _T) + 0.3 + noise)
    return off / 0.05


def slopes(x: Array) -> Array:
    decay = np.exp(-x[1] * _T)
    return np.column_stack([decay, -x[0] * _T * decay, np.full(len(_T), 1e-4)]) / 0.05


@pytest.mark.parametrize(("soft", "loss"), [(np.inf, "linear"), (3.0, "soft_l1")])
def test_finds_what_scipy_finds(soft: float, loss: Literal["linear", "soft_l1"]) -> None:
    start = np.array([1.0, 0.2, 0.0])
    x, cost = descended(residuals, slopes, start, soft, settled=1e-13)
    other = least_squares(
        residuals, start, jac=slopes, loss=loss, f_scale=min(soft, 1e9), x_scale="jac", xtol=1e-13, ftol=1e-13
    )
    np.testing.assert_allclose(x, other.x, rtol=1e-4)
    assert cost == pytest.approx(other.cost, rel=1e-8)


def test_a_perfect_start_stays() -> None:
    x, cost = descended(lambda x: x - 1, lambda x: np.eye(2), np.ones(2))
    np.testing.assert_array_equal(x, 1)
    assert cost == 0


@pytest.mark.parametrize(("to_beat", "given_up"), [(np.inf, False), (50.1, False), (49.0, True)])
def test_what_creeps_and_will_not_beat_another_start_is_given_up(to_beat: float, given_up: bool) -> None:
    steps = 0

    def creeping(x: Array) -> Array:
        nonlocal steps
        steps += 1
        return -np.exp(-x)[:, None]

    _, cost = descended(lambda x: 10 + np.exp(-x), creeping, np.zeros(1), settled=-1.0, to_beat=to_beat)
    assert cost == pytest.approx(50, abs=0.05)
    assert (steps < 20) == given_up
