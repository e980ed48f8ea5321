"""The largest rectangle that stays whole, beside every rectangle that there is."""

import numpy as np
import pytest
import shapely

from patterns.laying.remnant import Rectangle, largest_free


@pytest.mark.parametrize("seed", range(6))
def test_the_largest_free_rectangle_beside_every_rectangle_there_is(seed: int) -> None:
    """Boxes at whole inches: a largest free rectangle has its sides on theirs or on the edges of the cloth."""
    chance = np.random.default_rng(seed)
    corners = [(int(x), int(y)) for x, y in chance.integers(0, 10, (5, 2))]
    boxes = [
        shapely.box(x, y, x + int(chance.integers(1, 5)), y + int(chance.integers(1, 4))) for x, y in corners
    ]
    cloth = Rectangle(left_in=0.0, bottom_in=0.0, right_in=12.0, top_in=14.0)
    across = sorted({0.0, 12.0, *(side for one in boxes for side in one.bounds[::2] if side < 12)})
    along = sorted({0.0, 14.0, *(side for one in boxes for side in one.bounds[1::2])})
    taken = shapely.union_all(boxes)
    largest = max(
        (right - left) * (top - bottom)
        for i, left in enumerate(across)
        for right in across[i + 1 :]
        for j, bottom in enumerate(along)
        for top in along[j + 1 :]
        if shapely.box(left, bottom, right, top).intersection(taken).area == 0
    )
    found = largest_free(cloth, [np.asarray(one.exterior.coords)[:-1] for one in boxes])
    assert found.area_in2 == pytest.approx(largest)
    assert (
        shapely.box(found.left_in, found.bottom_in, found.right_in, found.top_in).intersection(taken).area
        < 1e-9
    )


def test_a_free_rectangle_goes_right_up_to_a_slanting_edge() -> None:
    """Beside the triangle (0, 0), (4, 0), (0, 8) on cloth 10 in square: (10 - x) by (2 + 2x), from its hypotenuse."""
    cloth = Rectangle(left_in=0.0, bottom_in=0.0, right_in=10.0, top_in=10.0)
    found = largest_free(cloth, [np.array([[0.0, 0.0], [4.0, 0.0], [0.0, 8.0]])])
    best = max((10 - x) * (10 - 8 + 2 * x) for x in np.linspace(0, 4, 4001))
    assert found.area_in2 <= best + 1e-6
    assert found.area_in2 >= 0.99 * best
