"""Marks on the cloth's fold or selvedge, and the piece that comes to lie there."""

import math
from dataclasses import replace
from itertools import product

import cv2
import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.placement import Placement
from patterns.measures import Unit
from patterns.saying import LengthError, Say
from patterns.tracing.hand_trace import Place
from projector.cloth.laid_pieces import outline_in
from projector.cloth.on_cloth import (
    LEAST_APART_IN,
    SELVEDGE_IN,
    UNSURE_DEG,
    ClothEdge,
    ClothLine,
    edges_for,
    laid_on,
    lay_edge,
    on_other_side,
    piece_line,
    place_for,
    slid_to,
    turn_words,
)
from projector.errors import ProjectorError
from tests.unit.projector.samples import pieces

FRONT, POCKET, TIE = pieces().values()
MARKED_TIE = replace(TIE, grain=np.array([[2.0, 11.0], [2.0, 1.0]]))

SAY = Say(Unit.IN)

places = st.tuples(st.floats(-30, 30), st.floats(-18, 18))
placements = st.builds(
    Placement,
    x_in=st.floats(-20, 20),
    y_in=st.floats(-10, 20),
    turn_deg=st.floats(-180, 180),
    mirrored=st.booleans(),
)


def a_line(kind: ClothEdge, one: Place, other: Place) -> ClothLine:
    return ClothLine(kind=kind, marks_in=(one, other))


def brought(
    piece: DraftedPiece, placement: Placement, line: ClothLine, side: Place | None = None
) -> Placement:
    return laid_on(piece, placement, line, piece_line(piece, placement), side)


def turned_deg(before: Array, after: Array) -> float:
    """Degrees of the turn in space that lays one outline on the other: about the upright, or it was turned over."""
    flat = [
        np.column_stack([points - points.mean(axis=0), np.zeros(len(points))]) for points in (after, before)
    ]
    turn, left = Rotation.align_vectors(flat[0], flat[1])
    assert left < 1e-4
    x, y, z = turn.as_rotvec(degrees=True).tolist()
    assert math.hypot(x, y) < 1e-3
    return float(z)


@settings(max_examples=60)
@given(placement=placements, one=places, other=places)
def test_the_fold_comes_on_to_the_marks_and_the_piece_is_only_turned_and_slid(
    placement: Placement, one: Place, other: Place
) -> None:
    if math.dist(one, other) < LEAST_APART_IN:
        return
    line = a_line(ClothEdge.FOLD, one, other)
    try:
        laid = brought(FRONT, placement, line)
    except ProjectorError:
        with pytest.raises(ProjectorError, match="set a third mark"):
            brought(FRONT, placement, line)
        return
    fold = laid.placed(FRONT.cut_line[[0, -1]])
    marks = np.array([one, other])
    across = np.array([marks[0, 1] - marks[1, 1], marks[1, 0] - marks[0, 0]]) / math.dist(one, other)
    assert np.abs((fold - marks[0]) @ across).max() < 1e-5
    assert laid.mirrored is placement.mirrored
    before, after = outline_in(FRONT, placement), outline_in(FRONT, laid)
    turn = turned_deg(before, after)
    assert abs(turn) <= UNSURE_DEG + 1e-5
    middles = [
        (one_line.placed(piece_line(FRONT, one_line).middle_in[None])[0]) for one_line in (placement, laid)
    ]
    onward = (marks[1] - marks[0]) / math.dist(one, other)
    assert abs((middles[1] - middles[0]) @ onward) < 1e-5


@settings(max_examples=60)
@given(placement=placements, one=places, other=places, side=places)
def test_a_third_mark_says_on_which_side_of_the_fold_the_cloth_lies(
    placement: Placement, one: Place, other: Place, side: Place
) -> None:
    path = shapely.LineString([one, other])
    if path.length < LEAST_APART_IN:
        return
    line = a_line(ClothEdge.FOLD, one, other)
    turn = np.cross(np.append(np.subtract(other, one), 0), np.append(np.subtract(side, one), 0))[2]
    if abs(turn) / path.length < 1.0:
        with pytest.raises(ProjectorError, match="lies on the line itself"):
            brought(FRONT, placement, line, side)
        return
    laid = brought(FRONT, placement, line, side)
    steps = outline_in(FRONT, laid) - one
    sides = (other[0] - one[0]) * steps[:, 1] - (other[1] - one[1]) * steps[:, 0]
    assert (sides * np.sign(turn)).min() > -1e-3
    assert laid.mirrored is placement.mirrored
    turned_deg(outline_in(FRONT, placement), outline_in(FRONT, laid))


