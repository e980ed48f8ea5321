"""A closed outline of curves, which is looked at once for all that have it."""

import numpy as np

from patterns import example, read_pattern
from patterns.curves import Curve
from patterns.loop import loop_of

SQUARE = ((0, 0), (4, 0), (4, 4), (0, 4))
BOW = ((0, 0), (4, 4), (4, 0), (0, 4))


def sides(corners: tuple[tuple[float, float], ...]) -> tuple[Curve, ...]:
    closed = np.array([*corners, corners[0]], dtype=np.float64)
    return tuple(Curve.straight(closed[i : i + 2]) for i in range(len(corners)))


def test_curves_of_the_same_course_are_one_loop() -> None:
    assert loop_of(sides(SQUARE)) is loop_of(sides(SQUARE))
    assert loop_of(sides(SQUARE)) is not loop_of(sides(SQUARE)[::-1])
    assert loop_of(sides(SQUARE)).ring.tolist() == [list(corner) for corner in SQUARE]


def test_where_it_crosses_itself() -> None:
    assert not loop_of(sides(SQUARE)).crosses_itself
    bow = loop_of(sides(BOW))
    assert bow.crosses_itself
    place, numbers = bow.crossed()
    assert place.tolist() == [2, 2]
    assert numbers == [0, 2]


def test_two_points_enclose_nothing() -> None:
    there_and_back = loop_of(sides(SQUARE[:2]))
    assert there_and_back.room.is_empty


def test_a_piece_and_its_shape_have_one_loop() -> None:
    pattern = read_pattern(example("practice pocket"))
    (shape,) = pattern.draft().shapes
    assert shape.loop is loop_of(pattern.pieces[0].curves)
