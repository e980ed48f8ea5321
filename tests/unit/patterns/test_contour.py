import numpy as np
import pytest

from patterns.curves import Array, Curve
from patterns.tracing.contour import Contour
from tests.unit.patterns.garments import sampled

SQUARE = sampled(Curve.straight(np.array([(0, 0), (10, 0), (10, 10), (0, 10), (0, 0)], dtype=np.float64)))[
    :-1
]


def hidden(*ends: tuple[float, float]) -> Contour:
    return Contour.read(SQUARE, 0.0, np.array([ends]))


@pytest.mark.parametrize(
    ("ends", "start_in", "end_in"),
    [
        (((3, 0), (5, 0)), 3, 5),
        (((5, 0), (3, 0)), 3, 5),
        (((10, 9), (9, 10)), 19, 21),
        (((0, 1), (1, 0)), 39, 41),  # over the walk's own start
    ],
)
def test_a_hidden_stretch_is_the_shorter_way_round(
    ends: tuple[tuple[float, float], tuple[float, float]], start_in: float, end_in: float
) -> None:
    (stretch,) = hidden(*ends).hidden
    assert stretch == pytest.approx((start_in, end_in), abs=0.05)


def test_nothing_is_hidden_unless_told() -> None:
    assert Contour.read(SQUARE, 0.0).hidden == ()
    assert Contour.read(SQUARE, 0.0, np.zeros((0, 2, 2))).seen.all()


@pytest.mark.parametrize(
    ("along_in", "ahead", "past_in"), [(3.5, 1, 1.5), (3.5, -1, 0.5), (6, 1, 0), (2, -1, 0)]
)
def test_how_far_past_a_place_the_contour_is_hidden(along_in: float, ahead: float, past_in: float) -> None:
    assert hidden((3, 0), (5, 0)).hidden_past(along_in, ahead) == pytest.approx(past_in, abs=0.05)


@pytest.mark.parametrize(
    ("start_in", "ahead", "near_in", "reaches"),
    [
        (1, 1, 0.5, [(0.5, 2), (4, 4.5)]),
        (7, -1, 0.5, [(0.5, 2), (4, 4.5)]),
        (4, 1, 0.1, [(1, 3)]),
        (39, 1, 0.0, [(0, 2)]),
    ],
)
def test_what_is_hidden_is_passed_over(
    start_in: float, ahead: float, near_in: float, reaches: list[tuple[float, float]]
) -> None:
    points, past = hidden((3, 0), (5, 0)).seen_from(start_in, ahead, near_in, 2.0)
    assert stretches(past) == [pytest.approx(reach, abs=0.06) for reach in reaches]
    assert len(points) == len(past)


def stretches(past: Array) -> list[tuple[float, float]]:
    """First and last of each run of places without a gap."""
    parts = np.split(past, np.flatnonzero(np.diff(past) > 0.5) + 1)
    return [(float(part[0]), float(part[-1])) for part in parts]
