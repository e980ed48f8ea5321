"""A trace grown by hand: what was set is what becomes the piece, and its mistakes are sentences."""

import math
from contextlib import suppress

import numpy as np
import pytest
import shapely
from hypothesis import event, given
from hypothesis import strategies as st

from patterns import Kind, Pattern, PatternError
from patterns.curves import Array
from patterns.cutting.placement import Placement
from patterns.measures import Unit
from patterns.parts import Bend
from patterns.piece import closed_curves
from patterns.tracing.hand_trace import HandTrace, Place, Way

# A deckhand's half smock in its own inches: the fold's ends, then round from its top; curve points in lower case.
FOLD = ((0.0, 3.5), (0.0, 22.0))
WALK = (
    ((1.6, 2.7), Way.CURVE), ((3.0, 0.0), Way.CORNER), ((13.0, 3.5), Way.CORNER), ((12.25, 8.0), Way.CORNER),
    ((9.5, 9.25), Way.CURVE), ((8.75, 12.0), Way.CURVE), ((9.5, 21.5), Way.CORNER), ((4.5, 22.0), Way.CURVE),
)  # fmt: skip
LYING = Placement(x_in=2.0, y_in=9.0, turn_deg=25.0)


def on_table(at_in: Place, placement: Placement = LYING) -> Place:
    x, y = placement.placed(np.array([at_in]))[0].tolist()
    return x, y


def walked(placement: Placement = LYING) -> HandTrace:
    trace = HandTrace()
    for end in FOLD:
        trace = trace.with_point(on_table(end, placement), Way.CORNER)
    for at_in, way in WALK:
        trace = trace.with_point(on_table(at_in, placement), way)
    return trace


def test_a_walk_round_a_garment_is_its_half_piece() -> None:
    trace = walked().closed_up()
    piece = trace.piece("front")
    assert [edge.name for edge in piece.edges] == [
        "neck",
        "overarm",
        "sleeve hem",
        "side",
        "hem",
        "centre front",
    ]
    kinds = [Kind.SEAM, Kind.SEAM, Kind.HEM, Kind.SEAM, Kind.HEM, Kind.FOLD]
    assert [edge.kind for edge in piece.edges] == kinds
    assert [edge.bend for edge in piece.edges] == [
        Bend.SMOOTH, Bend.STRAIGHT, Bend.STRAIGHT, Bend.SMOOTH, Bend.SMOOTH, Bend.STRAIGHT,
    ]  # fmt: skip
    corners = [edge.path[0].place_in for edge in piece.edges]
    assert np.array(corners, float) == pytest.approx(
        np.array([(0, 3.5), (3, 0), (13, 3.5), (12.25, 8), (9.5, 21.5), (0, 22)]), abs=6e-4
    )
    assert trace.placement.turn_deg == pytest.approx(25.0)
    drafted = Pattern(name="smock", pieces=(piece,)).drafted()
    assert (drafted.pieces["front"].seam_line[:, 0] >= 0).all()


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("turn_deg", [0.0, 90.0, -170.0])
def test_the_piece_lies_where_it_was_traced(mirrored: bool, turn_deg: float) -> None:
    lying = Placement(x_in=-4.0, y_in=3.0, turn_deg=turn_deg, mirrored=mirrored)
    trace = walked(lying).closed_up()
    assert trace.placement.mirrored == mirrored
    for curve, edge in zip(trace.edges, closed_curves(trace.piece("back").edges), strict=False):
        there = shapely.LineString(trace.placement.placed(edge.points))
        assert shapely.distance(there, shapely.points(curve.points)).max() < 0.003


def test_a_metric_piece_is_in_its_unit() -> None:
    piece = walked().closed_up().piece("front", Unit.MM)
    assert {point.x.unit for edge in piece.edges for point in edge.path} == {Unit.MM}
    assert piece.edges[0].path[-1].x.inches == pytest.approx(3.0, abs=1e-3)


def test_the_last_edge_is_open_until_it_is_closed() -> None:
    trace = walked()
    assert len(trace.edges) == 5
    assert trace.edges[-1].end == pytest.approx(on_table(WALK[-1][0]))
    closed = trace.closed_up()
    assert closed.edges[-1].end == pytest.approx(on_table(FOLD[1]))
    with pytest.raises(PatternError, match="the outline is closed: insert a point"):
        closed.with_point((0.0, 0.0), Way.CORNER)


def test_a_point_is_inserted_between_its_neighbours() -> None:
    middle = on_table((8.0, 1.75))  # on the overarm
    trace = walked().inserted(middle, Way.CURVE)
    assert trace.points[2].at_in == middle
    assert trace.points[:2] + trace.points[3:] == walked().points
    assert trace.edges[1].points_at(np.array([trace.edges[1].length_in / 2]))[0] == pytest.approx(
        middle, abs=0.1
    )
    at_end = walked().closed_up().inserted(on_table((1.0, 22.2)), Way.CURVE)
    assert at_end.points[-1].at_in == on_table((1.0, 22.2))


