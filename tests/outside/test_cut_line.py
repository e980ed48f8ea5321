"""Cut lines and curve lengths held against independent libraries and closed forms.

The independent offset library is pyclipper (Angus Johnson's Clipper, Vatti's algorithm on integers); lengths
are held against scipy's adaptive quadrature and against closed forms from plain geometry.
"""

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pyclipper
import pytest
import shapely
from scipy.integrate import quad
from scipy.interpolate import CubicSpline

from patterns import Kind, Placement, example, marks_of, read_pattern
from patterns.curves import Array, Curve
from patterns.cutting.corners import MITRE_LIMIT
from patterns.cutting.marks import LineKind
from patterns.cutting.seams import cut_line
from patterns.shape import Shape
from tests.unit.patterns.build import arc, edge, shape

TOLERANCE_IN = 0.001  # asked of the cut line everywhere but at corners
_GRID_PER_IN = 2**24  # Clipper counts in whole numbers
_DENSE = 100  # points of an independent outline for each cubic: its chords stray by 0.00002 in at most


def dense(curve: Curve) -> Array:
    """Points of a curve far closer than our own flattening has, from Bernstein polynomials of our own."""
    t = np.linspace(0, 1, _DENSE)[:, None]
    weights = [math.comb(3, i) * (1 - t) ** (3 - i) * t**i for i in range(4)]
    pieces = [sum(weights[i] * piece[i] for i in range(4)) for piece in curve.beziers]
    return np.concatenate([piece[:-1] for piece in pieces] + [curve.end[None]])


def clipped(path: Array, width_in: float, join: int, end: int) -> list[Array]:
    """The path offset by Clipper."""
    offset = pyclipper.PyclipperOffset(MITRE_LIMIT, 0.00005 * _GRID_PER_IN)
    offset.AddPath(np.round(path * _GRID_PER_IN).astype(np.int64).tolist(), join, end)
    return [np.array(ring) / _GRID_PER_IN for ring in offset.Execute(width_in * _GRID_PER_IN)]


def farthest_in(one: shapely.Geometry, two: shapely.Geometry, seam: Shape) -> float:
    """How far two lines stray from one another, both ways, in inches, away from the seam line's corners."""
    widest = max(edge.width_in for edge in seam.edges)
    corners = shapely.union_all(
        [shapely.Point(edge.curve.start).buffer(1.1 * MITRE_LIMIT * widest) for edge in seam.edges]
    )
    strays = []
    for line, other in ((one, two), (two, one)):
        places = shapely.get_coordinates(shapely.segmentize(shapely.difference(line, corners), 0.1))
        assert len(places) > 20
        strays.append(shapely.distance(shapely.points(places), other).max())
    return float(max(strays))


def evenly(drafted: Shape, width_in: float) -> Shape:
    """The shape with one allowance all round, its hems and fold taken for seams."""
    edges = tuple(replace(e, kind=Kind.SEAM, allowance_in=(width_in,)) for e in drafted.edges)
    return replace(drafted, edges=edges, cut=replace(drafted.cut, on_fold=False))


def example_shapes() -> dict[str, Shape]:
    return {shape.name: shape for shape in read_pattern(example("harbour overtop")).draft().shapes}


@pytest.mark.parametrize("name", ["front", "back", "front facing", "back facing"])
@pytest.mark.parametrize("width_in", [0.25, 0.5, 15 / 25.4])
def test_an_even_allowance_equals_clippers_offset(name: str, width_in: float) -> None:
    seam = evenly(example_shapes()[name], width_in)
    outline = np.concatenate([dense(one.curve)[:-1] for one in seam.edges])
    (theirs,) = clipped(outline, width_in, pyclipper.JT_MITER, pyclipper.ET_CLOSEDPOLYGON)
    ours = shapely.LinearRing(cut_line(seam))
    assert farthest_in(ours, shapely.LinearRing(theirs), seam) < TOLERANCE_IN


def test_the_comparison_can_fail() -> None:
    seam = evenly(example_shapes()["front"], 0.5)
    outline = np.concatenate([dense(one.curve)[:-1] for one in seam.edges])
    (theirs,) = clipped(outline, 0.5 + 2 * TOLERANCE_IN, pyclipper.JT_MITER, pyclipper.ET_CLOSEDPOLYGON)
    ours = shapely.LinearRing(cut_line(seam))
    assert farthest_in(ours, shapely.LinearRing(theirs), seam) > TOLERANCE_IN


@pytest.mark.parametrize("name", ["front", "back", "front facing", "back facing"])
def test_unequal_allowances_equal_clippers_offset_but_at_corners(name: str) -> None:
    """Each edge offset by itself, and the seam outline, united; corners left to the formula's own tests."""
    seam = example_shapes()[name]
    edges = [
        replace(e, allowance_in=(w,))
        for e, w in zip(seam.edges, [0.5, 0.375, 0.5, 0.625, 1, 0], strict=False)
    ]
    edges[-1] = seam.edges[-1]
    seam = replace(seam, edges=tuple(edges))
    parts = [shapely.Polygon(np.concatenate([dense(one.curve)[:-1] for one in seam.edges]))]
    for one in seam.edges:
        if one.width_in:
            band = clipped(dense(one.curve), one.width_in, pyclipper.JT_ROUND, pyclipper.ET_OPENBUTT)
            parts += [shapely.Polygon(ring) for ring in band]
    united = shapely.union_all(parts)
    assert isinstance(united, shapely.Polygon)
    theirs = united.exterior
    ours = shapely.LineString(cut_line(seam))
    fold_free = shapely.difference(theirs, shapely.box(-9, -99, 0.01, 99))
    assert farthest_in(ours, fold_free, seam) < TOLERANCE_IN


