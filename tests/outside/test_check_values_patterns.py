"""Numbers that can be worked out by hand or are published, held against what the patterns package computes.

Each test says where its number is from. Tolerance 0.01 in or 0.1 mm unless said otherwise.
"""

import math
import re
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest

from patterns import in_words
from patterns.checks.girths import girth_in
from patterns.checks.head_check import EASE_IN, HeadCheck, head_check
from patterns.curves import Array
from patterns.cutting.finish import Finish, HemFinish, SeamFinish, gauge
from patterns.cutting.seams import cut_line
from patterns.measures import Length, Unit
from patterns.paper.card import stitches_per_inch
from patterns.parts import Kind
from patterns.pattern import Pattern
from patterns.shape import Shape
from tests.unit.patterns.build import arc, edge, nearest_in, pattern_of, ring_of, shape

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


HALF = """\
pattern: Check values
allowance: {{seam: 1/2 in, hem: 1/2 in}}
pieces:
  front:
    cut: 1 on fold
    edges:
      - {{name: neck, kind: seam, path: {neck}, curve: bezier}}
      - {{name: shoulder, kind: seam, path: [[3.5, 0], [10, 2]]}}
      - {{name: side, kind: seam, path: [[10, 2], [10, 24]]}}
      - {{name: hem, kind: hem, path: [[10, 24], [0, 24]]}}
      - {{name: centre, kind: fold, path: [[0, 24], [0, {depth}]]}}
changes: [{changes}]
"""


def half_text(depth: float, changes: str = "") -> str:
    """A half with a circular neck, 3.5 wide and `depth` deep, square to the fold, and the changes."""
    radius = (3.5**2 + depth**2) / (2 * depth)
    curve = arc([0, depth - radius], radius, 90, 90 - math.degrees(math.atan2(3.5, radius - depth)))
    points = [list(curve.beziers[0, 0]), *(list(p) for piece in curve.beziers for p in piece[1:])]
    neck = "[" + ", ".join(f"[{abs(x):.9f}, {y:.9f}]" for x, y in points) + "]"
    return HALF.format(neck=neck, depth=f"{depth:.9f}", changes=changes)


def half_top(folder: Path, depth: float, changes: str = "") -> Pattern:
    """That half read."""
    return pattern_of(folder, half_text(depth, changes))


def half_neck_in(folder: Path, depth: float, changes: str = "") -> float:
    return half_top(folder, depth, changes).drafted().pieces["front"].edges["neck"].length_in


V = "{neck: v, piece: front, depth: 6 in}"


def test_12_13_a_v_neck_and_its_cut_point(tmp_path: Path) -> None:
    """Plain geometry: sqrt(3.5^2 + 6^2) = 6.946; atan(3.5 / 6) = 30.26 degrees; 6.946 / 7 = 0.992."""
    front = half_top(tmp_path, 4, V).drafted().pieces["front"]
    neck = front.edges["neck"]
    assert neck.length_in == pytest.approx(6.946, abs=0.001)
    along = neck.curve.end - neck.curve.start
    assert math.degrees(math.atan2(along[0], -along[1])) == pytest.approx(30.26, abs=0.005)
    assert 6 - front.cut_line[0, 1] == pytest.approx(0.992, abs=0.001)


def test_14_a_facing_of_that_v(tmp_path: Path) -> None:
    """Plain geometry: a pure parallel meets the fold 2.5 x 6.946 / 3.5 = 4.96 below; blended, 2.00."""
    facing = f"{V}, {{facing: front, of: front/neck, depth: 2.5, below point: 2}}"
    outer = half_top(tmp_path, 4, facing).drafted().pieces["front facing"].edges["outer"]
    assert nearest_in(outer.points, [0, 8]) < 1e-9
    places, steps = outer.points[:-1], np.diff(outer.points, axis=0)
    straight = int(np.argmax(np.hypot(*steps.T)))
    below = places[straight, 1] - places[straight, 0] * steps[straight, 1] / steps[straight, 0] - 6
    assert below == pytest.approx(4.96, abs=0.01)


