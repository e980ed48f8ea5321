"""Drawings that other programs could have made, written by hand: what they come in as, beside the true shapes."""

import math
from pathlib import Path

import numpy as np
import pytest
import shapely
import svgelements

from patterns.curves import Array, Curve
from patterns.exchange.asked import Asked
from patterns.exchange.svg_shapes import STILL, flattened, path_data, placed, transform
from patterns.measures import Unit
from patterns.parts import Bend, Kind
from tests.unit.patterns.exchange.exchanged import apart_in, brought_in, ring_of

NEAR_IN = 0.002
HEAD = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'


def svg(inside: str, size: str = 'width="10in" height="10in" viewBox="0 0 10 10"') -> str:
    return f"{HEAD} {size}>{inside}</svg>"


def apron_pocket(scale: float = 1.0) -> Array:
    """A pocket 6 by 7 with a half circle below: the true outline, from its top left corner clockwise."""
    turn = np.linspace(0, math.pi, 2000)
    arc = np.stack([3 + 3 * np.cos(turn), 7 + 3 * np.sin(turn)], axis=1)
    return np.concatenate([[[0, 0], [6, 0]], arc]) * scale


ROUND = "M 0 0 H 6 V 7 A 3 3 0 0 1 0 7 Z"


@pytest.mark.parametrize(
    "drawing",
    [
        svg(f'<path d="{ROUND}"/>'),
        svg(f'<path d="{ROUND}"/>', 'width="254mm" height="254mm" viewBox="0 0 10 10"'),
        svg(f'<g transform="translate(2 1) scale(2)"><g transform="rotate(90) scale(.5)"><path d="{ROUND}" '
            'transform="translate(0,-6)"/></g></g>', 'width="25.4cm" height="25.4cm" viewBox="-9 -9 10 10"'),
        svg(f'<defs><path id="p" d="{ROUND}"/></defs><use href="#p" x="1" y="2"/>'),
        svg(f'<symbol id="p"><path d="{ROUND}"/></symbol><use xlink:href="#p"/>'),
        svg(f'<svg x="1" y="1" width="5" height="5" viewBox="0 0 5 5"><path d="{ROUND}"/></svg>'),
        svg('<polyline points="0,7 0,0 6,0 6,7"/><path d="M 6 7 a 3,3 0 0,1 -6,0"/>'),
        svg('<path d="m 0,7 v -7 h 6 v 7"/><path d="M0 7A3 3 0 0 0 3 10"/><path d="M 6 7 A 3 3 0 0 1 3 10"/>'),
        svg(f'<rect x="-3" y="-1" width="13" height="12.5"/><path d="{ROUND}"/><path d="M 2 2 h .3 v .3 z"/>'),
        svg(f'<path d="{ROUND}" transform="matrix(-1 0 0 1 0 0)"/>'),
        svg(f'<path d="{ROUND}"/>', 'width="10in" height="20in" viewBox="0 0 10 10"'),
        svg(f'<path d="{ROUND}"/>', 'height="10in" viewBox="0 0 7 10" preserveAspectRatio=""'),
    ],
    ids=["in", "mm", "turned", "used", "symbol", "nested", "loose", "arcs", "framed", "mirrored", "tall", "high"],
)  # fmt: skip
def test_whatever_groups_and_units_it_has_its_outline_is_true(tmp_path: Path, drawing: str) -> None:
    (one,) = brought_in(tmp_path, drawing, "svg").pieces
    ring = ring_of(one.piece)
    ring = ring - ring.min(axis=0)
    meant = apron_pocket()
    if np.ptp(ring, axis=0)[0] > 9:  # turned by a quarter
        meant = np.stack([10 - meant[:, 1], meant[:, 0]], axis=1)
    assert apart_in(ring, meant) < NEAR_IN
    assert one.piece.cut.count == 1
    assert {edge.bend for edge in one.piece.edges} == {Bend.STRAIGHT, Bend.BEZIER}


