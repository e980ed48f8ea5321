import math
from pathlib import Path

import numpy as np
import pytest
import shapely

from patterns import DraftedPattern, PatternError, example, read_pattern
from tests.unit.patterns.build import HALF_TOP, nearest_in, pattern_of

BACKWARDS = """\
pattern: Prompt corner
allowance: {seam: 1/2 in, hem: 1/2 in}
pieces:
  front:
    cut: 1 on fold
    edges:
      - {name: centre front, kind: fold, path: [[0, 4], [0, 24]]}
      - {name: hem, kind: hem, path: [[0, 24], [10, 24]]}
      - {name: side, kind: seam, path: [[10, 24], [9, 2]]}
      - {name: shoulder, kind: seam, path: [[9, 2], [3.5, 0]]}
      - {name: neck, kind: seam, path: [[3.5, 0], [3.5, 2.4], [2, 4], [0, 4]], curve: bezier}
"""


def changed(folder: Path, *changes: str, text: str = HALF_TOP) -> DraftedPattern:
    """The half top drafted with the changes."""
    return pattern_of(folder, f"{text}changes: [{', '.join(changes)}]\n").drafted()


def refused(folder: Path, *changes: str) -> str:
    with pytest.raises(PatternError) as error:
        changed(folder, *changes)
    return str(error.value)


@pytest.mark.parametrize("text", [HALF_TOP, BACKWARDS])
def test_a_v_runs_straight_from_the_shoulder_to_its_depth(tmp_path: Path, text: str) -> None:
    front = changed(tmp_path, "{neck: v, piece: front, depth: 6 in}", text=text).pieces["front"]
    neck = front.edges["neck"]
    assert sorted(neck.points.tolist()) == [[0, 6], [3.5, 0]]
    assert neck.length_in == pytest.approx(math.hypot(3.5, 6))
    assert front.edges["centre front"].length_in == pytest.approx(18)


def test_a_change_leaves_the_traced_pattern_as_it_is(tmp_path: Path) -> None:
    pattern = pattern_of(tmp_path, HALF_TOP + "changes: [{neck: v, piece: front, depth: 6 in}]\n")
    before = pattern.pieces
    pattern.drafted()
    assert pattern.pieces == before == pattern_of(tmp_path, HALF_TOP).pieces


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (
            "{neck: v, piece: front, depth: 24 in}",
            "front: a V 24 in deep leaves no body at the centre, which ends at 24 in; make it at most 23 in",
        ),
        (
            "{raise neck: 4 in, piece: front}",
            "front: raising the neck 4 in would bring its centre across the shoulder; it lies 4 in below the "
            "neck-shoulder point, so raise it by less",
        ),
        (
            "{facing: front, of: front/neck, depth: 6 in}",
            "front facing: 6 in along shoulder is more than its length, 5 7/8 in; make the facing narrower",
        ),
        (
            "{facing: front, of: front/neck, depth: 2 in, shoulder: 6 in}",
            "front facing: 6 in along shoulder is more than its length, 5 7/8 in; make the facing narrower",
        ),
        (
            "{facing: front, of: front/neck, depth: 1 in, shoulder: 5 3/4 in}",
            "front facing: the neck is too short for a facing 1 in wide beside it and 5 3/4 in along the shoulder; "
            "make it narrower",
        ),
        (
            "{facing: front, of: front/neck, depth: 2 in, below point: 20 in}",
            "front facing: 20 in below the neck is beyond the body, which ends 20 in below it; "
            "make the facing shorter",
        ),
        (
            "{facing: front, of: front/side, depth: 2 in}",
            "front: a facing needs side to begin or end at the fold of a half piece; bind it instead",
        ),
    ],
)
def test_a_change_that_cannot_be_made_says_why(tmp_path: Path, change: str, sentence: str) -> None:
    assert refused(tmp_path, change) == sentence


def test_a_v_above_the_shoulder_is_refused(tmp_path: Path) -> None:
    lowered = HALF_TOP.replace("[3.5, 2.4], [3.5, 0]]", "[3.5, 3], [3.5, 2]]").replace(
        "[[3.5, 0]", "[[3.5, 2]"
    )
    with pytest.raises(PatternError) as error:
        changed(tmp_path, "{neck: v, piece: front, depth: 1 in}", text=lowered)
    assert str(error.value) == (
        "front: a V 1 in deep would lie above the neck-shoulder point, which is at 2 in; make it deeper"
    )


