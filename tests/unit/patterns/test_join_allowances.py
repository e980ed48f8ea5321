"""What is said of joined edges that are cut with nothing to sew them by, or with two different allowances."""

from pathlib import Path

from tests.unit.patterns.build import HALF_TOP, pattern_of

BOTH = (
    HALF_TOP
    + HALF_TOP[HALF_TOP.index("  front:") :].replace("front", "back")
    + ("joins: [[front/side, back/side], [front/shoulder, back/shoulder]]\n")
)
GIVEN = "allowance: {seam: 1/2 in, hem: 1/2 in}\n"


def warnings(folder: Path, text: str) -> list[str]:
    return [one for one in pattern_of(folder, text).drafted().warnings if "sew" in one and "cut" in one]


def test_a_pattern_without_allowances_says_so_once(tmp_path: Path) -> None:
    assert warnings(tmp_path, BOTH.replace(GIVEN, "")) == [
        "front/side and back/side and 1 more are cut on the seam line, with nothing to sew them by; give the pattern a "
        "finish, or an allowance for its seams"
    ]
    assert warnings(tmp_path, BOTH) == warnings(tmp_path, BOTH.replace(GIVEN, "finish: {}\n")) == []


def test_two_allowances_at_one_seam_are_told(tmp_path: Path) -> None:
    text = BOTH.replace("path: [[9, 2], [10, 24]]}", "path: [[9, 2], [10, 24]], allowance: 5/8 in}", 1)
    assert warnings(tmp_path, text) == [
        "front/side is cut with 5/8 in and back/side with 1/2 in to sew it by, so their seam lines part where the raw "
        "edges meet; give both the same"
    ]
