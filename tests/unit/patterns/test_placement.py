import math

import numpy as np
import pytest

from patterns import Placement


@pytest.mark.parametrize(
    ("placement", "placed"),
    [
        (Placement(), [1, -2]),
        (Placement(x_in=10, y_in=20), [11, 18]),
        (Placement(mirrored=True), [-1, -2]),
        (Placement(turn_deg=90), [2, 1]),
        (Placement(turn_deg=90, mirrored=True), [2, -1]),
        (Placement(turn_deg=180, x_in=5), [4, 2]),
    ],
)
def test_piece_inches_come_to_surface_inches(placement: Placement, placed: list[float]) -> None:
    point = np.array([[1.0, 2.0]])
    assert placement.placed(point) == pytest.approx(np.array([placed]))
    assert placement.lifted(placement.placed(point)) == pytest.approx(point)
    assert placement.direction(np.array([1.0, 0.0])) == pytest.approx(
        placement.placed(np.array([[1.0, 0.0]]))[0] - placement.placed(np.zeros((1, 2)))[0]
    )


@pytest.mark.parametrize("wrong", [math.nan, math.inf])
def test_a_placement_is_finite(wrong: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        Placement(turn_deg=wrong)
