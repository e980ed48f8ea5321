"""Drawings that other programs could have made, written with a library that knows nothing of us."""

import io
import math
from pathlib import Path

import numpy as np
import pytest
from ezdxf.document import Drawing
from ezdxf.math import BSpline, ConstructionArc

from patterns.curves import Array
from patterns.exchange.asked import Asked
from patterns.exchange.imported import Imported
from patterns.measures import Unit
from patterns.parts import Kind
from tests.unit.patterns.exchange.exchanged import apart_in, brought_in, ring_of

NEAR_IN = 0.002
INCHES, MILLIMETRES, CENTIMETRES = 1, 4, 5  # $INSUNITS


def drawing(units: int) -> Drawing:
    document = Drawing.new("R2010")
    document.units = units
    return document


def written(document: Drawing) -> bytes:
    stream = io.StringIO()
    document.write(stream)
    return document.encode(stream.getvalue())


def found(folder: Path, document: Drawing, asked: Asked | None = None) -> Imported:
    return brought_in(folder, written(document), "dxf", asked)


def bag() -> Array:
    """4 wide and 6 deep with round lower corners of 1 1/2: the true outline, y down."""
    turn = np.linspace(0, math.pi / 2, 600)
    right = np.stack([2.5 + 1.5 * np.cos(turn), 4.5 + 1.5 * np.sin(turn)], axis=1)
    left = np.stack([1.5 - 1.5 * np.sin(turn), 4.5 + 1.5 * np.cos(turn)], axis=1)
    return np.concatenate([[[0.0, 0.0], [4.0, 0.0]], right, left])


BULGE = -math.tan(math.pi / 8)  # of a quarter circle walked clockwise, y up
CORNERS = [(0, 0, 0), (4, 0, 0), (4, -4.5, BULGE), (2.5, -6, 0), (1.5, -6, BULGE), (0, -4.5, 0)]


@pytest.mark.parametrize(
    ("units", "scale", "unit"), [(1, 1.0, Unit.IN), (4, 25.4, Unit.MM), (5, 2.54, Unit.CM)]
)
def test_bulges_are_arcs_in_the_units_of_the_header(
    tmp_path: Path, units: int, scale: float, unit: Unit
) -> None:
    document = drawing(units)
    points = [(x * scale, y * scale, bulge) for x, y, bulge in CORNERS]
    document.modelspace().add_lwpolyline(points, format="xyb", close=True)
    back = found(tmp_path, document)
    assert back.unit is unit
    assert apart_in(ring_of(back.pieces[0].piece), bag()) < NEAR_IN


def test_lines_and_arcs_are_joined_at_their_ends_whichever_way_they_run(tmp_path: Path) -> None:
    document = drawing(INCHES)
    space = document.modelspace()
    space.add_line((4, 0), (0, 0))
    space.add_line((4, 0.001), (4, -4.5))
    space.add_arc((2.5, -4.5), 1.5, 270, 360)
    space.add_line((1.5, -6), (2.5, -6))
    space.add_arc((1.5, -4.5), 1.5, 180, 270)
    space.add_line((0, -4.5), (0, 0))
    space.add_line((4, 0), (4.3, 0.3))  # a clip at a corner
    back = found(tmp_path, document)
    assert apart_in(ring_of(back.pieces[0].piece), bag()) < NEAR_IN
    assert back.notes == ("1 line that close to no outline left out",)


def test_circles_ellipses_and_splines(tmp_path: Path) -> None:
    document = drawing(INCHES)
    space = document.modelspace()
    space.add_circle((20, 0), 3, dxfattribs={"layer": "cap"})
    space.add_ellipse((40, 0), major_axis=(3, 0), ratio=0.5, dxfattribs={"layer": "elbow patch"})
    places = [(0, 0), (1, 2), (4, 3), (6, 1), (7, -2)]
    spline = space.add_spline(places, dxfattribs={"layer": "cuff"})
    space.add_line((7, -2), (0, 0), dxfattribs={"layer": "cuff"})
    by_name = {one.piece.name: one.piece for one in found(tmp_path, document).pieces}
    assert by_name.keys() == {"cap", "elbow patch", "cuff"}
    turn = np.linspace(0, 2 * math.pi, 3000)[:-1]
    circle = np.stack([3 + 3 * np.cos(turn), 3 + 3 * np.sin(turn)], axis=1)
    assert apart_in(ring_of(by_name["cap"]), circle) < NEAR_IN
    assert len(by_name["cap"].edges) == 2  # halves, from top to bottom
    assert apart_in(ring_of(by_name["elbow patch"]), circle * (1, 0.5)) < NEAR_IN
    tool = spline.construction_tool()
    assert isinstance(tool, BSpline)
    drawn = np.array([(at.x, -at.y) for at in tool.points(np.linspace(0, tool.max_t, 2000))])
    assert apart_in(ring_of(by_name["cuff"]), drawn - drawn.min(axis=0)) < NEAR_IN


def test_blocks_in_blocks_turned_and_scaled_are_opened(tmp_path: Path) -> None:
    document = drawing(MILLIMETRES)
    inner = document.blocks.new("INNER")
    inner.add_lwpolyline(CORNERS, format="xyb", close=True)
    outer = document.blocks.new("BAG")
    outer.add_blockref("INNER", (5, 5), dxfattribs={"rotation": 90, "xscale": 12.7, "yscale": 12.7})
    document.modelspace().add_blockref(
        "BAG", (-300, 40), dxfattribs={"rotation": -90, "xscale": 2, "yscale": 2}
    )
    (one,) = found(tmp_path, document).pieces
    assert one.piece.name == "BAG"
    assert apart_in(ring_of(one.piece), bag()) < NEAR_IN


