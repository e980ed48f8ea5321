import math
from pathlib import Path

import pytest

from patterns import example, read_pattern
from patterns.checks.girths import girth_in, usual_girths
from patterns.checks.head_check import head_check
from patterns.checks.truing import junctions, off_square
from patterns.cutting.drafted import DraftedPattern
from patterns.errors import PatternError
from patterns.measures import Unit
from patterns.saying import Say
from tests.unit.patterns.build import pattern_of

WIDTH, SIDE_DEG = 10.0, 95.0
INCHES = Say(Unit.IN)


def half(name: str, hem_deg: float, *, fold_off_deg: float = 0.0, neck: str = "[[0, 6], [3.5, 0]]") -> str:
    """A half whose hem leaves its side at that angle, and comes to the fold so many degrees below level."""
    up = 20 * math.tan(math.radians(SIDE_DEG - 90))
    along = math.radians(SIDE_DEG - 90 + hem_deg)
    below = 22 + math.tan(math.radians(fold_off_deg))
    centre = neck[3 : neck.index("]")]
    return (
        f"  {name}:\n    cut: 1 on fold\n    edges:\n"
        f"      - {{name: neck, kind: seam, path: {neck}}}\n"
        f"      - {{name: shoulder, kind: seam, path: [[3.5, 0], [{WIDTH}, 2]]}}\n"
        f"      - {{name: side, kind: seam, path: [[{WIDTH}, 2], [{WIDTH + up}, 22]]}}\n"
        f"      - {{name: hem, kind: hem, path: [[{WIDTH + up}, 22], "
        f"[{WIDTH + up - math.sin(along)}, {22 - math.cos(along)}], [1, 22], [0, {below}]]}}\n"
        f"      - {{name: centre {name}, kind: fold, path: [[0, {below}], [0{centre}]]}}\n"
    )


def joined(front: str, back: str) -> str:
    return f"pattern: Rope locker\npieces:\n{front}{back}joins: [[front/side, back/side]]\n"


@pytest.mark.parametrize(("back_deg", "through"), [(85.0, True), (86.9, True), (92.0, False), (82.0, False)])
def test_a_hem_runs_through_a_side_seam_within_two_degrees(
    tmp_path: Path, back_deg: float, through: bool
) -> None:
    """95 + 85 passes and 95 + 92 fails at 180 +- 2 degrees (common practice)."""
    text = joined(half("front", 95.0), half("back", back_deg))
    pattern = pattern_of(tmp_path, text)
    (found,) = junctions(pattern.draft())
    assert found.lines == ("front/hem", "back/hem")
    assert found.seam == ("front/side", "back/side")
    assert (found.first_deg, found.second_deg) == pytest.approx((95.0, back_deg), abs=1e-6)
    told = [warning for warning in pattern.drafted().warnings if "meet at" in warning]
    assert bool(told) is not through
    if not through:
        assert ("a dip" if back_deg > 90 else "a peak") in told[0]


def test_pieces_walked_against_one_another_are_compared_end_on_end(tmp_path: Path) -> None:
    """A skirt's panels, drawn as they lie side by side: the first's side walks down, the second's up."""
    text = (
        "pattern: Bollard skirt\npieces:\n"
        "  left:\n    cut: 1\n    edges:\n"
        "      - {name: waist, kind: edge, path: [[0, 0], [8, 0]]}\n"
        "      - {name: side, kind: seam, path: [[8, 0], [10, 20]]}\n"
        "      - {name: hem, kind: hem, path: [[10, 20], [0, 20]]}\n"
        "      - {name: middle, kind: seam, path: [[0, 20], [0, 0]]}\n"
        "  right:\n    cut: 1\n    edges:\n"
        "      - {name: waist, kind: edge, path: [[2, 0], [10, 0]]}\n"
        "      - {name: middle, kind: seam, path: [[10, 0], [10, 20]]}\n"
        "      - {name: hem, kind: hem, path: [[10, 20], [0, 20]]}\n"
        "      - {name: side, kind: seam, path: [[0, 20], [2, 0]]}\n"
        "joins: [[left/side, right/side]]\n"
    )
    found = {junction.lines[0]: junction for junction in junctions(pattern_of(tmp_path, text).draft())}
    slant = math.degrees(math.atan2(2, 20))
    assert found["left/waist"].sum_deg == pytest.approx(180 + 2 * slant)
    assert found["left/hem"].sum_deg == pytest.approx(180 - 2 * slant)


