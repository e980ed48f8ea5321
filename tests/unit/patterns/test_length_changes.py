import math
from pathlib import Path

import numpy as np
import pytest
import shapely

from patterns import DraftedPattern, PatternError, example
from tests.unit.patterns.build import HALF_TOP, pattern_of
from tests.unit.patterns.smock import drafted, edge_of

PIECES = ("front", "back")


def area_in2(pattern: DraftedPattern, piece: str = "front") -> float:
    """Square inches within the seam line, by an independent library."""
    return float(shapely.Polygon(pattern.pieces[piece].seam_line).area)


@pytest.mark.parametrize("backwards", [False, True])
@pytest.mark.parametrize(("change", "by"), [("lengthen: 2", 2.0), ("shorten: 3 1/2", -3.5)])
def test_the_hem_is_moved_straight_down_or_up(
    tmp_path: Path, backwards: bool, change: str, by: float
) -> None:
    """Plain geometry: the fold grows by L; the area by about L times the width of the hem."""
    before = drafted(tmp_path, backwards=backwards)
    after = drafted(tmp_path, f"{{{change}}}", backwards=backwards)
    for piece in PIECES:
        old, new = (edge_of(one, "hem", (0, 25), piece) for one in (before, after))
        assert new.start == pytest.approx(old.start + [0, by], abs=1e-9)
        assert new.start_tangent == pytest.approx(old.start_tangent, abs=1e-6)
        assert new.end_tangent == pytest.approx(old.end_tangent, abs=0.01)
        grown = area_in2(after, piece) - area_in2(before, piece)
        assert grown == pytest.approx(by * (11.2 + by * 0.03), abs=0.2)
    assert after.joins[1].difference_in == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    "change", ["lengthen: 2", "lengthen: 2, at: 17 in", "shorten: 2", "shorten: 2, at: 17 in"]
)
def test_what_lies_above_stays_as_it_was_traced(tmp_path: Path, change: str) -> None:
    before, after = drafted(tmp_path), drafted(tmp_path, f"{{{change}}}")
    for edge in ("neck", "overarm", "sleeve hem"):
        one, two = (pattern.pieces["front"].edges[edge].points for pattern in (before, after))
        assert np.array_equal(one, two)
    high = after.pieces["front"].edges["side"].points
    line = shapely.LineString(before.pieces["front"].edges["side"].points)
    assert shapely.distance(line, shapely.points(high[high[:, 1] < 12.9])).max() < 1e-3


@pytest.mark.parametrize("backwards", [False, True])
@pytest.mark.parametrize(("change", "by"), [("lengthen: 2", 2.0), ("shorten: 1 1/2", -1.5)])
def test_a_piece_is_spread_or_folded_up_at_a_level(
    tmp_path: Path, backwards: bool, change: str, by: float
) -> None:
    """Plain geometry: the area grows by L times the width at the level; all below moves down by L."""
    before = drafted(tmp_path, backwards=backwards)
    after = drafted(tmp_path, f"{{{change}, at: 18 in}}", backwards=backwards)
    old, new = (edge_of(one, "hem", (0, 25)) for one in (before, after))
    assert new.beziers == pytest.approx(old.beziers + [0, by])
    side = edge_of(after, "side", (16.5, 11))
    assert side.end == pytest.approx([11.2, 25 + by])
    assert side.start == pytest.approx([16.5, 11])
    assert len(side.runs()) == 1
    assert area_in2(after) - area_in2(before) == pytest.approx(10.82 * by, rel=0.01)
    down = np.diff(side.points[side.points[:, 1] > 13][:, 1])
    assert (down > 0).all()
    assert after.pieces["front"].grain is not None


def test_straight_sides_are_re_joined_straight(tmp_path: Path) -> None:
    front = (
        pattern_of(tmp_path, HALF_TOP + "changes: [{lengthen: 3, at: 12, pieces: front}]\n")
        .drafted()
        .pieces["front"]
    )
    assert front.edges["side"].points.tolist() == [[9, 2], [10, 27]]
    assert front.edges["hem"].points.tolist() == [[10, 27], [0, 27]]
    assert front.edges["centre front"].length_in == pytest.approx(23)