@pytest.mark.parametrize("slant_deg", [-7.0, 0.0, 3.0])
@pytest.mark.parametrize("mirrored", [False, True])
def test_the_laid_fold_has_the_direction_of_the_marked_one(slant_deg: float, mirrored: bool) -> None:
    slant = math.radians(slant_deg)
    one, other = (5.0, -10.0), (5.0 + 20 * math.sin(slant), -10.0 + 20 * math.cos(slant))
    laid = brought(FRONT, Placement(mirrored=mirrored), a_line(ClothEdge.FOLD, one, other))
    fold = laid.placed(np.column_stack([np.zeros(40), np.linspace(4, 24, 40)])).astype(np.float32)
    x, y, *_ = cv2.fitLine(fold, cv2.DIST_L2, 0, 0.001, 0.001).ravel()
    assert math.degrees(math.atan2(x * np.sign(y), abs(y))) == pytest.approx(slant_deg, abs=1e-3)
    body = np.sign(outline_in(FRONT, laid).mean(axis=0)[0] - fold[:, 0].mean())
    assert body == (-1 if mirrored else 1), "the present side is kept"


def test_marks_across_the_fold_ask_for_the_side_first() -> None:
    line = a_line(ClothEdge.FOLD, (-10, 0), (10, 0.0))
    with pytest.raises(
        ProjectorError,
        match=r"^the marks run across the piece's fold: set a third mark on the cloth, "
        "on the side where the piece belongs$",
    ):
        brought(FRONT, Placement(), line)
    assert outline_in(FRONT, brought(FRONT, Placement(), line, (0, 5))).min(axis=0)[1] > -1e-6


def test_the_other_side_of_the_fold_is_half_a_turn_about_its_middle() -> None:
    line = a_line(ClothEdge.FOLD, (2, -10), (2, 10))
    laid = brought(FRONT, Placement(x_in=1, y_in=12), line)
    other = on_other_side(FRONT, laid, line, piece_line(FRONT, laid))
    assert abs(turned_deg(outline_in(FRONT, laid), outline_in(FRONT, other))) == pytest.approx(180)
    assert outline_in(FRONT, laid)[:, 0].min() == pytest.approx(2)
    assert outline_in(FRONT, other)[:, 0].max() == pytest.approx(2)
    folds = [np.sort(one.placed(FRONT.cut_line[[0, -1]])[:, 1]) for one in (laid, other)]
    middle = piece_line(FRONT, laid).middle_in[None]
    assert np.abs(laid.placed(middle) - other.placed(middle)).max() < 1e-9
    assert folds[0].sum() != pytest.approx(folds[1].sum()), "the neck is at the other end"


@pytest.mark.parametrize("x_in", [9.0, 31.0])
def test_beside_a_selvedge_the_grain_runs_along_and_the_piece_keeps_clear_on_its_side(x_in: float) -> None:
    line = a_line(ClothEdge.SELVEDGE, (20, -12), (20.5, 12))
    laid = brought(MARKED_TIE, Placement(x_in=x_in, y_in=6, turn_deg=-3), line)
    grain = laid.direction(np.array([0.0, 1.0]))
    assert abs(grain[0] * 24 - grain[1] * 0.5) / math.hypot(24, 0.5) < 1e-7  # a millionth of a degree
    away = [
        shapely.LineString([(20, -12), (20.5, 12)]).distance(p)
        for p in map(shapely.Point, outline_in(TIE, laid))
    ]
    assert min(away) == pytest.approx(SELVEDGE_IN, abs=1e-6)
    assert (outline_in(TIE, laid)[:, 0].mean() > 20) == (x_in > 20)
    over = on_other_side(MARKED_TIE, laid, line, piece_line(MARKED_TIE, laid))
    assert (outline_in(TIE, over)[:, 0].mean() > 20) == (x_in < 20)


def test_on_a_thread_the_grainline_itself_comes_to_lie() -> None:
    line = a_line(ClothEdge.THREAD, (0, -10), (1, 10))
    laid = brought(MARKED_TIE, Placement(x_in=9, y_in=3), line)
    assert MARKED_TIE.grain is not None
    x, y = laid.placed(MARKED_TIE.grain).T
    assert (20 * x - (y + 10)).tolist() == pytest.approx([0, 0], abs=1e-5)
    with pytest.raises(
        ProjectorError, match=r"^a thread has cloth on both sides: only the grainline comes on"
    ):
        brought(MARKED_TIE, laid, line, (9, 9))


