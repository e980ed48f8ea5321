"""Edges moved out and in, against plain geometry and shapely's own offset."""

import numpy as np
import pytest
import shapely

from patterns import PatternError, example, read_pattern
from patterns.curves import Array
from patterns.measures import Length
from patterns.parts import Bend, CutCount, Edge, Kind, Point
from patterns.piece import Piece, closed_curves, in_inches
from patterns.tracing.edge_shift import shifted

FRONT = read_pattern(example("harbour overtop")).pieces[0]
TRUE_IN = 1 / 64


def path(*pairs: tuple[float, float]) -> tuple[Point, ...]:
    return tuple(Point(x=Length.of(x), y=Length.of(y)) for x, y in pairs)


def box(slant: float = 0.0) -> Piece:
    """A half piece of straight lines, 10 by 20 in, its side slanting out by so much on the way down."""
    edges = (
        Edge(name="top", kind=Kind.SEAM, path=path((0, 0), (10, 0))),
        Edge(name="side", kind=Kind.SEAM, path=path((10, 0), (10 + slant, 20))),
        Edge(name="hem", kind=Kind.HEM, path=path((10 + slant, 20), (0, 20))),
        Edge(name="centre", kind=Kind.FOLD, path=path((0, 20), (0, 0))),
    )
    return Piece(name="apron", cut=CutCount(on_fold=True), edges=edges)


def points(piece: Piece, edge: str) -> Array:
    return in_inches(next(one for one in piece.edges if one.name == edge).path)


@pytest.mark.parametrize("out_in", [0.5, -0.75, 1 / 64])
@pytest.mark.parametrize("slant", [0.0, 2.0, -3.0])
def test_a_hem_moved_along_slanting_sides(out_in: float, slant: float) -> None:
    """By similar triangles the slanting side reaches its line's x at the new depth."""
    moved = shifted(box(slant), "hem", out_in)
    low = 20 + out_in
    assert points(moved, "hem") == pytest.approx(np.array([[10 + slant * low / 20, low], [0, low]]), abs=2e-3)
    assert points(moved, "side")[-1] == pytest.approx([10 + slant * low / 20, low], abs=2e-3)
    assert points(moved, "centre").tolist() == [[0, points(moved, "hem")[-1][1]], [0, 0]]
    assert moved.edges[0] == box(slant).edges[0]


def test_a_piece_walked_the_other_way_moves_the_same_way() -> None:
    turned = tuple(
        Edge(name=one.name, kind=one.kind, path=one.path[::-1]) for one in reversed(box(2.0).edges)
    )
    moved = shifted(Piece(name="apron", cut=CutCount(on_fold=True), edges=turned), "hem", 0.5)
    assert np.sort(points(moved, "hem")[:, 1]) == pytest.approx([20.5, 20.5])


@pytest.mark.parametrize(
    ("edge", "out_in"), [("hem", 1.0), ("hem", -1.0), ("sleeve hem", 0.75), ("side", 0.5)]
)
def test_a_moved_curve_is_shapelys_offset_and_its_neighbours_stay(edge: str, out_in: float) -> None:
    moved = shifted(FRONT, edge, out_in)
    number = [one.name for one in FRONT.edges].index(edge)
    before, after = closed_curves(FRONT.edges), closed_curves(moved.edges)
    ring = shapely.Polygon(np.concatenate([curve.points[:-1] for curve in before]))
    line = shapely.LineString(before[number].points)
    ways = [line.offset_curve(side * out_in, join_style="mitre") for side in (1, -1)]
    halfway = [shapely.Point(way.interpolate(0.5, normalized=True)) for way in ways]
    (right,) = (way for way, at in zip(ways, halfway, strict=True) if ring.contains(at) == (out_in < 0))
    spots = shapely.points(after[number].points_at(np.linspace(2, after[number].length_in - 2, 50)))
    assert shapely.distance(right, spots).max() < TRUE_IN
    for beside in ((number - 1) % len(before), (number + 1) % len(before)):
        old, new = (shapely.LineString(curves[beside].points) for curves in (before, after))
        longer, shorter = (old, new) if old.length > new.length else (new, old)
        assert shapely.distance(longer, shapely.points(shapely.get_coordinates(shorter))).max() < TRUE_IN
    others = {one.name for i, one in enumerate(FRONT.edges) if (i - number + 1) % len(FRONT.edges) > 2}
    for one, other in zip(FRONT.edges, moved.edges, strict=True):
        assert one.name not in others or one == other


def test_there_and_back_is_where_it_was() -> None:
    back = shifted(shifted(FRONT, "hem", 1.0), "hem", -1.0)
    old, new = (closed_curves(piece.edges)[4] for piece in (FRONT, back))
    spots = shapely.points(new.points)
    assert shapely.distance(shapely.LineString(old.points), spots).max() < TRUE_IN


def test_a_kinked_edge_keeps_its_kink() -> None:
    edges = list(box().edges)
    edges[1] = Edge(name="side", kind=Kind.SEAM, path=path((10, 0), (11, 10), (10, 20)))
    moved = shifted(Piece(name="apron", cut=CutCount(on_fold=True), edges=tuple(edges)), "side", 0.5)
    (kink,) = points(moved, "side")[1:-1]
    assert moved.edges[1].bend is Bend.STRAIGHT
    assert kink == pytest.approx([11 + 0.5 * np.hypot(1, 10) / 10, 10], abs=2e-3)


def test_a_half_disc_moves_at_both_ends_of_its_fold() -> None:
    turn = np.linspace(0, np.pi, 13)
    round_ = path(*zip((6 * np.sin(turn)).tolist(), (-6 * np.cos(turn)).tolist(), strict=True))
    round_ = (path((0, -6))[0], *round_[1:-1], path((0, 6))[0])
    edges = (
        Edge(name="rim", kind=Kind.SEAM, path=round_, bend=Bend.SMOOTH),
        Edge(name="centre", kind=Kind.FOLD, path=(round_[-1], round_[0])),
    )
    moved = shifted(Piece(name="cap", cut=CutCount(on_fold=True), edges=edges), "rim", 1.0)
    assert points(moved, "centre")[:, 1] == pytest.approx([7, -7], abs=0.02)
    assert points(moved, "centre")[:, 0].tolist() == [0, 0]


@pytest.mark.parametrize(
    ("edge", "out_in", "sentence"),
    [
        ("collar", 1.0, 'apron has no edge "collar"; its edges are top, side, hem, centre'),
        ("centre", 1.0, "centre is a fold, which stays on the centre line; move another edge"),
        ("hem", -21.0, "hem cannot be moved -21 in: it would no longer meet side and centre"),
    ],
)
def test_what_cannot_be_moved_is_a_sentence(edge: str, out_in: float, sentence: str) -> None:
    with pytest.raises(PatternError) as refused:
        shifted(box(), edge, out_in)
    assert str(refused.value) == sentence


def test_a_hollow_too_tight_to_be_moved_into_is_a_sentence() -> None:
    edges = list(box().edges)
    hollow = path((10, 0), (9.6, 9.5), (9, 10), (9.6, 10.5), (10, 20))
    edges[1] = Edge(name="side", kind=Kind.SEAM, path=hollow, bend=Bend.SMOOTH)
    with pytest.raises(PatternError, match="side bends too tightly to be moved 3 in"):
        shifted(Piece(name="apron", cut=CutCount(on_fold=True), edges=tuple(edges)), "side", 3.0)