GORE = """\
pattern: Signal flag skirt
allowance: {seam: 1/2 in, hem: 1 in}
pieces:
  gore:
    cut: 6
    edges:
      - {name: waist, kind: seam, path: [[3, 0], [-3, 0]]}
      - {name: left, kind: seam, path: [[-3, 0], [-7, 20]]}
      - {name: hem, kind: hem, path: [[-7, 20], [0, 20.6], [7, 20]], curve: smooth}
      - {name: right, kind: seam, path: [[7, 20], [3, 0]]}
"""


@pytest.mark.parametrize(("change", "by"), [("lengthen: 5", 5.0), ("shorten: 5", -5.0)])
def test_a_flared_gore_without_a_fold_keeps_its_sides_straight(
    tmp_path: Path, change: str, by: float
) -> None:
    """Plain geometry: sides that flare 4 in 20 run on in their own lines, or are cut off on them."""
    text = f"{GORE}changes: [{{{change}, pieces: gore}}]\n"
    gore = pattern_of(tmp_path, text).drafted().pieces["gore"]
    for edge, sign in (("left", -1), ("right", 1)):
        points = gore.edges[edge].points
        assert len(points) == 2
        low = points[np.argmax(points[:, 1])]
        assert low[1] == pytest.approx(20 + by, abs=0.2)
        assert low[0] == pytest.approx(sign * (3 + low[1] / 5), abs=1e-6)
    assert gore.edges["hem"].points[:, 1].max() == pytest.approx(20.6 + by, abs=1e-3)


def test_a_gore_is_spread_at_its_hips(tmp_path: Path) -> None:
    """Plain geometry: straight sides from the waist to the hem moved down by 2."""
    text = f"{GORE}changes: [{{lengthen: 2, at: 8, pieces: gore}}]\n"
    gore = pattern_of(tmp_path, text).drafted().pieces["gore"]
    assert gore.edges["left"].points.tolist() == [[-3, 0], [-7, 22]]
    assert gore.edges["right"].points.tolist() == [[7, 22], [3, 0]]


@pytest.mark.parametrize("backwards", [False, True])
@pytest.mark.parametrize(("change", "by"), [("lengthen sleeve: 3 in", 3.0), ("shorten sleeve: 2 in", -2.0)])
def test_a_sleeve_is_as_much_longer_along_the_overarm(
    tmp_path: Path, backwards: bool, change: str, by: float
) -> None:
    """Plain geometry: the overarm is straight; its end moves along it; the sleeve hem keeps its slant."""
    before = drafted(tmp_path, backwards=backwards)
    after = drafted(tmp_path, f"{{{change}}}", backwards=backwards)
    along = np.array([15, 5]) / math.hypot(15, 5)
    for piece in PIECES:
        overarm = edge_of(after, "overarm", (3.5, 0), piece)
        assert overarm.end == pytest.approx(np.array([18.5, 5]) + along * by, abs=1e-6)
        hem = edge_of(after, "sleeve hem", overarm.end, piece)
        assert hem.start_tangent == pytest.approx(np.array([-2, 6]) / math.hypot(2, 6), abs=1e-6)
        assert after.pieces[piece].edges["hem"].length_in == before.pieces[piece].edges["hem"].length_in
    strip = area_in2(after) - area_in2(before)
    widths = [pattern.pieces["front"].edges["sleeve hem"].length_in for pattern in (before, after)]
    assert strip == pytest.approx(by * sum(widths) / 2, rel=0.02)
    assert [join.warning for join in after.joins] == ["", ""]