@pytest.mark.parametrize(("depth", "half"), [(1.0, 3.688), (2.5, 4.590)])
def test_15_a_back_neck_arc(tmp_path: Path, depth: float, half: float) -> None:
    """Plain geometry: R = (w^2 + e^2) / 2e, half length R asin(w / R)."""
    assert half_neck_in(tmp_path, depth) == pytest.approx(half, abs=0.001)


@pytest.mark.parametrize(("depth", "half"), [(1.0, 3.688), (2.5, 4.590)])
def test_15_a_neck_drawn_round_is_that_arc(tmp_path: Path, depth: float, half: float) -> None:
    """Plain geometry: the same arc, drawn by the change in place of a V."""
    assert half_neck_in(tmp_path, 4, f"{V}, {{neck: round, piece: front, depth: {depth}}}") == pytest.approx(
        half, abs=0.001
    )


def over_the_head(folder: Path, depth: float, changes: str) -> HeadCheck:
    """The check of a front with the V and a back with a circular neck that deep, on a head of 57 cm."""
    front = HALF.format(neck="[[0, 6], [1.2, 4], [2.4, 2], [3.5, 0]]", depth=6, changes=changes)
    back = half_text(depth, changes).replace("  front:", "  back:")
    both = front[: front.index("changes:")] + back[back.index("  back:") :]
    found = head_check(pattern_of(folder, both).drafted(), 57 / 2.54)
    assert found is not None
    return found


def test_16_17_18_a_neck_of_58_6_cm_warns_for_a_57_cm_head_and_one_of_54_does_not_go(tmp_path: Path) -> None:
    """Plain geometry: 23.07 in = 58.6 cm, 21.27 = 54.0, V of 7.22; head + 1 in (common practice) is 59.5 cm."""
    assert EASE_IN == 1.0
    lowered, raised = over_the_head(tmp_path, 2.5, ""), over_the_head(tmp_path, 1.0, "")
    assert [one.neck_in * 2.54 for one in (lowered, raised)] == pytest.approx([58.6, 54.0], abs=0.05)
    assert [one.passed for one in (lowered, raised)] == [False, False]
    assert "it may not go over a head" in lowered.warning
    assert "it does not go over a head" in raised.warning
    assert raised.needed_in * 2.54 == pytest.approx(59.5, abs=0.05)
    assert raised.v_depth_in == pytest.approx(7.25)  # 7.22 in whole eighths of an inch


def test_16_17_18_the_neck_before_and_after_raising(tmp_path: Path) -> None:
    """Plain geometry: 2 (6.946 + 4.590) = 23.07 in; raised 1 1/2, 21.27; a V of 7.22 gives 59.5 cm."""
    front, back = half_neck_in(tmp_path, 4, V), half_neck_in(tmp_path, 2.5)
    raised = half_neck_in(tmp_path, 2.5, "{raise neck: 1 1/2 in, piece: front}")
    deeper = half_neck_in(tmp_path, 4, "{neck: v, piece: front, depth: 7.22 in}")
    assert 2 * (front + back) == pytest.approx(23.07, abs=0.01)
    assert 2 * (front + raised) == pytest.approx(21.27, abs=0.01)
    assert 2 * (deeper + raised) * 2.54 == pytest.approx(59.5, abs=0.05)


@pytest.mark.parametrize(("doubled", "strip_in"), [("no", 1.0), ("yes", 1.75)])
def test_27_a_bias_binding_and_its_strip(tmp_path: Path, doubled: str, strip_in: float) -> None:
    """Common practice: single 4w, doubled 6w + 1/4; the bound neck is cut on its seam line, 1 in to join."""
    binding = f"{{binding: front/neck, width: 1/4 in, doubled: {doubled}}}"
    pattern = half_top(tmp_path, 2.5, binding)
    (strip,) = pattern.draft().strips
    assert strip.width_in == pytest.approx(strip_in)
    assert strip.length_in == pytest.approx(2 * 4.590 + 1, abs=0.01)
    assert pattern.drafted().pieces["front"].cut_line[0].tolist() == [0, 2.5]


