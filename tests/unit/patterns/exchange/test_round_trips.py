"""What we export comes back as it was: seam lines, names, edges, marks."""

import re
from pathlib import Path

import numpy as np
import pytest

from patterns.exchange.dxf_out import spread_dxf
from patterns.exchange.marked import marked_pieces, spread
from patterns.exchange.svg_out import spread_svg
from patterns.files.reader import pattern_in
from patterns.measures import Unit
from patterns.parts import Kind
from tests.unit.patterns.exchange.exchanged import (
    FARTHEST_IN,
    apart_in,
    back_again,
    brought_in,
    drafted,
    exported,
    ring_of,
)

TRIPS = [
    ("harbour overtop", "svg", False),
    ("gores", "dxf", False),
    ("practice pocket", "pdf", False),
    ("gores", "svg", True),
    ("practice pocket", "dxf", False),
    ("practice pocket", "svg", False),
    ("practice pocket", "dxf", True),
    ("pennants", "svg", False),
]


@pytest.mark.parametrize(("name", "kind", "opened"), TRIPS)
def test_it_comes_back_as_it_was(name: str, kind: str, opened: bool) -> None:
    before = drafted(name)
    found = back_again(name, kind, opened=opened)
    assert found.notes == ()
    assert found.unit is before.unit
    assert [one.piece.name for one in found.pieces] == list(before.pieces)
    for one in found.pieces:
        piece, was = one.piece, before.pieces[one.piece.name]
        assert one.notes == ()
        assert apart_in(ring_of(piece), was.seam_line) < FARTHEST_IN
        assert piece.cut == was.cut
        assert [(edge.name, edge.kind) for edge in piece.edges] == [
            (edge.name, edge.kind) for edge in was.edges.values()
        ]
        for edge, curve in zip(piece.edges, piece.curves, strict=True):
            old = was.edges[edge.name]
            assert curve.length_in == pytest.approx(old.length_in, abs=FARTHEST_IN)
            assert curve.start == pytest.approx(old.curve.start, abs=0.001)
            if old.kind is not Kind.FOLD:
                assert edge.allowance is not None
                assert edge.allowance.inches == pytest.approx(old.folds_in, abs=1e-4)


@pytest.mark.parametrize(("name", "kind", "opened"), [TRIPS[0], TRIPS[1], TRIPS[3], TRIPS[-1]])
def test_its_marks_come_back(name: str, kind: str, opened: bool) -> None:
    for one in back_again(name, kind, opened=opened).pieces:
        piece, was = one.piece, drafted(name).pieces[one.piece.name]
        assert (piece.grain is None) is (was.grain is None)
        if piece.grain is not None and was.grain is not None:
            ends = [[point.x.inches, point.y.inches] for point in (piece.grain.start, piece.grain.end)]
            assert np.array(ends) == pytest.approx(was.grain, abs=0.001)
        curves = dict(zip([edge.name for edge in piece.edges], piece.curves, strict=True))
        assert sorted((n.edge, n.count) for n in piece.notches) == sorted(
            (n.edge, n.count) for n in was.notches
        )
        for notch in was.notches:
            places = [curves[n.edge].point_at(n.at.inches) for n in piece.notches if n.edge == notch.edge]
            assert min(np.hypot(*(place - notch.position)) for place in places) < 0.005


def test_a_curve_that_was_drawn_as_one_cubic_comes_back_as_one() -> None:
    found = back_again("gores", "svg", opened=True)
    waist = found.pieces[1].piece.edges[0]
    assert waist.name == "waist"
    assert [(str(p.x), str(p.y)) for p in (waist.path[0], waist.path[-1])] == [("-6", "0"), ("6", "0")]
    assert len(waist.path) == 4


@pytest.mark.parametrize("turned", ["", "rotate(180 100 100)", "translate(30 40) scale(-1 1)"])
def test_a_piece_that_another_program_has_moved_keeps_its_names_and_shape(
    tmp_path: Path, turned: str
) -> None:
    """It may draw the same lines without our group's own place, or turned or mirrored as a whole."""
    text = exported("practice pocket", "svg").decode("utf-8")
    placed = re.search(r'transform="translate\([^)]*\)" data-piece', text)
    assert placed is not None
    moved = text.replace(placed[0], f'transform="{turned} translate(77 31)" data-piece')
    inner = moved.replace("<title>pocket</title>", '<g transform="translate(5 9)">', 1)
    inner = inner[: inner.rindex("</g></svg>")] + "</g></g></svg>"
    (one,) = brought_in(tmp_path, inner, "svg").pieces
    assert [edge.name for edge in one.piece.edges] == ["top", "side", "bottom", "centre"]
    assert apart_in(ring_of(one.piece), drafted("practice pocket").pieces["pocket"].seam_line) < FARTHEST_IN
    (notch,) = one.piece.notches
    assert notch.edge == "side"
    assert notch.at.inches == pytest.approx(1.5)


NAMED = """pattern: "Capes & «crêpes» 帯"
unit: mm
pieces:
  "Ōban, 帯: left <b>":
    cut: 2 mirrored
    edges:
      - {name: "a, b: c", kind: seam, path: [[0, 0], [100, 0]], allowance: 15 mm}
      - {name: "naïve 帯", kind: hem, path: [[100, 0], [120, 200]], allowance: 1 cm + 5 mm}
      - {name: 'x & "y"', kind: edge, path: [[120, 200], [50, 220], [0, 200], [0, 0]], curve: smooth}
    notches: [{edge: "naïve 帯", at: 70, count: 3}]
"""


@pytest.mark.parametrize("kind", ["svg", "dxf"])
def test_names_may_have_any_letters_and_signs(tmp_path: Path, kind: str) -> None:
    pattern = pattern_in(NAMED, tmp_path / "cape.yaml").drafted()
    sheet = spread(pattern.name, marked_pieces(pattern))
    written = spread_svg(sheet, pattern.unit).encode() if kind == "svg" else spread_dxf(sheet, pattern.unit)
    back = brought_in(tmp_path, written, kind)
    (one,) = back.pieces
    assert (one.piece.name, str(one.piece.cut), back.unit) == ("Ōban, 帯: left <b>", "2 mirrored", Unit.MM)
    assert [(edge.name, str(edge.allowance)) for edge in one.piece.edges] == [
        ("a, b: c", "15 mm"), ("naïve 帯", "10 mm + 5 mm"), ('x & "y"', "0 mm"),
    ]  # fmt: skip
    assert [(notch.edge, str(notch.at), notch.count) for notch in one.piece.notches] == [
        ("naïve 帯", "70", 3)
    ]