def test_edges_go_from_corner_to_corner_clockwise_from_the_top_left(tmp_path: Path) -> None:
    drawing = svg('<path id="strap" d="M 1 1 L 1 9 L 3 9.5 L 3.2 4 Q 3.4 2 3 1 Z"/>')
    (one,) = brought_in(tmp_path, drawing, "svg").pieces
    assert one.piece.name == "strap"
    assert [edge.name for edge in one.piece.edges] == [f"edge {n}" for n in (1, 2, 3, 4)]
    starts = [curve.start.tolist() for curve in one.piece.curves]
    assert np.array(starts) == pytest.approx(np.array([[0, 0], [2, 0], [2, 8.5], [0, 8]]), abs=1e-3)
    assert one.notes == ("its edges are numbered; --edges names them",)
    names = {"strap": ("top", "side seam", "hem", "other")}
    (one,) = brought_in(tmp_path, drawing, "svg", Asked(edges=names)).pieces
    assert [(edge.name, edge.kind) for edge in one.piece.edges] == [
        ("top", Kind.SEAM), ("side seam", Kind.SEAM), ("hem", Kind.HEM), ("other", Kind.SEAM),
    ]  # fmt: skip


HALF = """
<g id="bib">
  <path class="cutting-line" d="M 5 1 L 9.5 1 L 9.5 9 L 5 9"/>
  <path class="seam" d="M 5 1.5 L 9 1.5 L 9 8 L 5 8"/>
  <path class="fold" d="M 5 1 L 5 9"/>
  <path class="grain" d="M 6 7 L 6 3"/>
  <g class="notches"><path d="M 9.5 4 L 9.3 4"/><path d="M 9.5 4.25 h -.2"/></g>
  <path class="pocket placement" d="M 6 4 h 2 v 2 h -2 z"/>
  <text x="6" y="5">bib</text>
</g>"""


def test_lines_are_taken_for_what_their_names_say(tmp_path: Path) -> None:
    found = brought_in(tmp_path, svg(HALF), "svg")
    (one,) = found.pieces
    assert (one.piece.name, str(one.piece.cut)) == ("bib", "1 on fold")
    assert ring_of(one.piece) == pytest.approx(np.array([[0, 0], [4, 0], [4, 6.5], [0, 6.5]]), abs=1e-3)
    assert [str(edge.allowance) for edge in one.piece.edges] == ["1/2 in", "1/2 in", "1 in", "None"]
    assert one.piece.edges[-1].kind is Kind.FOLD
    assert one.piece.edges[-1].name == "centre"
    (notch,) = one.piece.notches
    assert (notch.edge, notch.count) == ("edge 2", 2)
    assert notch.at.inches == pytest.approx(2.625)
    assert one.piece.grain is not None
    assert (one.piece.grain.start.x.inches, one.piece.grain.start.y.inches) == (1.0, 5.5)
    assert "1 outline within it left out" in one.notes


def test_cut_lines_become_seam_lines_within_them_but_not_at_the_fold(tmp_path: Path) -> None:
    drawing = svg('<path id="front" d="M 5 3 L 7 1 L 9 2 L 9 9 L 5 9 Z"/>')
    asked = Asked(allowance_in=0.5, folds={"": "left"})
    (one,) = brought_in(tmp_path, drawing, "svg", asked).pieces
    root = math.sqrt(0.5)
    meant = shapely.LinearRing([(0, 2 + root), (2, root), (3.5, 0.5), (3.5, 7.5), (0, 7.5)])
    ring = ring_of(one.piece)
    ring = ring - (0, ring[:, 1].max() - 7.5)
    right = 3.5
    assert ring[:, 0].max() == pytest.approx(right, abs=1e-3)
    assert ring[:, 0].min() == 0.0
    neck = one.piece.curves[0]
    assert neck.end_tangent == pytest.approx((root, -root), abs=1e-4)
    assert float(meant.distance(shapely.Point(ring[0]))) < NEAR_IN
    assert {str(edge.allowance) for edge in one.piece.edges} == {"1/2 in", "None"}
    assert one.piece.edges[-1].name == "centre front"


GARMENT = "M 0 4 C 2 4 3 2 3.5 0 L 15 4 L 13.7 9.7 C 11 9 10.8 11 10.8 14 L 11.2 25 L 0 25.6 Z"