def test_a_v_across_another_edge_is_refused(tmp_path: Path) -> None:
    dented = HALF_TOP.replace("[[9, 2], [10, 24]]", "[[9, 2], [1.5, 6], [10, 24]]")
    with pytest.raises(PatternError) as error:
        changed(tmp_path, "{neck: v, piece: front, depth: 20 in}", text=dented)
    assert str(error.value) == "front: a V 20 in deep crosses neck and side; choose another"


@pytest.mark.parametrize("below", [3.0, 4.0, 4.9, 5.0, 7.0])
@pytest.mark.parametrize("depth", [5.0, 6.0, 9.0])
def test_a_facing_widens_towards_the_fold_where_it_is_to_reach_further(
    tmp_path: Path, below: float, depth: float
) -> None:
    facing = changed(
        tmp_path,
        f"{{neck: v, piece: front, depth: {depth}}}",
        f"{{facing: front, of: front/neck, depth: 2 1/2, below point: {below}}}",
    ).pieces["front facing"]
    outer = facing.edges["outer"].curve.reversed()
    assert outer.start == pytest.approx([0, depth + below])
    assert outer.start_tangent == pytest.approx([1, 0], abs=1e-9)
    assert len(outer.runs()) == 1
    along = np.array([3.5, -depth]) / math.hypot(3.5, depth)
    away = (outer.points - [0, depth]) @ [-along[1], along[0]]
    assert away[outer.points[:, 0] > 0.5].min() > 1.5


def test_a_neck_on_a_whole_piece_cannot_be_changed(tmp_path: Path) -> None:
    whole = HALF_TOP.replace("cut: 1 on fold", "cut: 1").replace("kind: fold", "kind: seam")
    with pytest.raises(PatternError) as error:
        changed(tmp_path, "{neck: v, piece: front, depth: 6 in}", text=whole)
    assert str(error.value) == (
        "front: a neck is changed on a half piece; cut it on the fold, the neck beside it"
    )


@pytest.mark.parametrize("text", [HALF_TOP, BACKWARDS])
def test_a_raised_neck_stays_smooth_square_to_the_fold_and_at_its_shoulder(tmp_path: Path, text: str) -> None:
    front = changed(tmp_path, "{raise neck: 1 1/2 in, piece: front}", text=text).pieces["front"]
    neck = front.edges["neck"].curve
    neck = neck if neck.start[0] == 0 else neck.reversed()
    assert neck.start.tolist() == [0, 2.5]
    assert neck.end.tolist() == [3.5, 0]
    assert neck.start_tangent == pytest.approx([1, 0], abs=1e-6)
    assert len(neck.runs()) == 1
    assert front.edges["centre front"].length_in == pytest.approx(21.5)


def test_changes_are_applied_in_order(tmp_path: Path) -> None:
    vneck, facing = "{neck: v, piece: front, depth: 6}", "{facing: front, of: front/neck, depth: 2}"
    after = changed(tmp_path, vneck, facing)
    before = changed(tmp_path, facing, vneck)
    assert after.warnings == ()
    assert before.warnings == (
        "front/neck is 6.95 in and front facing/neck 5.95 in long: they differ by 1 in; move the facing below the "
        "changes of its neck, or redraw it",
    )


def test_a_change_switched_off_or_left_out_by_a_version_is_not_made(tmp_path: Path) -> None:
    text = HALF_TOP + (
        "changes: [{neck: v, piece: front, depth: 6, off: yes}, {facing: front, of: front/neck, depth: 2}]\n"
        "versions: {bare: {without: [1]}}\n"
    )
    pattern = pattern_of(tmp_path, text)
    assert pattern.drafted().pieces["front"].edges["centre front"].length_in == pytest.approx(20)
    assert list(pattern.drafted().pieces) == ["front", "front facing"]
    assert list(pattern.drafted("bare").pieces) == ["front"]
    with pytest.raises(PatternError) as error:
        pattern.drafted("lined")
    assert str(error.value) == 'Prompt corner has no version "lined"; its versions are bare'


