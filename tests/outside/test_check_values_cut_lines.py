"""Numbers that can be worked out by hand or are published, held against lengths and cut lines.

Each test says where its number is from. Tolerance 0.01 in or 0.1 mm unless said otherwise.
"""

import math
from fractions import Fraction

import numpy as np
import pytest

from patterns import in_words
from patterns.curves import Array
from patterns.cutting.seams import cut_line
from patterns.measures import Length
from patterns.parts import Kind
from patterns.shape import Shape
from tests.unit.patterns.build import arc, edge, ring_of, shape

MM = 25.4
TENTH_MM = 0.1 / MM


def corner_far_mm(degrees: float, a_mm: float, b_mm: float) -> float:
    """How far the cut corner lies from a seam corner of so many degrees."""
    t = math.radians(degrees)
    wedge = ring_of([[0, 0], [20, 0], [20 * math.cos(t), 20 * math.sin(t)]], a_mm / MM, a_mm / MM, b_mm / MM)
    return float(np.hypot(*cut_line(wedge).T).min() * MM)


def flared_half(hem_mm: tuple[float, ...], hem_kind: Kind) -> Shape:
    """A half 300 mm wide at its hem, its side flaring 10 degrees, its side uncut."""
    top = 300 - 400 * math.tan(math.radians(10))
    return shape(
        edge("top", np.array([[0, 0], [top, 0]]) / MM, 0.0),
        edge("side", np.array([[top, 0], [300, 400]]) / MM, 0.0),
        edge("hem", np.array([[300, 400], [0, 400]]) / MM, *(part / MM for part in hem_mm), kind=hem_kind),
        edge("fold", np.array([[0, 400], [0, 0]]) / MM, kind=Kind.FOLD),
    )


def along_hem_mm(line: Array, depth_mm: float) -> float:
    """How far out of the side's end the cut edge is, `depth_mm` below the hem line."""
    end = line[np.abs(line[:, 1] * MM - 400 - depth_mm) < 1e-6]
    return float(end[:, 0].max() * MM - 300)


def test_1_half_an_inch_is_12_7_mm_exactly() -> None:
    """International yard and pound agreement, 1959: 1 in = 25.4 mm."""
    assert Length(spelling="12.7 mm").exact_inches == Fraction(1, 2) == Length(spelling="1/2 in").exact_inches


def test_2_five_eighths_and_15_mm_differ() -> None:
    """Plain geometry: 15.875 - 15 = 0.875 mm."""
    apart = Length(spelling="5/8 in").exact_inches - Length(spelling="15 mm").exact_inches
    assert apart * Fraction(254, 10) == Fraction(875, 1000)


def test_3_ten_mm_is_said_as_three_eighths() -> None:
    """Plain geometry: 10 / 25.4 = 0.394 in, nearest sixteenth 6/16."""
    assert in_words(Length(spelling="10 mm").inches) == "3/8 in"


@pytest.mark.parametrize(
    ("degrees", "a_mm", "b_mm", "far_mm"),
    [(90, 12.7, 12.7, 17.96), (60, 12.7, 12.7, 25.40), (75, 12.7, 25.4, 32.30)],
)
def test_4_5_7_mitred_corners(degrees: float, a_mm: float, b_mm: float, far_mm: float) -> None:
    """Plain geometry: sqrt(a^2 + b^2 + 2ab cos t) / sin t."""
    assert corner_far_mm(degrees, a_mm, b_mm) == pytest.approx(far_mm, abs=0.01)


def test_6_a_corner_past_the_limit_is_bevelled() -> None:
    """Plain geometry: the mitre of 30 degrees would be 3.86 a long; limit 2.5 a (common practice)."""
    assert 1 / math.sin(math.radians(15)) == pytest.approx(3.86, abs=0.01)
    assert corner_far_mm(30, 12.7, 12.7) == pytest.approx(2.5 * 12.7, abs=1e-6)


