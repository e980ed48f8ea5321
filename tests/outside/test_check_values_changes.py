"""Numbers that can be worked out by hand or are published, held against what changes of a pattern make.

Each test says where its number is from. Tolerance 0.01 in or 0.1 mm unless said otherwise.
"""

import math
from pathlib import Path

import numpy as np
import pytest

from patterns.checks.head_check import EASE_IN, HeadCheck, head_check
from patterns.cutting.finish import Finish, HemFinish, SeamFinish, gauge
from patterns.measures import Unit
from patterns.parts import Kind
from patterns.pattern import Pattern
from tests.unit.patterns.build import arc, nearest_in, pattern_of

MM = 25.4


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
