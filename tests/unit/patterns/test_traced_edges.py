from dataclasses import replace

import numpy as np
import pytest

from patterns import Kind, Unit
from patterns.parts import Bend, Edge
from patterns.tracing.curve_fitting import aim_for
from patterns.tracing.traced_edges import LOOSEST_IN, MOST_POINTS, closely_enough, path_of

SQUARE = ((0, 0), (5, 0), (5, 5), (0, 5))
CROSSING = ((0, 0), (5, 5), (5, 0), (0, 5))
OVER_FOLD = ((0, 0), (5, 0), (5, 5), (-0.02, 3), (0, 5))
MANY = tuple((4 * np.sin(turn), 4 - 4 * np.cos(turn)) for turn in np.linspace(0, np.pi, MOST_POINTS + 1))


def edges(*corners: tuple[float, float]) -> tuple[Edge, ...]:
    """A neck round all corners, and the fold from the last back to the first."""
    path = path_of(np.array(corners, dtype=np.float64), Unit.IN)
    return (
        Edge(name="neck", kind=Kind.SEAM, path=path),
        Edge(name="centre", kind=Kind.FOLD, path=(path[-1], path[0])),
    )


@pytest.mark.parametrize(
    "unsound",
    [CROSSING, OVER_FOLD, MANY],
)
def test_what_crosses_or_has_too_many_points_is_fitted_more_loosely(
    unsound: tuple[tuple[float, float], ...],
) -> None:
    tried = []

    def made(aim_in: float) -> tuple[tuple[Edge, ...], float]:
        tried.append(aim_in)
        return edges(*(unsound if aim_in < 0.02 else SQUARE)), aim_in

    assert closely_enough(0.0, made) == (edges(*SQUARE), tried[-1])
    assert tried[0] == aim_for(0.0)
    assert tried[-2] < 0.02 <= tried[-1]


def test_it_is_not_fitted_ever_more_loosely() -> None:
    _, stray_in = closely_enough(0.0, lambda aim_in: (edges(*CROSSING), aim_in))
    assert LOOSEST_IN < stray_in <= 1.5 * LOOSEST_IN


def with_bay(depth_in: float) -> tuple[Edge, ...]:
    """A neck with a bay 1 in wide and so deep turning into the piece."""
    corners = ((0, 0), (5, 0), (5, 2), (5 - depth_in, 2.5), (5, 3), (5, 5), (0, 5))
    neck, fold = edges(*corners)
    return replace(neck, bend=Bend.SMOOTH), fold


def test_a_hollow_too_sharp_for_an_allowance_is_fitted_more_loosely_where_that_helps() -> None:
    tried = []

    def noise(aim_in: float) -> tuple[tuple[Edge, ...], float]:
        tried.append(aim_in)
        return with_bay(0.5 if aim_in < 0.02 else 0.0), aim_in

    def bay(aim_in: float) -> tuple[tuple[Edge, ...], float]:
        return with_bay(0.5), aim_in

    assert closely_enough(0.0, noise) == (with_bay(0.0), tried[-1])
    assert 0.02 <= tried[-1] < 0.03
    assert closely_enough(0.0, bay) == (with_bay(0.5), aim_for(0.0))