@pytest.mark.parametrize(
    ("turned", "side"),
    [
        ("translate(2 2)", "left"),
        ("matrix(-1 0 0 1 20 2)", "right"),
        ("translate(2 20) rotate(-90)", "bottom"),
        ("matrix(1 0 0 -1 2 30)", "left"),
    ],
    ids=["as drawn", "its other half", "on its side", "upside down"],
)
def test_the_half_of_a_garment_is_named_by_its_shape_however_it_lies(
    tmp_path: Path, turned: str, side: str
) -> None:
    drawing = svg(
        f'<path id="back" transform="{turned}" d="{GARMENT}"/>',
        'width="30in" height="30in" viewBox="0 0 30 30"',
    )
    (one,) = brought_in(tmp_path, drawing, "svg", Asked(folds={"": side})).pieces
    assert [edge.name for edge in one.piece.edges] == [
        "neck", "overarm", "sleeve hem", "side", "hem", "centre back",
    ]  # fmt: skip
    assert one.notes == ()
    neck = one.piece.curves[0]
    assert neck.start == pytest.approx((0, 4), abs=1e-3)
    assert neck.end == pytest.approx((3.5, 0), abs=1e-3)
    assert one.piece.curves[4].end == pytest.approx((0, 25.6), abs=1e-3)


def test_a_drawing_without_a_true_size_is_read_at_the_one_that_is_said(tmp_path: Path) -> None:
    drawing = svg(f'<path d="{ROUND}"/>', 'width="600" height="600" viewBox="0 0 10 10"')
    for asked in (Asked(scale_in=0.5), Asked(across_in=3.0)):
        (one,) = brought_in(tmp_path, drawing, "svg", asked).pieces
        assert apart_in(ring_of(one.piece), apron_pocket(0.5)) < NEAR_IN


def test_the_unit_is_the_drawing_s_or_the_one_asked_for(tmp_path: Path) -> None:
    drawing = svg(
        '<path d="M 0 0 h 60 v 90.5 h -60 z"/>', 'width="254mm" height="254mm" viewBox="0 0 254 254"'
    )
    found = brought_in(tmp_path, drawing, "svg")
    assert found.unit is Unit.MM
    assert str(found.pieces[0].piece.edges[1].path[-1].y) == "90.5"


def test_what_is_hidden_or_lies_outside_the_file_is_left_out_and_told(tmp_path: Path) -> None:
    drawing = svg(
        f'<path d="{ROUND}"/><g style="display:none"><path d="M 0 0 h 9 v 9 z"/></g>'
        '<use xlink:href="other.svg#p"/><image xlink:href="file:///etc/hostname"/>'
    )
    found = brought_in(tmp_path, drawing, "svg")
    assert len(found.pieces) == 1
    assert found.notes == (
        "what is hidden in the file was left out",
        '"other.svg#p" lies outside the file and was not opened',
    )


def sampled(path: svgelements.Path) -> Array:
    return np.array(
        [(at.x, at.y) for segment in path for t in np.linspace(0, 1, 40) for at in [segment.point(t)]]
    )


@pytest.mark.parametrize(
    "data",
    [
        "M 1 1 L 4 2 l 1 3 H 7 h 1 V 2 v 5 Z",
        "M 1 1 C 2 0 4 0 5 2 S 8 4 9 1 c 0 2 -1 3 -2 4 s -3 2 -5 1 Z",
        "M 1 1 Q 3 -2 5 1 T 9 1 t 0 5 q -4 3 -8 0 z",
        "M 1 1 A 3 2 30 0 1 6 4 a 3 2 30 1 0 1 3 A 1 1 0 1 1 2 9",
        "M 1 1 A 3 2 30 1 1 6 4 A 0.1 0.1 0 0 0 9 9 A 0 1 0 0 0 8 8",
        "m 2,2 3,0 0,3 m 2 0 a2,2 0 00.5,3 z",
    ],
)
def test_path_data_goes_as_another_reader_of_svg_has_it(data: str) -> None:
    ours = [shapely.LineString(points) for points, _ in flattened(data, STILL)]
    theirs = [svgelements.Path(part) for part in svgelements.Path(data).as_subpaths()]
    assert len(ours) == len(theirs)
    for line, path in zip(ours, theirs, strict=True):
        segments = svgelements.Path([one for one in path if not isinstance(one, svgelements.Move)])
        ends = sum(isinstance(one, svgelements.Close) for one in segments)  # ours leaves the last side out
        places = sampled(segments)[: 40 * (len(segments) - ends)]
        assert float(np.max(shapely.distance(line, shapely.points(places)))) < 0.001