@pytest.mark.parametrize("version", [None, "round neck", "low back"])
@pytest.mark.parametrize("opened", [False, True])
def test_cut_lines_are_valid_and_hold_their_seam_lines(version: str | None, opened: bool) -> None:
    """Validity and containment as GEOS judges them (OGC simple features)."""
    for piece in read_pattern(example("harbour overtop")).drafted(version).pieces.values():
        marks = marks_of(piece, Placement(opened=opened))
        cut, seam = (shapely.Polygon(marks.of_kind(kind)[0].points) for kind in (LineKind.CUT, LineKind.SEAM))
        assert cut.is_valid
        assert seam.is_valid
        assert cut.buffer(1e-9).covers(seam)
        assert cut.area > seam.area


def test_an_arcs_allowance_is_an_arc() -> None:
    """Plain geometry: the offset of a circle is a circle."""
    disc = shape(edge("rim", arc([0, 0], 5, 0, 180), 0.5), edge("other", arc([0, 0], 5, 180, 360), 0.5))
    line = cut_line(disc)
    middles = (line + np.roll(line, 1, axis=0)) / 2
    assert np.hypot(*line.T) == pytest.approx(np.full(len(line), 5.5), abs=1e-5)
    assert np.abs(np.hypot(*middles.T) - 5.5).max() < TOLERANCE_IN


def speed_of(curve: Curve) -> Callable[[float], float]:
    """|B'(t)| over the whole chain, t from 0 to its number of cubics, from the derivative's definition."""

    def speed(t: float) -> float:
        piece = curve.beziers[min(int(t), len(curve.beziers) - 1)]
        u = t - min(int(t), len(curve.beziers) - 1)
        first = np.diff(piece, axis=0) * 3
        return float(np.hypot(*((1 - u) ** 2 * first[0] + 2 * (1 - u) * u * first[1] + u * u * first[2])))

    return speed


@pytest.mark.parametrize("name", ["front", "back", "front facing", "back facing"])
def test_lengths_equal_adaptive_quadrature(name: str) -> None:
    for one in example_shapes()[name].edges:
        speed = speed_of(one.curve)
        theirs = sum(quad(speed, i, i + 1, epsabs=1e-10)[0] for i in range(len(one.curve.beziers)))
        assert one.curve.length_in == pytest.approx(theirs, abs=1e-6)


def test_a_parabolas_length() -> None:
    """Closed form, y = x^2 from 0 to 1: (2 sqrt 5 + asinh 2) / 4."""
    quadratic = np.array([[0.0, 0.0], [0.5, 0.0], [1.0, 1.0]])
    cubic = np.array(
        [
            quadratic[0],
            quadratic[0] / 3 + quadratic[1] * 2 / 3,
            quadratic[2] / 3 + quadratic[1] * 2 / 3,
            [1, 1],
        ]
    )
    curve = Curve.bezier(cubic)
    assert curve.length_in == pytest.approx((2 * math.sqrt(5) + math.asinh(2)) / 4, abs=1e-6)
    half = (math.sqrt(2) * 1.0 + math.asinh(1.0)) / 4
    assert curve.point_at(half) == pytest.approx([0.5, 0.25], abs=1e-6)


@pytest.mark.parametrize(("radius", "degrees"), [(90 / 25.4, 90), (100 / 25.4, 90), (3.7, 71)])
def test_an_arcs_length(radius: float, degrees: float) -> None:
    """Plain geometry: radius times angle; the arc of 16 cubics is a circle to a part in a hundred million."""
    assert arc([1, 2], radius, 10, 10 + degrees, 16).length_in == pytest.approx(
        radius * math.radians(degrees), abs=1e-6
    )


def test_a_smooth_path_is_scipys_natural_spline_by_chord_length() -> None:
    points = np.array([[14.2, 9.6], [11.2, 10.6], [10.4, 13], [11, 24]])
    along = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    spline = CubicSpline(along, points, bc_type="natural")
    length, _ = quad(lambda s: float(np.hypot(*spline(s, 1))), 0, along[-1], points=along[1:-1], epsabs=1e-10)
    curve = Curve.smooth(points)
    assert curve.length_in == pytest.approx(length, abs=1e-6)
    theirs = shapely.LineString(spline(np.linspace(0, along[-1], 20001)))
    assert shapely.distance(shapely.points(curve.points), theirs).max() < 1e-6
    assert shapely.hausdorff_distance(theirs, shapely.LineString(curve.points)) < TOLERANCE_IN
