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
