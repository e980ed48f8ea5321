"""Laws that hold for every cut line, edge and placement."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from patterns import (
    LineKind,
    Pattern,
    PatternError,
    Placement,
    marks_of,
)
from patterns.curves import Array, Curve
from patterns.cutting.seams import cut_line
from patterns.measures import Unit
from patterns.parts import CutCount, Kind
from patterns.piece import Piece
from patterns.shape import Shape, ShapeEdge, signed_area
from tests.property.test_pattern_files import BOUNDED, half_pieces


@st.composite
def outlines(draw: st.DrawFn, least_width: float = 0.0) -> Shape:
    """A closed outline of smooth and straight edges round a centre, wide enough for its allowances."""
    count = draw(st.integers(3, 7))
    spread = [draw(st.floats(-0.25, 0.25)) for _ in range(count)]
    angles = (np.arange(count) + spread) * 2 * np.pi / count
    radii = np.array([draw(st.floats(6, 12)) for _ in range(count)])
    corners = np.stack([np.cos(angles) * radii, np.sin(angles) * radii], axis=1)
    edges = []
    for i in range(count):
        one, two = corners[i], corners[(i + 1) % count]
        bulge = draw(st.sampled_from([0.0, 0.0, 0.1, -0.08])) * np.hypot(*(two - one))
        across = np.array([two[1] - one[1], one[0] - two[0]]) / np.hypot(*(two - one))
        points = np.stack([one, (one + two) / 2 + across * bulge, two])
        edges.append(
            ShapeEdge(
                name=f"e{i}",
                kind=Kind.SEAM,
                curve=Curve.smooth(points) if bulge else Curve.straight(points[[0, 2]]),
                allowance_in=(draw(st.floats(least_width, 0.75)),),
            )
        )
    return Shape(name="flag", cut=CutCount(), edges=tuple(edges))


def moved(shape: Shape, turn: float, shift: tuple[float, float], mirrored: bool) -> tuple[Shape, Array]:
    """The shape moved rigidly, and the matrix (2, 3) that moves points."""
    cos, sin = math.cos(turn), math.sin(turn)
    matrix = np.array([[cos, -sin, shift[0]], [sin, cos, shift[1]]])
    if mirrored:
        matrix[:, 0] *= -1
    edges = tuple(
        replace(edge, curve=Curve(edge.curve.beziers @ matrix[:, :2].T + matrix[:, 2]))
        for edge in shape.edges
    )
    return replace(shape, edges=edges), matrix


def drawn(shape: Shape) -> Array:
    """Its cut line; a shape whose allowances do not fit is no case."""
    try:
        return cut_line(shape)
    except PatternError:
        assume(False)
        raise


shifts = st.tuples(st.floats(-50, 50), st.floats(-50, 50))


@BOUNDED
@given(outlines(), st.floats(-4, 4), shifts, st.booleans())
def test_rigid_moves_commute_with_the_cut_line(
    shape: Shape, turn: float, shift: tuple[float, float], mirrored: bool
) -> None:
    elsewhere, matrix = moved(shape, turn, shift, mirrored)
    one = shapely.LinearRing(drawn(shape) @ matrix[:, :2].T + matrix[:, 2])
    two = shapely.LinearRing(drawn(elsewhere))
    assert shapely.hausdorff_distance(one, two) < 1e-3
    assert two.length == pytest.approx(one.length, abs=1e-3)


@BOUNDED
@given(outlines())
def test_the_cut_line_is_simple_holds_the_seam_line_and_keeps_its_allowances(shape: Shape) -> None:
    outline = shapely.Polygon(drawn(shape))
    assert outline.is_valid
    for edge in shape.edges:
        middle = edge.curve.point_at(edge.curve.length_in / 2)
        seam = shapely.Point(middle)
        assert outline.buffer(1e-6).covers(seam)
        assert outline.exterior.distance(seam) <= edge.width_in + 1e-3


@BOUNDED
@given(outlines(least_width=0.1), st.floats(0.1, 0.9))
def test_the_cut_line_keeps_the_least_allowance_all_round(shape: Shape, share: float) -> None:
    width = min(edge.width_in for edge in shape.edges) * share
    even = replace(shape, edges=tuple(replace(edge, allowance_in=(width,)) for edge in shape.edges))
    rim = shapely.LinearRing(drawn(even))
    assert shapely.distance(shapely.points(even.ring), rim).min() >= width - 1e-3


@BOUNDED
@given(outlines(), st.floats(0.01, 0.5))
def test_the_area_grows_with_the_allowance(shape: Shape, more: float) -> None:
    wider = replace(
        shape, edges=tuple(replace(edge, allowance_in=(edge.width_in + more,)) for edge in shape.edges)
    )
    seam, less, full = (abs(signed_area(ring)) for ring in (shape.ring, drawn(shape), drawn(wider)))
    assert seam <= less + 1e-9 < full


@BOUNDED
@given(half_pieces("front", Unit.IN))
def test_the_fold_stays_on_the_centre_line(piece: Piece) -> None:
    pattern = Pattern(name="top", pieces=(piece,))
    try:
        drafted = pattern.drafted().pieces["front"]
    except PatternError:
        assume(False)
        raise
    assert drafted.cut_line[[0, -1], 0].tolist() == [0, 0]
    assert (drafted.cut_line[1:-1, 0] >= 0).all()
    opened = marks_of(drafted, Placement(opened=True)).of_kind(LineKind.CUT)[0].points
    assert shapely.Polygon(opened).is_valid


placements = st.builds(
    Placement,
    x_in=st.floats(-100, 100),
    y_in=st.floats(-100, 100),
    turn_deg=st.floats(-720, 720),
    mirrored=st.booleans(),
)
clouds = st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=2, max_size=6).map(
    lambda points: np.array(points, dtype=np.float64)
)


@BOUNDED
@given(placements, clouds)
def test_a_placement_is_rigid_and_can_be_undone(placement: Placement, points: Array) -> None:
    placed = placement.placed(points)
    assert placement.lifted(placed) == pytest.approx(points, abs=1e-9)
    apart = np.hypot(*np.diff(points, axis=0).T)
    assert np.hypot(*np.diff(placed, axis=0).T) == pytest.approx(apart, abs=1e-9)
    turned_over = np.linalg.det(np.stack([placement.direction(np.array(axis)) for axis in ([1, 0], [0, 1])]))
    assert turned_over == pytest.approx(1 if placement.mirrored else -1)


@BOUNDED
@given(outlines(), st.floats(0.05, 0.95), st.floats(0.0, 1.0))
def test_the_parts_of_an_edge_are_as_long_as_the_whole(shape: Shape, part: float, at: float) -> None:
    for edge in shape.edges:
        whole = edge.curve.length_in
        cut = whole * part
        first, second = edge.curve.between(0, cut), edge.curve.between(cut, whole)
        assert first.length_in + second.length_in == pytest.approx(whole, abs=1e-6)
        assert edge.curve.reversed().point_at(whole * at) == pytest.approx(
            edge.curve.point_at(whole * (1 - at)), abs=1e-6
        )
