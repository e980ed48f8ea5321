"""Drawings read back by another library, which scales them as SVG 2, section 8, has it."""

import io
from pathlib import Path

import numpy as np
import pytest
import shapely
import svgelements
from shapely.affinity import affine_transform

from patterns import example, read_pattern
from patterns.cutting.labels import Label
from patterns.cutting.placement import Placement
from patterns.paper.drawing import CHECKS_IN, NAME_IN, RIGHT_SIDE, drawing, edge_words, piece_words
from patterns.paper.svg import CAP_PART
from tests.unit.patterns.build import pattern_of

PX_PER_IN = 96  # CSS Values and Units Level 3, section 6.2
DRAFTED = read_pattern(example("harbour overtop")).drafted()


def read_back(name: str) -> svgelements.SVG:
    return svgelements.SVG.parse(
        io.StringIO(drawing(DRAFTED.pieces[name], DRAFTED.name, DRAFTED.unit)), ppi=PX_PER_IN
    )


def paths_in(svg: svgelements.SVG, kind: str) -> list["np.ndarray"]:
    found = [
        one for one in svg.elements() if isinstance(one, svgelements.Path) and one.values.get("class") == kind
    ]
    return [np.array([(p.x, p.y) for p in path.as_points()]) / PX_PER_IN for path in found]


@pytest.mark.parametrize("name", list(DRAFTED.pieces))
def test_a_drawing_is_true_to_size(name: str) -> None:
    piece, svg = DRAFTED.pieces[name], read_back(name)
    (cut,), (seam,) = paths_in(svg, "cut"), paths_in(svg, "seam")
    for drawn, meant in ((cut, piece.cut_line), (seam, piece.seam_line)):
        assert shapely.Polygon(drawn).area == pytest.approx(shapely.Polygon(meant).area, rel=1e-5)
        moved = drawn - drawn.min(axis=0) + meant.min(axis=0)
        assert shapely.LineString(moved).hausdorff_distance(shapely.LineString(meant)) < 1e-4
    assert len(paths_in(svg, "notch")) == sum(notch.count for notch in piece.notches)
    assert len(paths_in(svg, "clip")) == len(piece.clips)


@pytest.mark.parametrize("name", list(DRAFTED.pieces))
def test_everything_lies_on_the_page_and_the_square_is_true(name: str) -> None:
    svg = read_back(name)
    for one in svg.elements():
        if isinstance(one, svgelements.Path | svgelements.Rect):
            left, top, right, bottom = one.bbox()
            assert 0 <= left <= right <= svg.width
            assert 0 <= top <= bottom <= svg.height
    (square,) = (one for one in svg.elements() if isinstance(one, svgelements.Rect))
    left, top, right, bottom = square.bbox()
    assert (right - left, bottom - top) == pytest.approx(2 * (CHECKS_IN[DRAFTED.unit] * PX_PER_IN,))


def test_every_edge_is_named_with_its_length_and_allowance() -> None:
    said = [one.text for one in read_back("front").elements() if isinstance(one, svgelements.Text)]
    assert {"front", "cut 1 on fold", "neck, 8 3/4 in, allowance 1/2 in"} < set(said)
    assert "centre front, 17 5/8 in, fold" in said


@pytest.mark.parametrize("name", list(DRAFTED.pieces))
def test_words_on_paper_are_small_and_tell_the_pattern_and_the_side(name: str) -> None:
    """As light they are up to 4 in high; on paper they must leave the words along the edges free."""
    words = [one for one in read_back(name).elements() if isinstance(one, svgelements.Text)]
    high = {one.text: one.font_size * CAP_PART for one in words}
    assert {DRAFTED.name, RIGHT_SIDE} < set(high)
    assert max(high.values()) <= NAME_IN * PX_PER_IN + 1e-6


def taken_up(label: Label) -> shapely.Polygon:
    """A box a letter, 0.8 of its height wide as in the widest typefaces."""
    x, y = label.along
    wide, high = 0.8 * len(label.text) * label.height_in / 2, label.height_in / 2
    return affine_transform(shapely.box(-wide, -high, wide, high), [x, -y, y, x, *label.at])


@pytest.mark.parametrize("depth", ["1 in", "2 1/2 in"])
def test_words_along_the_edges_of_a_facing_lie_on_no_others(tmp_path: Path, depth: str) -> None:
    text = example("harbour overtop").read_text(encoding="utf-8")
    drafted = pattern_of(tmp_path, text.replace("2 1/2 in", depth)).drafted()
    for piece in drafted.pieces.values():
        told = piece_words(piece, Placement(), drafted.name)
        beside = edge_words(piece, Placement(), drafted.say, told)
        for number, label in enumerate(beside):
            others = (*told, *beside[:number])
            assert not any(taken_up(label).intersects(taken_up(other)) for other in others), label.text
