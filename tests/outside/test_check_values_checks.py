"""Numbers that can be worked out by hand or are published, held against what is checked of a drafted pattern.

Each test says where its number is from. Tolerance 0.01 in or 0.1 mm unless said otherwise.
"""

import math
from pathlib import Path

import pytest

from patterns.checks.girths import girth_in
from patterns.paper.card import stitches_per_inch
from patterns.pattern import Pattern
from tests.unit.patterns.build import pattern_of

MM = 25.4


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