@pytest.mark.parametrize(("off_deg", "told"), [(0.0, ""), (0.9, ""), (1.2, "a peak"), (-5.0, "a dip")])
def test_a_hem_meets_the_fold_square_within_a_degree(tmp_path: Path, off_deg: float, told: str) -> None:
    """The limit is common practice. A hem that comes down to the centre makes a peak there."""
    text = f"pattern: Rope locker\npieces:\n{half('front', 85.0, fold_off_deg=off_deg)}"
    warnings = [one for one in off_square(pattern_of(tmp_path, text).draft(), INCHES) if "hem" in one]
    assert len(warnings) == bool(told)
    assert all(told in one and f"{abs(off_deg):.1f} degrees off square" in one for one in warnings)


def test_the_point_of_a_v_is_meant(tmp_path: Path) -> None:
    text = f"pattern: Rope locker\npieces:\n{half('front', 85.0)}"
    assert not [told for told in off_square(pattern_of(tmp_path, text).draft(), INCHES) if "neck" in told]


def v_and_arc(e_in: float) -> str:
    """A V 3 1/2 in wide and 6 deep in front; behind, the arc square to the fold, as wide and `e_in` deep."""
    radius = (3.5**2 + e_in**2) / (2 * e_in)
    angle = math.atan2(3.5, radius - e_in)
    reach = 4 / 3 * math.tan(angle / 4) * radius
    handle = (3.5 - reach * math.cos(angle), reach * math.sin(angle))
    arc = (
        f"[[0, {e_in:.9f}], [{reach:.9f}, {e_in:.9f}], [{handle[0]:.9f}, {handle[1]:.9f}], [3.5, 0]], "
        "curve: bezier"
    )
    return f"pattern: Tide bell\npieces:\n{half('front', 85.0)}{half('back', 85.0, neck=arc)}"


@pytest.mark.parametrize(
    ("e_in", "neck_in", "verdict"), [(2.5, 23.07, "it may not go"), (1.0, 21.27, "it does not go")]
)
def test_a_neck_of_v_and_arc_against_a_head_of_57_cm(
    tmp_path: Path, e_in: float, neck_in: float, verdict: str
) -> None:
    """V of 6.946 in; half arcs of 4.590 and 3.688 in (plane geometry); head + 1 in is common practice."""
    check = head_check(v_and_arc_drafted(tmp_path, e_in))
    assert check is not None
    assert check.neck_in == pytest.approx(neck_in, abs=0.01)
    assert verdict in check.warning
    assert verdict == "it does not go" or check.ease_in > 0


def test_the_v_that_would_do_is_told_to_the_next_eighth(tmp_path: Path) -> None:
    """59.5 cm beside a back neck 1 in deep need a V 7.22 in deep (plane geometry)."""
    check = head_check(v_and_arc_drafted(tmp_path, 1.0), 59.5 / 2.54 - 1)
    assert check is not None
    assert check.v_depth_in == 7.25
    assert "a V in front 7 1/4 in deep would do" in check.warning


def test_no_v_is_told_that_leaves_no_body(tmp_path: Path) -> None:
    """Of 22 in at the centre one must be left, so that 21 in is the deepest V: half a neck of 21.29 in (geometry)."""
    pattern = v_and_arc_drafted(tmp_path, 1.0)
    deepest = 2 * (math.hypot(3.5, 21.0) + 3.688) - 1
    fits, beyond = (head_check(pattern, head_in) for head_in in (deepest - 0.01, deepest + 0.3))
    assert fits is not None
    assert beyond is not None
    assert fits.v_depth_in == 21.0
    assert beyond.v_depth_in is None
    assert beyond.warning.endswith("are needed; make it wider, or give it an opening")


def v_and_arc_drafted(folder: Path, e_in: float) -> DraftedPattern:
    return pattern_of(folder, v_and_arc(e_in)).drafted()


def test_the_neck_of_a_loose_collar_is_not_the_garments(tmp_path: Path) -> None:
    collar = (
        "  collar:\n    cut: 1 on fold\n    edges:\n"
        "      - {name: neck, kind: seam, path: [[0, 3], [7, 2]]}\n"
        "      - {name: outer, kind: seam, path: [[7, 2], [8, 0], [0, 0]]}\n"
        "      - {name: centre, kind: fold, path: [[0, 0], [0, 3]]}\n"
    )
    text = v_and_arc(2.5) + collar
    loose = head_check(pattern_of(tmp_path, text).drafted())
    worn = head_check(pattern_of(tmp_path, f"{text}joins: [[front/side, back/side]]\n").drafted())
    assert loose is not None
    assert worn is not None
    assert worn.neck_in == pytest.approx(23.07, abs=0.01)
    assert loose.neck_in == pytest.approx(23.07 + 2 * math.hypot(7, 1), abs=0.01)


