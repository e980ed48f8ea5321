import math
from pathlib import Path

import numpy as np
import pytest
import shapely

from patterns import DraftedPattern, PatternError
from tests.unit.patterns.build import HALF_TOP, pattern_of
from tests.unit.patterns.smock import drafted, edge_of

PIECES = ("front", "back")


def area_in2(pattern: DraftedPattern, piece: str = "front") -> float:
    """Square inches within the seam line, by an independent library."""
    return float(shapely.Polygon(pattern.pieces[piece].seam_line).area)


def width_at(pattern: DraftedPattern, y: float, piece: str = "front") -> float:
    """How wide the half is at a level, by an independent library."""
    outline = shapely.Polygon(pattern.pieces[piece].seam_line)
    return float(outline.intersection(shapely.LineString([(-1, y), (40, y)])).length)


@pytest.mark.parametrize("backwards", [False, True])
@pytest.mark.parametrize("place", ["fold", "side"])
@pytest.mark.parametrize(("word", "sign"), [("widen", 1), ("narrow", -1)])
def test_the_girth_changes_by_four_times_the_length(
    tmp_path: Path, backwards: bool, place: str, word: str, sign: int
) -> None:
    """Plain geometry: two half fronts and two half backs, each 3/4 in wider at every level of the body."""
    before = drafted(tmp_path, backwards=backwards)
    after = drafted(tmp_path, f"{{{word}: 3/4 in, at: {place}}}", backwards=backwards)
    for level in (14, 18, 24):
        girths = [2 * sum(width_at(pattern, level, piece) for piece in PIECES) for pattern in (before, after)]
        assert girths[1] - girths[0] == pytest.approx(4 * 0.75 * sign, abs=1e-3)
    for edge in ("neck", "hem"):
        start = (0, 4) if edge == "neck" else (0, 25.6)
        old, new = (edge_of(pattern, edge, start) for pattern in (before, after))
        assert new.start == pytest.approx(old.start)
        assert new.start_tangent == pytest.approx([1, 0], abs=1e-9)
    assert [join.warning for join in after.joins] == ["", ""]


def test_widened_at_the_fold_all_else_is_moved_out_unchanged(tmp_path: Path) -> None:
    before, after = drafted(tmp_path), drafted(tmp_path, "{widen: 1, at: fold}")
    for edge in ("overarm", "sleeve hem", "side"):
        one, two = (pattern.pieces["front"].edges[edge].points for pattern in (before, after))
        assert two == pytest.approx(one + [1, 0])
    assert after.pieces["front"].grain == pytest.approx(np.array([[5.0, 22.0], [5.0, 12.0]]))


def test_widened_at_the_side_neck_overarm_and_sleeve_hem_stay(tmp_path: Path) -> None:
    before, after = drafted(tmp_path), drafted(tmp_path, "{widen: 1, at: side}")
    for edge in ("neck", "overarm", "sleeve hem"):
        one, two = (pattern.pieces["front"].edges[edge].points for pattern in (before, after))
        assert np.array_equal(one, two)
    assert len(edge_of(after, "side", (16.5, 11)).runs()) == 1


def test_without_a_sleeve_the_whole_side_moves_and_the_shoulder_follows(tmp_path: Path) -> None:
    """Plain geometry: a straight half, 22 in high beside its neck."""
    text = HALF_TOP + "changes: [{widen: 1, at: side, pieces: front}]\n"
    front = pattern_of(tmp_path, text).drafted().pieces["front"]
    assert front.edges["side"].points.tolist() == [[10, 2], [11, 24]]
    assert front.edges["shoulder"].points.tolist() == [[3.5, 0], [10, 2]]
    assert front.edges["hem"].points.tolist() == [[11, 24], [0, 24]]


def test_a_v_stays_a_v_when_its_piece_is_widened_at_the_fold(tmp_path: Path) -> None:
    """Plain geometry: 3.5 + 1 wide, 6 deep."""
    neck = (
        drafted(tmp_path, "{neck: v, piece: front, depth: 6}", "{widen: 1, at: fold}")
        .pieces["front"]
        .edges["neck"]
    )
    assert neck.points == pytest.approx(np.array([[0, 6], [4.5, 0]]))
    assert neck.length_in == pytest.approx(math.hypot(4.5, 6))


