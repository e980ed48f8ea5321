"""Least squares on the normal equations: every row is touched once a step, where a general solver factors all."""

from collections.abc import Callable

import numpy as np

from calibration.frames import Array

_STEPS = 100
_FIRST_DAMPING = 1e-3
_HOPELESS = 1e8
_SETTLED = 1e-9  # of the cost, in one step


def descended(
    residuals: Callable[[Array], Array],
    slopes: Callable[[Array], Array],
    x: Array,
    soft_sigmas: float = np.inf,
    settled: float = _SETTLED,
) -> tuple[Array, float]:
    """The unknowns (k,) of least cost near `x`, and the cost: half the sum of squares of the (m,) residuals.

    Residuals well over `soft_sigmas` count by their size, not their square (the pseudo-Huber loss, by
    reweighting). Damped after Levenberg (1944) and Marquardt (1963).
    """
    now = residuals(x)
    cost, damping = _cost(now, soft_sigmas), _FIRST_DAMPING
    for _ in range(_STEPS):
        pull = 1 / np.sqrt(1 + (now / soft_sigmas) ** 2)
        rows = slopes(x)
        spread = np.sqrt(pull @ rows**2).clip(1e-300)
        even = rows / spread
        normal, downhill = (even.T * pull) @ even, -even.T @ (pull * now)
        before = cost
        while damping < _HOPELESS:
            tried = x + np.linalg.solve(normal + damping * np.eye(len(x)), downhill) / spread
            then = residuals(tried)
            cost_then = _cost(then, soft_sigmas)
            if cost_then <= cost:
                x, now, cost, damping = tried, then, cost_then, damping / 10
                break
            damping *= 10
        if before - cost <= settled * cost:
            break
    return x, cost


def _cost(residuals: Array, soft_sigmas: float) -> float:
    if np.isinf(soft_sigmas):
        return float(residuals @ residuals) / 2
    return float(soft_sigmas**2 * (np.sqrt(1 + (residuals / soft_sigmas) ** 2) - 1).sum())
