import numpy as np
import pytest
import shapely

from patterns import PatternError, example, read_pattern
from patterns.curves import Array
from patterns.measures import Length, Unit
from patterns.parts import Bend, CutCount, Edge, Kind, Point
from patterns.piece import Piece, in_inches
from patterns.tracing.smoothing import point_added, point_removed, pulled, smoothed, straightened

FRONT = read_pattern(example("harbour overtop")).pieces[0]
SIDE = 3


def path(*pairs: tuple[float, float]) -> tuple[Point, ...]:
    return tuple(Point(x=Length.of(x), y=Length.of(y)) for x, y in pairs)


def wobbly() -> Piece:
    """A half piece whose side wobbles by 1/32 in."""
    ys = np.linspace(2, 20, 40)
    side = path(*((9 + 0.02 * (y - 2) ** 1.2 + (-1) ** i / 32, y) for i, y in enumerate(ys)))
    edges = (
        Edge(name="top", kind=Kind.SEAM, path=path((0, 2), (side[0].x.inches, 2))),
        Edge(name="side", kind=Kind.SEAM, path=side, bend=Bend.SMOOTH),
        Edge(name="hem", kind=Kind.HEM, path=path((side[-1].x.inches, 20), (0, 20))),
        Edge(name="fold", kind=Kind.FOLD, path=path((0, 20), (0, 2))),
    )
    return Piece(name="front", cut=CutCount(on_fold=True), edges=edges)


def test_a_wobbly_edge_is_run_through_few_points_close_by() -> None:
    before = wobbly()
    after = smoothed(before, "side")
    old, new = (piece.edges[1].curve for piece in (before, after))
    assert len(after.edges[1].path) <= 5
    assert shapely.distance(shapely.LineString(old.points), shapely.points(new.points)).max() < 1 / 16
    assert after.edges[1].path[0] == before.edges[1].path[0]
    assert after.edges[1].path[-1] == before.edges[1].path[-1]
    assert after.edges[::2] == before.edges[::2]


def test_smoothing_keeps_corners_within_an_edge() -> None:
    ys = np.array([[9.0, 2.0], [7.0, 9.0], [9.5, 20.0]])
    piece = wobbly()
    edges = list(piece.edges)
    edges[1] = Edge(name="side", kind=Kind.SEAM, path=(edges[0].path[-1], *path((7, 9)), edges[2].path[0]))
    kinked = Piece(name="front", cut=piece.cut, edges=tuple(edges))
    assert in_inches(smoothed(kinked, "side").edges[1].path)[1] == pytest.approx(ys[1])


def test_a_straightened_edge_runs_from_end_to_end() -> None:
    after = straightened(FRONT, "overarm")
    assert after.edges[1].path == (FRONT.edges[1].path[0], FRONT.edges[1].path[-1])
    assert after.edges[1].bend is Bend.STRAIGHT
    assert FRONT.edges[1].bend is Bend.SMOOTH


def test_the_nearest_point_is_pulled_and_no_other() -> None:
    after = pulled(FRONT, "overarm", np.array([7.0, 1.0]), np.array([7.25, 1.75]))
    points = in_inches(after.edges[1].path)
    assert points[1].tolist() == [7.25, 1.75]
    assert (
        np.delete(points, 1, axis=0).tolist() == np.delete(in_inches(FRONT.edges[1].path), 1, axis=0).tolist()
    )


def test_a_bezier_point_takes_its_handles_along() -> None:
    before = in_inches(FRONT.edges[SIDE].path)
    after = in_inches(pulled(FRONT, "side", before[3] + 0.1, before[3] + (0.5, 0.25)).edges[SIDE].path)
    assert (after - before)[2:5] == pytest.approx(np.array([[0.5, 0.25]] * 3))
    assert not (after - before)[[0, 1, 5, 6]].any()


@pytest.mark.parametrize(("edge", "neighbour", "index"), [("overarm", 0, -1), ("sleeve hem", 1, -1)])
def test_a_corner_brings_the_neighbour_along(edge: str, neighbour: int, index: int) -> None:
    corner = in_inches((FRONT.edges[neighbour].path[index],))[0]
    after = pulled(FRONT, edge, corner, corner + (0.25, 0.125))
    assert in_inches(after.edges[neighbour].path)[index].tolist() == (corner + (0.25, 0.125)).tolist()


def moved_fold_end(edge: str, place: Array) -> Piece:
    return pulled(FRONT, edge, place, place + (0.5, 1.0))


@pytest.mark.parametrize("edge", ["neck", "centre front"])
def test_what_lies_on_the_fold_stays_on_it(edge: str) -> None:
    after = moved_fold_end(edge, np.array([0.0, 3.75]))
    assert in_inches(after.edges[0].path)[0].tolist() == [0.0, 4.75]
    assert in_inches(after.edges[-1].path)[-1].tolist() == [0.0, 4.75]


def test_units_are_kept() -> None:
    piece = wobbly()
    edges = tuple(
        Edge(
            name=edge.name, kind=edge.kind, bend=edge.bend,
            path=tuple(Point(x=Length.of(p.x.inches, Unit.MM), y=Length.of(p.y.inches, Unit.MM)) for p in edge.path),
        )
        for edge in piece.edges
    )  # fmt: skip
    metric = smoothed(Piece(name="front", cut=piece.cut, edges=edges), "side")
    assert {point.x.unit for point in metric.edges[1].path} == {Unit.MM}


def test_an_edge_pulled_across_another_is_refused() -> None:
    with pytest.raises(PatternError, match="crossing"):
        pulled(FRONT, "overarm", np.array([7.5, 1.5]), np.array([7.5, 26.0]))


def test_an_edge_that_is_not_there_is_refused() -> None:
    with pytest.raises(PatternError) as refused:
        straightened(FRONT, "collar")
    assert str(refused.value) == (
        'front has no edge "collar"; its edges are neck, overarm, sleeve hem, side, hem, centre front'
    )


def test_a_point_is_added_where_it_is_nearest_and_taken_away_again() -> None:
    added = point_added(FRONT, "overarm", np.array([4.0, 1.0]))
    points = in_inches(added.edges[1].path)
    place = points.tolist().index([4.0, 1.0])
    assert np.delete(points, place, axis=0).tolist() == in_inches(FRONT.edges[1].path).tolist()
    assert points[place - 1][0] < 4 < points[place + 1][0]
    assert point_removed(added, "overarm", np.array([4.1, 1.1])) == FRONT


def test_a_straight_edge_bends_through_an_added_point_and_is_straight_without_it() -> None:
    bent = point_added(FRONT, "sleeve hem", np.array([14.5, 7.0]))
    assert bent.edges[2].bend is Bend.SMOOTH
    assert point_removed(bent, "sleeve hem", np.array([14.5, 7.0])) == FRONT


def test_points_of_handles_and_of_nothing_are_refused() -> None:
    with pytest.raises(PatternError, match="side is drawn with handles: its points can be pulled"):
        point_added(FRONT, "side", np.array([11.0, 12.0]))
    with pytest.raises(PatternError, match="sleeve hem has no points but its ends"):
        point_removed(FRONT, "sleeve hem", np.array([14.5, 7.0]))