@pytest.mark.parametrize("backwards", [False, True])
@pytest.mark.parametrize("opening", [4.5, 5.5, 7.0, 8.0])
def test_a_sleeve_opening_is_as_long_as_asked_for(tmp_path: Path, backwards: bool, opening: float) -> None:
    before = drafted(tmp_path, backwards=backwards)
    after = drafted(tmp_path, f"{{sleeve opening: {opening}}}", backwards=backwards)
    down = np.array([-2, 6]) / math.hypot(2, 6)
    for piece in PIECES:
        hem = edge_of(after, "sleeve hem", (18.5, 5), piece)
        assert hem.start.tolist() == [18.5, 5]
        assert hem.length_in == pytest.approx(opening)
        assert hem.end == pytest.approx([18.5, 5] + down * opening)
        side = edge_of(after, "side", hem.end, piece)
        assert len(side.runs()) == 1
        old = edge_of(before, "side", (16.5, 11), piece)
        assert side.end == pytest.approx(old.end)
        low = side.points[side.points[:, 1] > 14]
        assert shapely.distance(shapely.LineString(old.points), shapely.points(low)).max() < 1e-3
    assert after.joins[1].difference_in == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("backwards", [False, True])
@pytest.mark.parametrize("by", [2.0, -1.5])
def test_a_hem_is_slanted_between_fold_and_side(tmp_path: Path, backwards: bool, by: float) -> None:
    before = drafted(tmp_path, backwards=backwards)
    after = drafted(tmp_path, f"{{slant hem: {by}}}", backwards=backwards)
    old, new = (edge_of(pattern, "hem", (0, 25.6)) for pattern in (before, after))
    assert new.start == pytest.approx(old.start)
    near = new.points[new.points[:, 0] <= 0.5]
    assert shapely.distance(shapely.LineString(old.points), shapely.points(near)).max() < 1e-3
    assert new.end_tangent == pytest.approx(old.end_tangent, abs=6e-3), "a third of a degree"
    side = edge_of(after, "side", (16.5, 11))
    assert side.end[1] - 25 == pytest.approx(by, abs=0.02)
    grown = area_in2(after) - area_in2(before)
    assert grown == pytest.approx(by * (11.2 - 0.5) / 2, abs=0.15)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (
            "{narrow: 4, at: fold}",
            "front: 4 in narrower at the fold takes away all of its neck, which is 3 1/2 in wide on the half "
            "piece; narrow it by less",
        ),
        (
            "{narrow: 10, at: side}",
            "front: 10 in narrower at the side leaves nothing of the piece, which is 10 3/4 in wide there; "
            "narrow it by at most 9 3/4 in",
        ),
        (
            "{sleeve opening: 30}",
            "front: a sleeve opening of 30 in would hang down to the end of the side, which is at 25 in; "
            "make it at most 20 in",
        ),
        (
            "{slant hem: -24}",
            "front: its hem 24 in higher does not meet side and centre any more; move it by less",
        ),
    ],
)
def test_a_width_that_cannot_be_says_why(tmp_path: Path, change: str, sentence: str) -> None:
    with pytest.raises(PatternError) as error:
        drafted(tmp_path, change)
    assert str(error.value) == sentence


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ("{widen: 1, at: fold, pieces: front}", "front has no fold to be widened at; widen it at its side"),
        (
            "{slant hem: 1, pieces: front}",
            "front: a hem is slanted from the fold to the side of a half piece; cut it on the fold",
        ),
    ],
)
def test_a_whole_piece_has_no_fold_to_work_from(tmp_path: Path, change: str, sentence: str) -> None:
    whole = HALF_TOP.replace("cut: 1 on fold", "cut: 1").replace("kind: fold", "kind: seam")
    with pytest.raises(PatternError) as error:
        pattern_of(tmp_path, f"{whole}changes: [{change}]\n").drafted()
    assert str(error.value) == sentence


def test_a_whole_piece_is_widened_at_its_side(tmp_path: Path) -> None:
    whole = HALF_TOP.replace("cut: 1 on fold", "cut: 2 mirrored").replace("kind: fold", "kind: seam")
    text = f"{whole}changes: [{{widen: 2, at: side, pieces: [front]}}]\n"
    front = pattern_of(tmp_path, text).drafted().pieces["front"]
    assert front.edges["side"].points.tolist() == [[11, 2], [12, 24]]
    assert front.edges["centre front"].length_in == 20


def test_a_hem_of_several_cubics_is_stretched_evenly(tmp_path: Path) -> None:
    """Plain geometry: 10 wide to 11; what was at 5 comes to 5.5, at its own depth."""
    text = HALF_TOP.replace("[[10, 24], [0, 24]]", "[[10, 24], [5, 24.5], [0, 24]], curve: smooth")
    changes = "changes: [{widen: 1, at: side, pieces: front}]\n"
    before, after = (pattern_of(tmp_path, one).drafted().pieces["front"] for one in (text, text + changes))
    old, new = (piece.edges["hem"].curve for piece in (before, after))
    assert new.beziers == pytest.approx(old.beziers * [1.1, 1.0])
