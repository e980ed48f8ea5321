"""Least squares on the normal equations: every row is touched once a step, where a general solver factors all."""

from collections.abc import Callable

import numpy as np

from calibration.frames import Array

_STEPS = 100
_FIRST_DAMPING = 1e-3
_HOPELESS = 1e8
_SETTLED = 1e-9  # of the cost, in one step
_PACE_STEPS = 5  # that a pace is judged over: one slow step alone may only be a turn


def descended(
    residuals: Callable[[Array], Array],
    slopes: Callable[[Array], Array],
    x: Array,
    soft_sigmas: float = np.inf,
    settled: float = _SETTLED,
    to_beat: float = np.inf,
) -> tuple[Array, float]:
    """The unknowns (k,) of least cost near `x`, and the cost: half the sum of squares of the (m,) residuals.

    Residuals well over `soft_sigmas` count by their size, not their square (the pseudo-Huber loss, by
    reweighting). Damped after Levenberg (1944) and Marquardt (1963). Given up where, at their late pace, the
    steps left would not lead to the cost `to_beat`.
    """
    now = residuals(x)
    cost, damping = _cost(now, soft_sigmas), _FIRST_DAMPING
    costs = [cost]
    for steps_left in reversed(range(_STEPS)):
        pull = 1 / np.sqrt(1 + (now / soft_sigmas) ** 2)
        rows = slopes(x)
        spread = np.sqrt(pull @ rows**2).clip(1e-300)
        even = rows / spread
        normal, downhill = (even.T * pull) @ even, -even.T @ (pull * now)
        while damping < _HOPELESS:
            tried = x + np.linalg.solve(normal + damping * np.eye(len(x)), downhill) / spread
            then = residuals(tried)
            cost_then = _cost(then, soft_sigmas)
            if cost_then <= cost:
                x, now, cost, damping = tried, then, cost_then, damping / 10
                break
            damping *= 10
        costs.append(cost)
        if costs[-2] - cost <= settled * cost or _lags(costs, steps_left, to_beat):
            break
    return x, cost


def _lags(costs: list[float], steps_left: int, to_beat: float) -> bool:
    """Whether costs would end above the one to beat, falling as of late; those that creep only ever fall slower."""
    if len(costs) <= _PACE_STEPS:
        return False
    pace = (costs[-1 - _PACE_STEPS] - costs[-1]) / _PACE_STEPS
    return costs[-1] - pace * steps_left > to_beat


def _cost(residuals: Array, soft_sigmas: float) -> float:
    if np.isinf(soft_sigmas):
        return float(residuals @ residuals) / 2
    return float(soft_sigmas**2 * (np.sqrt(1 + (residuals / soft_sigmas) ** 2) - 1).sum())