@pytest.mark.parametrize("text", [HALF_TOP, BACKWARDS])
@pytest.mark.parametrize("shoulder", [1.5, 2.5, 3.5])
def test_a_facing_may_be_narrower_or_wider_along_the_shoulder(
    tmp_path: Path, text: str, shoulder: float
) -> None:
    """There its outer edge ends square to the shoulder, smoothly; at the fold and beside the neck it is as it was."""
    change = f"{{facing: front, of: front/neck, depth: 2 1/2, shoulder: {shoulder}}}"
    facing, usual = (
        changed(tmp_path, one, text=text).pieces["front facing"]
        for one in (change, "{facing: front, of: front/neck, depth: 2 1/2}")
    )
    assert facing.edges["shoulder"].length_in == pytest.approx(shoulder)
    outer, before = (
        one.edges["outer"].curve
        if one.edges["outer"].curve.start[0] == 0
        else one.edges["outer"].curve.reversed()
        for one in (facing, usual)
    )
    assert len(outer.runs()) == 1
    assert outer.points_at(np.array([0.0, 0.5, 1.0])) == pytest.approx(
        before.points_at(np.array([0.0, 0.5, 1.0])), abs=1e-3
    )
    slope = np.array([5.5, 2.0]) / np.hypot(5.5, 2.0)  # of the shoulder
    assert abs(outer.end_tangent @ slope) < 1e-6


@pytest.mark.parametrize("text", [HALF_TOP, BACKWARDS])
@pytest.mark.parametrize("below", [1.5, 2.0, 2.5, 3.0])
def test_a_round_facing_keeps_its_depth_beside_the_neck(tmp_path: Path, text: str, below: float) -> None:
    change = f"{{facing: front, of: front/neck, depth: 2 1/2, below point: {below}}}"
    draft = changed(tmp_path, change, text=text)
    facing, front = draft.pieces["front facing"], draft.pieces["front"]
    assert facing.edges["neck"].length_in == front.edges["neck"].length_in
    assert facing.edges["shoulder"].length_in == pytest.approx(2.5)
    outer = facing.edges["outer"]
    assert nearest_in(outer.points, [0, 4 + below]) < 1e-9
    curve = outer.curve if outer.curve.start[0] == 0 else outer.curve.reversed()
    assert abs(curve.start_tangent[1]) < 1e-6
    assert len(curve.runs()) == 1


@pytest.mark.parametrize("text", [HALF_TOP, BACKWARDS])
def test_a_v_facing_is_parallel_then_turns_square_to_the_fold(tmp_path: Path, text: str) -> None:
    facing = changed(
        tmp_path,
        "{neck: v, piece: front, depth: 6}",
        "{facing: front, of: front/neck, depth: 2 1/2, below point: 2}",
        text=text,
    ).pieces["front facing"]
    outer = facing.edges["outer"].curve
    outer = outer if outer.start[0] == 0 else outer.reversed()
    assert outer.start.tolist() == [0, 8]
    assert outer.start_tangent == pytest.approx([1, 0], abs=1e-9)
    shoulder = np.array([5.5, 2]) / math.hypot(5.5, 2)
    assert outer.end_tangent @ shoulder == pytest.approx(0, abs=1e-6)
    along = np.array([3.5, -6]) / math.hypot(3.5, 6)
    away = (outer.points - [0, 6]) @ [-along[1], along[0]]
    assert away.max() <= 2.5 + 1 / 32, "the turn square to the shoulder bulges a little"
    assert (np.abs(away - 2.5) < 1e-9).sum() >= 2
    assert facing.grain is not None
    assert facing.cut.words == "cut 1 on fold"


def test_a_square_neck_is_faced_round_its_corner(tmp_path: Path) -> None:
    square = HALF_TOP.replace(
        "[[0, 4], [2, 4], [3.5, 2.4], [3.5, 0]], curve: bezier", "[[0, 4], [3.5, 4], [3.5, 0]]"
    )
    draft = changed(tmp_path, "{facing: front, of: front/neck, depth: 2}", text=square)
    facing = draft.pieces["front facing"]
    assert nearest_in(facing.edges["outer"].points, [5.5, 6]) < 1e-6
    assert len(facing.clips) == 1