@pytest.mark.parametrize(("mark", "end"), [((3.0, -20.0), min), ((-2.0, 15.0), max)])
def test_one_more_mark_slides_the_piece_until_it_ends_there(mark: Place, end: object) -> None:
    line = a_line(ClothEdge.FOLD, (0, -10), (0, 10))
    laid = brought(FRONT, Placement(y_in=12), line)
    slid = slid_to(FRONT, laid, line, mark)
    assert callable(end)
    assert end(outline_in(FRONT, slid)[:, 1].tolist()) == pytest.approx(mark[1], abs=1e-5)
    assert slid == replace(laid, y_in=slid.y_in)


def test_which_edge_of_the_cloth_a_piece_belongs_on() -> None:
    assert edges_for(FRONT, Placement()) == (ClothEdge.FOLD,)
    assert edges_for(FRONT, Placement(opened=True)) == (ClothEdge.SELVEDGE, ClothEdge.THREAD)
    assert edges_for(POCKET, Placement()) == (ClothEdge.SELVEDGE, ClothEdge.THREAD)
    assert piece_line(FRONT, Placement(opened=True)).name == "grainline"
    assert piece_line(replace(FRONT, grain=None), Placement(opened=True)).name == "centre line"
    with pytest.raises(ProjectorError, match=r"^pocket has neither a fold nor a grainline: draw its grain"):
        piece_line(POCKET, Placement())


@pytest.mark.parametrize(
    ("other", "sentence"),
    [
        ((0.0, 0.0), "both marks are at one place: set the second along the cloth's edge"),
        ((0.0, 3.5), "the marks are only 3 1/2 in apart: set the second at least 4 in away"),
    ],
)
def test_marks_that_give_no_direction_are_refused(other: Place, sentence: str) -> None:
    with pytest.raises((ProjectorError, LengthError), match=f"^{sentence}$"):
        a_line(ClothEdge.FOLD, (0, 0), other)


def test_what_marks_amiss_do_over_a_length_is_the_worst_of_both_ways() -> None:
    e, apart, length = 1 / 64, 10.0, 24.0
    turns = [math.atan2(two - one, apart) for one, two in product((-e, 0, e), repeat=2)]
    worst = length * math.tan(max(turns))
    assert a_line(ClothEdge.FOLD, (0, 0), (6, 8)).off_over_in(length) == pytest.approx(worst, rel=1e-9)


def test_a_turn_worth_saying_is_said() -> None:
    laid = Placement(y_in=12)
    assert turn_words(FRONT, laid, a_line(ClothEdge.FOLD, (0, -13), (0, 13)), SAY) == []
    words = turn_words(FRONT, laid, a_line(ClothEdge.FOLD, (0, 0), (0, 8)), SAY)
    assert words == ["marks farther apart are better: 1/64 in amiss turns it 7/64 in"]


@settings(max_examples=40)
@given(lying=placements, placement=placements)
def test_all_pieces_of_a_cloth_go_with_the_one_that_is_laid(lying: Placement, placement: Placement) -> None:
    placement = replace(placement, mirrored=lying.mirrored)
    cloth = place_for(lying, placement)
    there = cloth.laid(lying).placed(FRONT.cut_line)
    assert np.abs(there - placement.placed(FRONT.cut_line)).max() < 1e-5
    with pytest.raises(ValueError, match="turn"):
        place_for(lying, replace(placement, mirrored=not placement.mirrored))


@settings(max_examples=30)
@given(lying=placements, placement=placements, one=places, other=places)
def test_a_lay_is_brought_with_its_left_selvedge_on_to_the_marks(
    lying: Placement, placement: Placement, one: Place, other: Place
) -> None:
    if math.dist(one, other) < LEAST_APART_IN:
        return
    placement = replace(placement, mirrored=lying.mirrored)
    line = a_line(ClothEdge.LAY_EDGE, one, other)
    laid = laid_on(POCKET, placement, line, lay_edge(POCKET, lying), side_in=_beside(line))
    cloth = place_for(lying, laid)
    selvedge = cloth.on_table(np.array([[0.0, -5.0], [0.0, 40.0]]))
    assert np.abs(line.left_of(selvedge)).max() < 1e-3
    assert laid.mirrored is placement.mirrored


def _beside(line: ClothLine) -> Place:
    x, y = (line.middle_in + 3 * line.leftward).tolist()
    return x, y
