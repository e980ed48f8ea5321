"""A piece pulled where it lies: table inches in, the piece's own inches changed."""

from dataclasses import replace

import numpy as np
import pytest

from patterns import PatternError, example, read_pattern
from patterns.cutting.placement import Placement
from patterns.measures import Length
from patterns.parts import End, Notch
from patterns.piece import in_inches
from patterns.tracing.hand_trace import Place, Way
from patterns.tracing.laid_piece import LaidPiece

FRONT = read_pattern(example("harbour overtop")).pieces[0]
LYING = Placement(x_in=3.0, y_in=-2.0, turn_deg=130.0, mirrored=True)
LAID = LaidPiece(piece=FRONT, placement=LYING)


def on_table(x: float, y: float) -> Place:
    at_x, at_y = LYING.placed(np.array([[x, y]]))[0].tolist()
    return at_x, at_y


def test_each_point_is_there_once_handles_left_out() -> None:
    starts = [in_inches(edge.path)[0] for edge in FRONT.edges]
    at_corners = LAID.places_in[[point.way is Way.CORNER for point in LAID.points]]
    assert LYING.lifted(at_corners) == pytest.approx(np.array(starts))
    assert [FRONT.edges[point.edge].name for point in LAID.points if point.at_fold] == [
        "neck",
        "centre front",
    ]
    side = in_inches(FRONT.edges[3].path)
    on_side = LAID.places_in[[point.edge == 3 for point in LAID.points]]
    assert LYING.lifted(on_side) == pytest.approx(side[:-1:3])


def test_a_corner_pulled_on_the_table_moves_both_its_edges() -> None:
    corner = in_inches(FRONT.edges[2].path)[0]
    number = LAID.nearest(on_table(*(corner + 0.1)))
    moved = LAID.moved(number, on_table(*(corner + (0.5, -0.25))))
    for edge, end in ((moved.piece.edges[1], -1), (moved.piece.edges[2], 0)):
        assert in_inches(edge.path)[end] == pytest.approx(corner + (0.5, -0.25), abs=6e-4)
    assert moved.paths_in[2][0] == pytest.approx(np.array(on_table(*(corner + (0.5, -0.25)))), abs=1e-3)


@pytest.mark.parametrize("number", range(5))
def test_an_edge_is_carried_across_itself_with_its_corners(number: int) -> None:
    """As it was but for its end on the fold, however it lies; the ends of its neighbours come along."""
    curve = FRONT.curves[number]
    middle = curve.length_in / 2
    place, along = curve.point_at(middle), curve.tangent_at(middle)
    across = np.array([-along[1], along[0]]) * 0.3
    moved = LAID.carried(number, on_table(*place), on_table(*(place + across + along))).piece
    points, before = (in_inches(piece.edges[number].path) for piece in (moved, FRONT))
    free = before[:, 0] > 0
    assert points[free] - before[free] == pytest.approx(np.tile(across, (free.sum(), 1)), abs=2e-3)
    assert (points[~free, 0] == 0).all()
    for one, other in zip(moved.curves, (*moved.curves[1:], moved.curves[0]), strict=True):
        assert one.end == pytest.approx(other.start, abs=1e-9)


def test_the_fold_is_not_carried_nor_an_edge_across_another() -> None:
    with pytest.raises(PatternError, match="stays on the centre line"):
        LAID.carried(5, on_table(0.0, 12.0), on_table(1.0, 12.0))
    with pytest.raises(PatternError, match="cross"):
        LAID.carried(4, on_table(5.0, 25.5), on_table(5.0, -10.0))


def test_the_nearest_edge_is_never_the_fold() -> None:
    assert FRONT.edges[LAID.nearest_edge(on_table(0.0, 12.0))].name != "centre front"
    assert FRONT.edges[LAID.nearest_edge(on_table(3.0, 25.0))].name == "hem"


def test_a_new_name_is_the_notches_too() -> None:
    notched = replace(FRONT, notches=(Notch(edge="side", at=Length(spelling="5"), from_end=End.END),))
    renamed = LaidPiece(piece=notched, placement=LYING).renamed(3, "flank").piece
    assert (renamed.edges[3].name, renamed.notches[0].edge) == ("flank", "flank")
    with pytest.raises(PatternError, match='a second edge named "hem"'):
        LAID.renamed(3, "hem")


def test_points_come_and_go_but_corners_stay() -> None:
    more = LAID.inserted(on_table(4.0, 1.0))
    assert len(more.points) == len(LAID.points) + 1
    assert more.without(more.nearest(on_table(4.0, 1.0))).piece == FRONT
    with pytest.raises(PatternError, match="an edge ends there"):
        LAID.without(0)