def test_8_a_half_on_the_fold_grows_on_three_sides() -> None:
    """Plain geometry: 400 + 12.7 by 600 + 2 x 12.7; opened out 2 x 412.7."""
    a = 12.7 / MM
    half = shape(
        edge("top", np.array([[0, 0], [400, 0]]) / MM, a),
        edge("side", np.array([[400, 0], [400, 600]]) / MM, a),
        edge("bottom", np.array([[400, 600], [0, 600]]) / MM, a),
        edge("fold", np.array([[0, 600], [0, 0]]) / MM, kind=Kind.FOLD),
    )
    line = cut_line(half) * MM
    assert np.ptp(line, axis=0) == pytest.approx([412.7, 625.4], abs=1e-6)
    assert line[[0, -1], 0].tolist() == [0, 0]
    assert 2 * np.ptp(line[:, 0]) == pytest.approx(825.4, abs=1e-6)


def test_9_a_hem_is_mirrored_so_that_it_matches_the_flared_side() -> None:
    """Plain geometry: 12.7 tan 10 = 2.24 mm in; 2.24 out where the edge is not a hem."""
    assert along_hem_mm(cut_line(flared_half((12.7,), Kind.HEM)), 12.7) == pytest.approx(-2.24, abs=0.005)
    assert along_hem_mm(cut_line(flared_half((12.7,), Kind.SEAM)), 12.7) == pytest.approx(2.24, abs=0.005)


def test_10_a_double_hem_is_mirrored_twice() -> None:
    """Plain geometry: 0, -1.12 and 0 mm at the hem line, the first and the second edge of 6.35 + 6.35 mm."""
    line = cut_line(flared_half((6.35, 6.35), Kind.HEM))
    offsets = [along_hem_mm(line, depth) for depth in (0, 6.35, 12.7)]
    assert offsets == pytest.approx([0, -1.12, 0], abs=0.005)


def length_in(line: Array) -> float:
    return float(np.hypot(*np.diff(line, axis=0).T).sum())


def test_11_a_hollow_quarter_circle_is_cut_shorter() -> None:
    """Plain geometry: pi / 2 x 90 = 141.37; pi / 2 x (90 - 12.7) = 121.42 mm."""
    neck = arc([0, 0], 90 / MM, 90, 0)
    quarter = shape(
        edge("neck", neck, 12.7 / MM),
        edge("shoulder", np.array([[90, 0], [200, 0]]) / MM, 0.0),
        edge("side", np.array([[200, 0], [200, 300], [0, 300]]) / MM, 0.0),
        edge("fold", np.array([[0, 300], [0, 90]]) / MM, kind=Kind.FOLD),
    )
    assert neck.length_in * MM == pytest.approx(141.37, abs=0.01)
    line = cut_line(quarter)
    hollow = line[np.hypot(*line.T) < 80 / MM]
    assert length_in(hollow) * MM == pytest.approx(121.42, abs=0.05)


@pytest.mark.parametrize(("outside", "cut_mm"), [(True, 176.99), (False, 137.13)])
def test_24_an_underarm_curve_by_the_side_it_is_sewn_on(outside: bool, cut_mm: float) -> None:
    """Plain geometry: pi / 2 x 100 = 157.08; pi / 2 x (100 + 12.7) or (100 - 12.7)."""
    underarm = arc([0, 0], 100 / MM, 0, 90)
    r = 100 / MM
    around: list[list[float]] = (
        [[0, r], [0, 0], [r, 0]] if outside else [[0, r], [0, 2 * r], [2 * r, 2 * r], [2 * r, 0], [r, 0]]
    )
    piece = shape(edge("underarm", underarm, 12.7 / MM), edge("rest", around, 0.0))
    assert underarm.length_in * MM == pytest.approx(157.08, abs=0.01)
    line = cut_line(piece)
    radius = (112.7 if outside else 87.3) / MM
    curved = line[np.abs(np.hypot(*line.T) - radius) < 0.001]
    angles = np.sort(np.arctan2(curved[:, 1], curved[:, 0]))
    assert length_in(curved[np.argsort(np.arctan2(curved[:, 1], curved[:, 0]))]) * MM == pytest.approx(
        cut_mm * (angles[-1] - angles[0]) / (math.pi / 2), abs=0.05
    )
    assert angles[-1] - angles[0] == pytest.approx(math.pi / 2, abs=0.3)