def test_a_grainline_is_kept_within_a_shortened_piece(tmp_path: Path) -> None:
    for changes in (
        ("{shorten: 6}",),
        ("{shorten: 6}", "{shorten: 4}"),
        ("{neck: v, piece: front, depth: 18}",),
    ):
        front = drafted(tmp_path, *changes).pieces["front"]
        assert front.grain is not None
        assert shapely.Polygon(front.seam_line).covers(shapely.LineString(front.grain))
        assert front.grain[0, 1] > front.grain[1, 1]
        assert front.grain[0, 0] == pytest.approx(front.grain[1, 0])


def test_a_hem_band_leaves_the_finished_length(tmp_path: Path) -> None:
    """Plain geometry: length 25.6, band 4: the shell's seam at 21.6, cut half an inch below."""
    pattern = drafted(tmp_path, "{hem band: 4 in}")
    for piece in PIECES:
        half = pattern.pieces[piece]
        assert half.edges["centre"].points[:, 1].max() == pytest.approx(21.6)
        assert half.cut_line[[0, -1], 1].max() == pytest.approx(22.1)
        assert half.edges["hem"].kind.value == "seam"
    assert (
        drafted(tmp_path, "{hem band: 4 in, allowance: 1/4 in}").pieces["front"].edges["hem"].allowance_in
        == 0.25
    )


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (
            "{shorten: 21}",
            "front: 21 in shorter leaves no body at the centre, which is 21 5/8 in long; "
            "shorten it by at most 20 5/8 in",
        ),
        (
            "{hem band: 30}",
            "front: 30 in shorter leaves no body at the centre, which is 21 5/8 in long; "
            "shorten it by at most 20 5/8 in",
        ),
        (
            "{lengthen: 2, at: 8}",
            "front: 8 in below the high shoulder point a cut across meets sleeve hem, centre; choose a level "
            "that runs once from edge to edge, between underarm and hem",
        ),
        (
            "{lengthen: 2, at: 40}",
            "front: 40 in below the high shoulder point a cut across meets nothing; choose a level that runs "
            "once from edge to edge, between underarm and hem",
        ),
        (
            "{shorten: 4, at: 22}",
            "front: 22 in below the high shoulder point is too near to a corner to fold 4 in away; choose a "
            "level further from it",
        ),
        (
            "{shorten sleeve: 15}",
            "front: a sleeve 15 in shorter leaves no overarm, which is 15 13/16 in long; "
            "shorten it by at most 14 13/16 in",
        ),
        (
            "{shorten sleeve: 5}",
            "front: a sleeve 5 in shorter would be cut off beyond the underarm; shorten it by less",
        ),
        (
            "{shorten sleeve: 7}",
            "front: its sleeve hem 7 in further in does not meet overarm and side any more; move it by less",
        ),
    ],
)
def test_a_length_that_cannot_be_says_why(tmp_path: Path, change: str, sentence: str) -> None:
    with pytest.raises(PatternError) as error:
        drafted(tmp_path, change)
    assert str(error.value) == sentence


def test_a_sleeve_hem_too_near_the_underarm_says_what_can_be_done(tmp_path: Path) -> None:
    """A mitred hem is cut, and wants clipping where it is folded up; a narrower one lies flat."""
    text = example("harbour overtop").read_text(encoding="utf-8")
    shorter = text.replace("changes:\n", "changes:\n  - {shorten sleeve: 1 1/4 in}\n").split("versions:")[0]
    with pytest.raises(PatternError) as error:
        pattern_of(tmp_path, shorter).drafted()
    assert str(error.value) == (
        "front: sleeve hem, folded up, would not lie on side, which bends away too near to it (corner: mitre, given to "
        "sleeve hem, has it cut all the same); give sleeve hem and side at most 7/16 in, or reshape the piece there"
    )
    mitred = shorter.replace("{name: sleeve hem, kind: hem,", "{name: sleeve hem, kind: hem, corner: mitre,")
    assert pattern_of(tmp_path, mitred).drafted().pieces["front"].edges["sleeve hem"].length_in > 6