def test_a_block_that_does_not_say_which_piece_it_is_may_hold_several(tmp_path: Path) -> None:
    document = drawing(INCHES)
    block = document.blocks.new("SHEET")
    for left, layer in ((0, "cuff"), (8, "0")):
        corners = [(left, 0), (left + 5, 0), (left + 5, 3), (left, 3)]
        block.add_lwpolyline(corners, close=True, dxfattribs={"layer": layer})
    document.modelspace().add_blockref("SHEET", (0, 0))
    assert [one.piece.name for one in found(tmp_path, document).pieces] == ["cuff", "SHEET"]


def pattern_data(*, sew_line: bool) -> Drawing:
    """Half a hood as ASTM D6673 has it: boundary 1, sew line 14, mirror line 6 lying level, grain 7, notches 4."""
    document = Drawing.new("R12")
    block = document.blocks.new("HOOD")
    block.add_polyline2d([(0, 0), (0, 8), (-10, 8), (-12, 0)], close=True, dxfattribs={"layer": "1"})
    if sew_line:
        block.add_polyline2d([(-0.5, 0), (-0.5, 7.5), (-9.5, 7.5), (-11.25, 0)], dxfattribs={"layer": "14"})
    block.add_line((-12, 0), (0, 0), dxfattribs={"layer": "6"})
    block.add_line((-9, 3), (-2, 3), dxfattribs={"layer": "7"})
    for place in ((-4, 8), (-4.25, 8), (-4.5, 8)):
        block.add_point(place, dxfattribs={"layer": "4"})
    for place in ((0, 8), (-10, 8)):
        block.add_point(place, dxfattribs={"layer": "2"})
    block.add_circle((-5, 4), 0.1, dxfattribs={"layer": "13"})
    for row, line in enumerate(("Piece Name: hood, side", "Quantity: 2", "Size: M")):
        block.add_text(line, dxfattribs={"layer": "1", "insert": (0, -row - 1)})
    space = document.modelspace()
    space.add_blockref("HOOD", (30, 10))
    space.add_text("Units: ENGLISH", dxfattribs={"layer": "1"})
    return document


def test_pattern_data_tells_seam_line_fold_grain_and_notches_by_its_layers(tmp_path: Path) -> None:
    back = found(tmp_path, pattern_data(sew_line=True))
    (one,) = back.pieces
    piece = one.piece
    assert (piece.name, str(piece.cut), back.unit) == ("hood, side", "2 on fold", Unit.IN)
    assert piece.edges[-1].kind is Kind.FOLD
    # the fold lay level: turned upright, the cloth at its right
    assert ring_of(piece) == pytest.approx(
        np.array([[0, 0], [7.5, 1.75], [7.5, 10.75], [0, 10.75]]), abs=2e-3
    )
    assert [str(edge.allowance) for edge in piece.edges[:3]] == ["None", "1/2 in", "1/2 in"]
    assert "the allowance of edge 1 is not even, so it is the pattern's own" in one.notes
    (notch,) = piece.notches
    assert (notch.edge, notch.count) == ("edge 2", 3)
    assert notch.at.inches == pytest.approx(5.25, abs=1e-3)
    assert piece.grain is not None
    assert piece.grain.start.x.inches == piece.grain.end.x.inches == pytest.approx(3.0)


def test_pattern_data_without_a_sew_line_wants_to_know_what_its_boundary_is(tmp_path: Path) -> None:
    (one,) = found(tmp_path, pattern_data(sew_line=False), Asked(allowance_in=0.0)).pieces
    assert ring_of(one.piece) == pytest.approx(np.array([[0, 0], [8, 2], [8, 12], [0, 12]]), abs=2e-3)
    (one,) = found(tmp_path, pattern_data(sew_line=False), Asked(allowance_in=0.5)).pieces
    slanted = 0.5 * math.sqrt(17) / 4  # half an inch square to an edge of 2 in 8, along the fold
    assert ring_of(one.piece)[[2, 3], 0] == pytest.approx((7.5, 0), abs=2e-3)
    assert ring_of(one.piece)[[2, 3], 1] == pytest.approx(12 - 0.5 - slanted, abs=2e-3)


def test_a_mirror_line_through_the_middle_leaves_a_piece_whole_and_says_so(tmp_path: Path) -> None:
    document = drawing(INCHES)
    document.modelspace().add_lwpolyline(
        [(0, 0), (8, 0), (8, 5), (0, 5)], close=True, dxfattribs={"layer": "hood"}
    )
    document.modelspace().add_line((4, 0), (4, 5), dxfattribs={"layer": "MIRROR"})
    (one,) = found(tmp_path, document).pieces
    assert (one.piece.name, str(one.piece.cut)) == ("hood", "1")
    assert "its fold line runs along no side of it, so it is taken as a whole piece" in one.notes


def test_an_arc_is_true_to_a_thousandth_however_large(tmp_path: Path) -> None:
    document = drawing(INCHES)
    arc = ConstructionArc((0, 0), 60, 45, 135)  # a circle skirt's hem
    document.modelspace().add_arc(arc.center, arc.radius, arc.start_angle, arc.end_angle)
    document.modelspace().add_lwpolyline([tuple(arc.start_point), (0, 20), tuple(arc.end_point)])
    (one,) = found(tmp_path, document).pieces
    hem = next(curve for curve in one.piece.curves if not curve.is_straight)
    centre = np.array([60 * math.sqrt(0.5), 60.0])
    away = np.hypot(*(hem.points - centre).T) - 60
    assert np.abs(away).max() < NEAR_IN