def test_44_the_shell_above_a_hem_band(tmp_path: Path) -> None:
    """Plain geometry: length 26, band 4, allowance 1/2: the shell is cut 22 1/2 long."""
    longer, band = "{lengthen: 2 in, pieces: front}", "{hem band: 4 in, allowance: 1/2 in, pieces: front}"
    front = half_top(tmp_path, 4, f"{longer}, {band}").drafted().pieces["front"]
    assert float(front.seam_line[:, 1].max()) == pytest.approx(22)
    assert float(front.cut_line[:, 1].max()) == pytest.approx(22.5)


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


PANELS = """\
pattern: Check values
unit: {unit}
pieces:
  front: {{cut: 1 on fold, edges: [{front}]}}
  back: {{cut: 1 on fold, edges: [{back}]}}
joins: [[front/side, back/side]]
changes: [{changes}]
"""


def panel(half_width: float, length: float, hem_deg: float = 90.0, fold_deg: float = 90.0) -> str:
    """The edges of half a panel whose hem meets its side and its fold at those angles, a third of the way each."""
    third = round(half_width / 3, 6)
    side_y = length - third / math.tan(math.radians(hem_deg))
    fold_y = length - third / math.tan(math.radians(fold_deg))
    hem = ", ".join(
        f"[{x:.9f}, {y:.9f}]"
        for x, y in ((half_width, length), (half_width - third, side_y), (third, fold_y), (0, length))
    )
    return ", ".join(
        (
            f"{{name: neck, kind: seam, path: [[0, 1], [{third}, 1], [{2 * third:.6f}, 0]], curve: smooth}}",
            f"{{name: shoulder, kind: seam, path: [[{2 * third:.6f}, 0], [{half_width}, 2]]}}",
            f"{{name: side, kind: seam, path: [[{half_width}, 2], [{half_width}, {length}]]}}",
            f"{{name: hem, kind: hem, path: [{hem}], curve: bezier}}",
            f"{{name: centre, kind: fold, path: [[0, {length}], [0, 1]]}}",
        )
    )


def panels(folder: Path, front: str, back: str, changes: str = "", unit: str = "in") -> Pattern:
    return pattern_of(folder, PANELS.format(front=front, back=back, changes=changes, unit=unit))


@pytest.mark.parametrize(("off_deg", "told"), [(0.9, False), (-0.9, False), (1.1, True), (-1.1, True)])
def test_19_a_hem_off_square_at_the_fold(tmp_path: Path, off_deg: float, told: bool) -> None:
    """Plain geometry: 25.4 tan 1 = 0.44 mm, 1 in out; more than 1 degree is shown (common practice)."""
    assert MM * math.tan(math.radians(1)) == pytest.approx(0.44, abs=0.005)
    pattern = panels(tmp_path, panel(10, 24, fold_deg=90 + off_deg), panel(10, 24))
    assert any("front, hem: it meets the fold" in one for one in pattern.drafted().warnings) is told


@pytest.mark.parametrize(("back_deg", "told"), [(85, ""), (92, "187.0 degrees")])
def test_20_a_hem_that_runs_through_across_the_side(tmp_path: Path, back_deg: float, told: str) -> None:
    """Common practice: 95 + 85 degrees run through, 95 + 92 do not; 180 within 2."""
    pattern = panels(tmp_path, panel(10, 24, hem_deg=95), panel(10, 24, hem_deg=back_deg))
    warnings = [one for one in pattern.drafted().warnings if one.startswith("front/hem and back/hem meet")]
    assert [told in one for one in warnings] == [True] * bool(told)


def test_21_the_girth_and_its_ease(tmp_path: Path) -> None:
    """Plain geometry: 2 (13 + 13) = 52; 52 - 38 = 14."""
    drafted = panels(tmp_path, panel(13, 24), panel(13, 24)).drafted()
    assert girth_in(drafted, 14) == pytest.approx(52)
    assert girth_in(drafted, 14) - 38 == pytest.approx(14)


def test_22_a_fold_off_by_a_sixteenth(tmp_path: Path) -> None:
    """Plain geometry: 1/16 on each half of front and back is 4 x 1/16 in the girth."""
    plain = panels(tmp_path, panel(13, 24), panel(13, 24)).drafted()
    off = panels(tmp_path, panel(13, 24), panel(13, 24), "{widen: 1/16 in, at: fold}").drafted()
    assert girth_in(off, 14) - girth_in(plain, 14) == pytest.approx(1 / 4)


