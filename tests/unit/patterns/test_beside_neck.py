"""The line beside a neck, where it leaves the parallel to meet the fold square."""

import math

import numpy as np
import pytest
import shapely

from patterns.alterations.beside_neck import beside_neck
from patterns.curves import Array, Curve
from patterns.errors import PatternError
from tests.unit.patterns.build import JUMPING_NECK, LEANING_NECK

V = Curve.straight(np.array([[0.0, 6.0], [3.5, 0.0]]))
HEART = Curve.bezier(
    np.array([[0.0, 8.0], [1.5, 5.0], [3.6, 5.0], [3.5, 0.0]])
)  # falls to a point, sides full


@pytest.mark.parametrize("below_in", [1.0, 2.0, 2.5, 4.0])
@pytest.mark.parametrize("neck", [V, HEART], ids=["v", "heart"])
def test_it_leaves_the_parallel_where_the_tangents_of_an_arc_are_equally_long(
    neck: Curve, below_in: float
) -> None:
    """By geometry: from a point beside a circle both tangents to it are of one length."""
    line = beside_neck(neck, 1.0, "facing", 2.5, below_in)
    fold_y = neck.start[1] + below_in
    assert line.start.tolist() == [0, fold_y]
    blend, place = Curve(line.beziers[:1]), line.beziers[0, 3]
    along = blend.end_tangent
    assert along == pytest.approx(Curve(line.beziers[1:]).start_tangent, abs=1e-9)
    knee = place - along / along[1] * (place[1] - fold_y)
    assert math.dist(knee, place) == pytest.approx(knee[0], abs=1e-4)
    assert blend.point_at(blend.length_in / 2) == pytest.approx(_arc_middle(knee, along), abs=1e-3)


@pytest.mark.parametrize(
    ("neck", "strays_in"),
    [
        (LEANING_NECK, 1e-5),
        (JUMPING_NECK, 1e-4),
    ],
    ids=["one piece", "a bend that jumps"],
)
def test_it_lies_everywhere_as_far_from_the_neck_as_it_is_asked_to(neck: Curve, strays_in: float) -> None:
    """Shapely's distances from the neck's chords, which are so short that they stray by less than a millionth."""
    line = beside_neck(neck, 1.0, "facing", 2.5, 2.5)
    chords = shapely.LineString(neck.points_at(np.linspace(0, neck.length_in, 4000)))
    away = shapely.distance(chords, shapely.points(line.points_at(np.linspace(0, line.length_in, 1000))))
    assert away == pytest.approx(2.5, abs=strays_in)


def test_a_neck_whose_corners_leave_no_room_is_refused_in_words() -> None:
    notched = Curve.straight(np.array([[0.0, 3.75], [1.2, 2.63], [1.46, 1.88], [1.61, 3.21], [3.5, 0.0]]))
    with pytest.raises(PatternError, match=r"facing: 2 1/2 in is more than the corners of the neck leave"):
        beside_neck(notched, 1.0, "facing", 2.5, 2.5)


@pytest.mark.parametrize("below_in", [1.5, 2.5, 4.0])
def test_it_is_smooth_where_the_bend_of_the_neck_jumps(below_in: float) -> None:
    assert len(JUMPING_NECK.runs()) == 1
    assert len(beside_neck(JUMPING_NECK, 1.0, "facing", 2.5, below_in).runs()) == 1


def _arc_middle(knee: Array, along: Array) -> Array:
    """Half way along the arc that begins at the fold, level, and ends along `along`."""
    turn = math.atan2(-along[1], along[0])
    radius = knee[0] / math.tan(turn / 2)
    return np.array([radius * math.sin(turn / 2), knee[1] - radius * (1 - math.cos(turn / 2))])