def test_the_example_is_true_square_and_runs_through_its_joins() -> None:
    """Neck and hem square to the fold within 1 degree; joined corners add to 180 +- 2 (common practice)."""
    for version in (None, "round neck", "low back"):
        draft = read_pattern(example("harbour overtop")).drafted(version)
        assert all(abs(join.difference_in) <= 1 / 16 for join in draft.joins)
        told = [warning for warning in draft.warnings if "meet at" not in warning]
        assert told == []
        assert bool(draft.warnings) is (version == "low back")  # as traced, its neck dips at the shoulder
    draft = read_pattern(example("harbour overtop")).drafted()
    assert list(draft.pieces) == ["front", "back", "front facing", "back facing"]
    corners: dict[str, list[float]] = {}
    for name in ("front", "back"):
        edges = list(draft.pieces[name].edges.values())
        for one, two in zip(edges, edges[1:] + edges[:1], strict=True):
            turn = np.cross([*one.curve.end_tangent, 0], [*two.curve.start_tangent, 0])[2]
            interior = 180 - math.degrees(
                math.atan2(turn, float(one.curve.end_tangent @ two.curve.start_tangent))
            )
            corners.setdefault(f"{one.name.split()[0]} {two.name.split()[0]}", []).append(interior)
    for joined in ("neck overarm", "overarm sleeve", "sleeve side", "side hem"):
        assert sum(corners[joined]) == pytest.approx(180, abs=2)
    assert corners["hem centre"] == pytest.approx([90, 90], abs=1)
    assert corners["centre neck"][1] == pytest.approx(90, abs=1)
    neck = 2 * sum(draft.pieces[name].edges["neck"].length_in for name in ("front", "back"))
    assert neck * 2.54 > 57 + 2.54


def test_a_round_facing_is_halfway_to_its_width_at_the_fold_halfway_along_the_neck(tmp_path: Path) -> None:
    draft = changed(tmp_path, "{facing: front, of: front/neck, depth: 2, below point: 3 1/2}")
    facing = draft.pieces["front facing"]
    neck = facing.edges["neck"].curve
    middle, tangent = neck.point_at(neck.length_in / 2), neck.tangent_at(neck.length_in / 2)
    inward = np.array([-tangent[1], tangent[0]])
    assert nearest_in(facing.edges["outer"].points, list(middle + inward * 2.75)) < 0.05


def test_a_facing_of_a_neck_that_leans_over_its_shoulder_stays_within_the_piece(tmp_path: Path) -> None:
    """The parallel of such a neck comes out beyond the shoulder before it ends."""
    leaning = HALF_TOP.replace("[3.5, 2.4], [3.5, 0]]", "[4.1, 2.4], [3.5, 0]]")
    facing = "changes: [{facing: front, of: front/neck, depth: 2 1/2}]\n"
    drafted = pattern_of(tmp_path, leaning + facing).drafted()
    garment = shapely.Polygon(drafted.pieces["front"].seam_line).buffer(0.002)
    made = drafted.pieces["front facing"]
    assert garment.covers(shapely.LineString(made.edges["outer"].points))
    outer, shoulder = made.edges["outer"].curve, made.edges["shoulder"].curve
    assert abs(outer.start_tangent @ shoulder.end_tangent) < 1e-6


@pytest.mark.parametrize("dips_in", [0.1, 0.4])
def test_a_neck_that_dips_beside_the_fold_has_a_facing_that_is_square_to_it(
    tmp_path: Path, dips_in: float
) -> None:
    """As a curve drawn by eye through a few points does; 3 and 11 degrees off square."""
    dipping = HALF_TOP.replace("[2, 4]", f"[2, {4 + dips_in}]")
    facing = "changes: [{facing: front, of: front/neck, depth: 2 1/2}]\n"
    drafted = pattern_of(tmp_path, dipping + facing).drafted()
    made, neck = drafted.pieces["front facing"], drafted.pieces["front"].edges["neck"]
    outer = made.edges["outer"].curve
    assert outer.end.tolist() == [0, 6.5]
    assert outer.end_tangent == pytest.approx([-1, 0], abs=1e-9)
    assert made.edges["neck"].length_in == neck.length_in
    away = shapely.distance(
        shapely.LineString(neck.points), shapely.points(outer.points[outer.points[:, 0] < 4])
    )
    assert away == pytest.approx(2.5, abs=0.15)


def test_a_neck_that_dips_like_a_heart_is_not_faced(tmp_path: Path) -> None:
    heart = HALF_TOP.replace("[2, 4]", "[2, 5]")
    with pytest.raises(
        PatternError, match="draw the neck's end square to the fold, or draw it anew with neck: round"
    ):
        pattern_of(tmp_path, f"{heart}changes: [{{facing: front, of: front/neck, depth: 2}}]\n").drafted()