def test_23_halves_of_19_8_and_20_2_average_to_20_and_warn(tmp_path: Path) -> None:
    """Plain geometry: (19.8 + 20.2) / 2; 0.4 apart is more than 1/4 (common practice)."""
    average = "{average: [front, back]}"
    text = PANELS.format(front=panel(19.8, 24), back=panel(20.2, 24), changes=average, unit="in")
    drafted = pattern_of(tmp_path, text.replace("joins: [[front/side, back/side]]\n", "")).drafted()
    assert girth_in(drafted, 14) == pytest.approx(2 * 20.0)
    assert any("the two traces lie 3/8 in apart" in one for one in drafted.warnings)


def test_25_stitches_to_the_inch() -> None:
    """Plain geometry: 25.4 / 3.0, 2.5 and 2.0 mm."""
    assert [stitches_per_inch(one) for one in (3.0, 2.5, 2.0)] == pytest.approx(
        [8.47, 10.16, 12.70], abs=0.01
    )


def test_26_a_french_seam_and_a_double_hem(tmp_path: Path) -> None:
    """Common practice: 1/4 + 3/8 = 5/8, the narrowest 1/4 + 1/4; a double hem 1/4 + 1/4 = 1/2."""
    finish = Finish(seam=SeamFinish.FRENCH, hem=HemFinish.DOUBLE)
    first_in = gauge(Unit.IN).fold.inches
    assert sum(finish.allowances(Unit.IN)[Kind.SEAM].inches) == first_in + 3 / 8 == 5 / 8
    assert 2 * first_in == 1 / 2
    assert finish.allowances(Unit.IN)[Kind.HEM].inches == (1 / 4, 1 / 4)
    text = half_text(4).replace(
        "allowance: {seam: 1/2 in, hem: 1/2 in}", "finish: {seam: french, hem: double}"
    )
    edges = pattern_of(tmp_path, text).drafted().pieces["front"].edges
    assert (edges["side"].allowance_in, edges["hem"].allowance_in) == (5 / 8, 1 / 2)


def test_42_a_shoulder_brought_forward(tmp_path: Path) -> None:
    """Plain geometry: front shorter and back longer by 3/8, together as long as they were."""
    neck = "[[0, 4], [1.2, 2.7], [2.4, 1.3], [3.5, 0]]"
    half = HALF.format(neck=neck, depth=4, changes="").replace("name: shoulder", "name: overarm")
    front = half[half.index("  front:") : half.index("changes:")]
    forward = f"{half[: half.index('changes:')]}{front.replace('front', 'back')}"

    def level_in(changes: str, piece: str) -> float:
        line = (
            pattern_of(tmp_path, f"{forward}changes: [{changes}]\n").drafted().pieces[piece].edges["overarm"]
        )
        return float(np.interp(7.0, *np.array(sorted(line.points.tolist())).T))

    moved = [
        level_in("{shoulder forward: 3/8 in}", piece) - level_in("", piece) for piece in ("front", "back")
    ]
    assert moved == pytest.approx([3 / 8, -3 / 8])  # y is down: the front's begins lower
    assert sum(moved) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("doubled", ["no", "yes"])
def test_43_the_turn_of_cloth(tmp_path: Path, doubled: str) -> None:
    """Plain geometry: 2 pi 0.15 = 0.94 mm, which a binding of chiffon takes up in going round."""
    words = f"binding: front/neck, width: 1/4 in, doubled: {doubled}"
    thin, thick = (
        half_top(tmp_path, 2.5, f"{{{words}{more}}}").draft().strips[0].width_in
        for more in ("", ", thickness: 0.15 mm")
    )
    assert (thick - thin) * MM == pytest.approx(0.94, abs=0.005)


ROWS = (*range(1, 28), 42, 43, 44)


def test_every_row_that_falls_to_a_pattern_is_held() -> None:
    named = (re.match(r"test((?:_\d+)+)_", name) for name in globals())
    held = {int(number) for found in named if found for number in found[1].split("_")[1:]}
    assert held >= set(ROWS)