def test_a_corner_more_or_fewer_needs_its_names_anew() -> None:
    closed = walked().closed_up()
    corner = closed.nearest(on_table((13.0, 3.5)))
    for changed in (closed.without(corner), closed.turned(corner)):
        assert changed.names == ("",) * 4
        with pytest.raises(PatternError, match="edge 1 has no name yet"):
            changed.piece("front")
    assert closed.turned(corner).turned(corner).names == closed.names
    assert closed.moved(corner, (20.0, 6.0)).names == closed.names


def test_names_are_given_one_by_one_and_never_twice() -> None:
    trace = walked().without(3).closed_up()
    for number, name in enumerate(("waist", "pocket hem", "side", "hem")):
        trace = trace.named(number, name)
    assert [edge.name for edge in trace.piece("apron").edges] == [
        "waist",
        "pocket hem",
        "side",
        "hem",
        "centre",
    ]
    with pytest.raises(PatternError, match="there is a side already"):
        trace.named(0, "side")
    with pytest.raises(PatternError, match="no name"):
        trace.named(0, " ")


def test_names_given_beforehand_are_one_for_each_edge() -> None:
    names = ("neckline", "top arm", "cuff", "flank", "foot hem")
    for beforehand in (names, (*names, "centre front")):
        assert walked().closed_up(beforehand).names == names
    with pytest.raises(PatternError) as refused:
        walked().closed_up(names[:2])
    assert str(refused.value) == "5 edges, but 2 names were given: neckline, top arm"


def places(most: float = 30.0) -> st.SearchStrategy[Place]:
    return st.tuples(*[st.floats(-most, most, allow_nan=False)] * 2)


@given(number=st.integers(2, 9), to_in=places())
def test_back_is_where_it_was(number: int, to_in: Place) -> None:
    """Undo holds values, so what matters is that no operation leaves a trace in its argument."""
    trace = walked()
    copy = HandTrace(fold=trace.fold, points=trace.points)
    with suppress(PatternError):
        moved = trace.moved(number, to_in)
        assert moved.moved(number, trace.points[number - 2].at_in) == trace
        assert moved.places_in[number] == pytest.approx(np.array(to_in))
        trace.inserted(to_in, Way.CURVE)
    assert trace.turned(number).turned(number) == trace
    assert trace.with_point((99.0, 99.0), Way.CURVE).without(10) == trace
    assert trace == copy


@given(walk=st.lists(st.tuples(places(9.0), st.sampled_from(Way)), min_size=1, max_size=12))
def test_what_closes_is_a_piece_and_what_does_not_is_told(walk: list[tuple[Place, Way]]) -> None:
    trace = HandTrace(fold=((0.0, 10.0), (0.0, -10.0)))
    try:
        for at_in, way in walk:
            trace = trace.with_point(at_in, way)
        trace = trace.closed_up()
    except PatternError as refused:
        event(str(refused).split(":")[0])
        return
    for number in range(len(trace.names)):
        trace = trace.named(number, f"edge {number + 1}")
    piece = trace.piece("sail")
    ring: Array = np.concatenate([curve.points[:-1] for curve in closed_curves(piece.edges)])
    assert shapely.is_valid(shapely.Polygon(ring))


def test_crossing_edges_are_named() -> None:
    crossed = walked().moved(4, on_table((9.0, 14.0)))
    with pytest.raises(PatternError) as refused:
        crossed.closed_up()
    assert str(refused.value) == "overarm and side cross: pull a point, or undo"


@pytest.mark.parametrize(
    ("trace", "sentence"),
    [
        (HandTrace(), "set the fold's two ends, then the outline round from its top"),
        (HandTrace(fold=((0, 0), (0, -9))), "set the fold's two ends, then the outline round from its top"),
    ],
)
def test_what_is_not_there_cannot_be_closed(trace: HandTrace, sentence: str) -> None:
    with pytest.raises(PatternError) as refused:
        trace.closed_up()
    assert str(refused.value) == sentence


def test_an_edge_over_the_fold_is_named() -> None:
    over = walked().moved(9, on_table((-1.0, 23.0)))
    with pytest.raises(PatternError, match=r"hem reaches .* in over the fold: pull a point, or undo"):
        over.closed_up()


def test_points_that_lie_together_and_too_many_are_refused() -> None:
    with pytest.raises(PatternError, match="two points lie together"):
        walked().with_point(on_table(WALK[-1][0]), Way.CORNER)
    with pytest.raises(PatternError, match="the fold's ends lie together"):
        HandTrace(fold=((1.0, 1.0),)).with_point((1.0, 1.0), Way.CORNER)
    with pytest.raises(PatternError, match="an end of the fold"):
        walked().without(1)
    trace = HandTrace(fold=((0.0, 60.0), (0.0, 0.0)))
    arc = [(9 * math.sin(math.pi * n / 80) + 1, 60.0 - n) for n in range(58)]
    for at_in in arc[:57]:
        trace = trace.with_point(at_in, Way.CURVE)
    with pytest.raises(PatternError, match="59 points are the most"):
        trace.with_point(arc[57], Way.CURVE)
    drafted = Pattern(name="bell", pieces=(trace.closed_up().named(0, "rim").piece("bell"),)).drafted()
    assert drafted.pieces["bell"].edges["rim"].length_in > 60