def test_an_opening_lets_the_head_through(tmp_path: Path) -> None:
    pattern = v_and_arc_drafted(tmp_path, 1.0)
    shut, slit = (head_check(pattern, 57 / 2.54, opening) for opening in (0.0, 5.0))
    assert shut is not None
    assert slit is not None
    assert (shut.passed, slit.passed) == (False, True)
    assert slit.ease_in - shut.ease_in == pytest.approx(10.0)


def test_a_girth_is_twice_both_halves(tmp_path: Path) -> None:
    """Halves of 13 and 13 make 52 in round (plane geometry)."""
    text = joined(half("front", 85.0), half("back", 85.0)).replace("[10.0, 2]", "[13, 2]")
    text = text.replace(f"[{WIDTH + 20 * math.tan(math.radians(5))}, 22]", "[13, 22]")
    pattern = pattern_of(tmp_path, text).drafted()
    assert girth_in(pattern, 12.0) == pytest.approx(52.0)


def test_a_mirrored_pair_is_measured_round_as_a_half_on_the_fold(tmp_path: Path) -> None:
    """A front with a centre seam in place of its fold: 2 (13 + 13) all the same (plane geometry)."""
    text = joined(half("front", 85.0), half("back", 85.0)).replace("[10.0, 2]", "[13, 2]")
    text = text.replace(f"[{WIDTH + 20 * math.tan(math.radians(5))}, 22]", "[13, 22]")
    seamed = text.replace("cut: 1 on fold", "cut: 2 mirrored", 1).replace("kind: fold", "kind: seam", 1)
    assert "cut: 1 on fold" in seamed
    assert girth_in(pattern_of(tmp_path, seamed).drafted(), 12.0) == pytest.approx(52.0)


@pytest.mark.parametrize("drop_in", [-3.0, 1.0, 22.0, 60.0])
def test_a_level_that_joins_no_centre_to_a_side_is_refused(tmp_path: Path, drop_in: float) -> None:
    pattern = pattern_of(tmp_path, joined(half("front", 85.0), half("back", 85.0))).drafted()
    with pytest.raises(PatternError, match="give a level below the underarm and the neck, and above the hem"):
        girth_in(pattern, drop_in)


def test_the_girths_told_unasked_are_below_the_sleeves_and_above_the_hem() -> None:
    """The overtop: its sleeves end in a rounded underarm, its hem begins 25 in down and rises to the sides."""
    (high, bust_in), (low, hem_in) = usual_girths(read_pattern(example("harbour overtop")).drafted())
    assert (high, low) == (11.0, 25.0)
    assert 42 < bust_in < hem_in < 46
    assert usual_girths(read_pattern(example("practice pocket")).drafted()) == ()


@pytest.mark.parametrize("name", ["armhole", "waist", "crotch", "yoke"])
def test_a_line_that_goes_round_runs_through_across_a_seam(tmp_path: Path, name: str) -> None:
    """An armhole across the shoulder, a waist across the side, as a hem (common practice); a yoke seam need not."""
    piece = """\
  {piece}:
    cut: 2 mirrored
    edges:
      - {{name: {name}, kind: seam, path: [[0, {slope}], [8, 0]]}}
      - {{name: side, kind: seam, path: [[8, 0], [8, 20]]}}
      - {{name: hem, kind: hem, path: [[8, 20], [0, 20]]}}
      - {{name: centre, kind: seam, path: [[0, 20], [0, {slope}]]}}
"""
    pieces = "".join(piece.format(piece=one, name=name, slope=y) for one, y in (("front", 0), ("back", 1)))
    text = f"pattern: Ballast\npieces:\n{pieces}joins: [[front/side, back/side]]\n"
    told = [one for one in pattern_of(tmp_path, text).drafted().warnings if "meet at" in one]
    bent = f"front/{name} and back/{name} meet at 172.9 degrees where front/side is sewn to back/side: a peak"
    assert [one.startswith(bent) for one in told] == [True] * (name != "yoke")