@pytest.mark.parametrize(
    "text",
    [
        "translate(3)",
        "rotate(30 2 5) scale(2 -1)",
        "skewX(20) translate(1,2)",
        "skewY(-10)",
        "matrix(1 .2 -.3 1.1 4 5) rotate(-45)",
    ],
)
def test_transforms_are_what_another_reader_of_svg_makes_of_them(text: str) -> None:
    points = np.array([[0.0, 0.0], [1.0, 0.0], [2.0, 3.0]])
    matrix = svgelements.Matrix(text)
    theirs = [matrix.point_in_matrix_space((x, y)) for x, y in points]
    assert placed(points, transform(text)) == pytest.approx(np.array([(at.x, at.y) for at in theirs]))


def test_basic_shapes_are_what_another_reader_of_svg_makes_of_them() -> None:
    for tag, attributes, shape in (
        ("rect", {"x": "1", "y": "2", "width": "8", "height": "5", "rx": "2"},
         svgelements.Rect(1, 2, 8, 5, 2)),
        ("ellipse", {"cx": "4", "cy": "5", "rx": "3", "ry": "2"}, svgelements.Ellipse(4, 5, 3, 2)),
        ("circle", {"cx": "1", "cy": "1", "r": "25.4mm"}, svgelements.Circle(1, 1, 96)),
        ("polygon", {"points": "1,1 5 2,3,8"}, svgelements.Polygon((1, 1), (5, 2), (3, 8))),
    ):  # fmt: skip
        ((points, closed),) = flattened(path_data(tag, attributes), STILL)
        assert closed
        theirs = shapely.Polygon(sampled(svgelements.Path(shape)))
        assert shapely.Polygon(points).symmetric_difference(theirs).area / theirs.area < 0.003


def test_a_seam_line_alone_is_the_piece_and_one_within_its_cut_line_gives_the_allowances(
    tmp_path: Path,
) -> None:
    seam = '<path class="seam" d="M 2 2 h 4 v 5 h -4 z"/>'
    (one,) = brought_in(tmp_path, svg(seam), "svg").pieces
    assert one.notes == ("its edges are numbered; --edges names them",)
    assert {edge.allowance for edge in one.piece.edges} == {None}
    plain = '<path d="M 2 2 h 4 v 5 h -4 z"/><path d="M 1.5 1.5 h 5 v 6.5 h -5 z"/>'
    (one,) = brought_in(tmp_path, svg(plain), "svg").pieces
    assert ring_of(one.piece) == pytest.approx(np.array([[0, 0], [4, 0], [4, 5], [0, 5]]), abs=1e-3)
    assert [str(edge.allowance) for edge in one.piece.edges] == ["1/2 in", "1/2 in", "1 in", "1/2 in"]


def test_a_curve_that_meets_a_line_at_a_degree_or_two_is_bent_no_tighter_than_it_is_drawn(
    tmp_path: Path,
) -> None:
    drawing = svg('<path id="side" d="M 1 1 H 6 L 5.9 4 C 3.1 3.2 3.1 5.6 3.1 7.6 L 2.95 12 H 1 Z"/>')
    (one,) = brought_in(tmp_path, drawing, "svg").pieces
    hollow = one.piece.curves[2]
    assert len(hollow.beziers) == 2  # the cubic and the line
    authored = Curve.bezier(np.array([[5.9, 4], [3.1, 3.2], [3.1, 5.6], [3.1, 7.6]]))
    along = np.linspace(0, 1, 200)
    tightest = [
        float(np.abs(c.curvatures(np.zeros(200, dtype=np.intp), along)).max()) for c in (authored, hollow)
    ]
    assert tightest[1] == pytest.approx(tightest[0], rel=0.02)
