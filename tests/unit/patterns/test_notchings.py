"""Notches set in matching pairs by a change."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely

from patterns import DraftedPattern, Pattern, PatternError
from tests.unit.patterns.build import HALF_TOP, pattern_of, refusal
from tests.unit.patterns.smock import drafted, smock, smock_text

SET_IN = """\
pattern: Purser's blouse
allowance: {seam: 1/2 in, hem: 1/2 in}
pieces:
  front:
    cut: 1 on fold
    edges:
      - {name: neck, kind: seam, path: [[0, 3.5], [1.8, 3.5], [3, 1.5], [3, 0]], curve: bezier}
      - {name: shoulder, kind: seam, path: [[3, 0], [7.5, 1.8]]}
      - {name: armhole, kind: seam, path: [[7.5, 1.8], [7, 5], [6.5, 8.5], [9.75, 8.5]], curve: bezier}
      - {name: side, kind: seam, path: [[9.75, 8.5], [9.5, 24]]}
      - {name: hem, kind: hem, path: [[9.5, 24], [0, 24]]}
      - {name: centre front, kind: fold, path: [[0, 24], [0, 3.5]]}
  sleeve:
    cut: 2 mirrored
    edges:
      - {name: front cap, kind: seam, path: [[-7, 5], [-3.4, 5], [-4, 0], [0, 0]], curve: bezier}
      - {name: back cap, kind: seam, path: [[0, 0], [4, 0], [3.4, 5], [7, 5]], curve: bezier}
      - {name: back underarm, kind: seam, path: [[7, 5], [5.5, 20]]}
      - {name: hem, kind: hem, path: [[5.5, 20], [-5.5, 20]]}
      - {name: front underarm, kind: seam, path: [[-5.5, 20], [-7, 5]]}
joins: [[front/armhole, sleeve/front cap], [sleeve/front underarm, sleeve/back underarm]]
"""


def groups(pattern: DraftedPattern, piece: str, edge: str) -> list[tuple[float, float, int]]:
    """How far each group is from the edge's start and from its end, and how many clips it has."""
    found = pattern.pieces[piece]
    line = shapely.LineString(found.edges[edge].curve.points)
    at = [(line.project(shapely.Point(n.position)), n.count) for n in found.notches if n.edge == edge]
    return [(round(along, 3), round(line.length - along, 3), count) for along, count in at]


def places(pattern: DraftedPattern, piece: str, edge: str) -> list[float]:
    return [at for at, _, _ in groups(pattern, piece, edge)]


@pytest.mark.parametrize("backwards", [False, True])
def test_both_edges_of_every_join_carry_the_same_groups(tmp_path: Path, backwards: bool) -> None:
    made = drafted(tmp_path, "{notches: all}", backwards=backwards)
    assert not [warning for warning in made.warnings if "notch" in warning]
    for edge in ("overarm", "side"):
        assert groups(made, "front", edge) == groups(made, "back", edge) != []


def test_a_group_says_which_way_up_its_seam_is(tmp_path: Path) -> None:
    """Turned end for end, no group meets one like it, or lies within 1/4 in of any."""
    made = drafted(tmp_path, "{notches: all}", "{lengthen: 5 in}")
    for edge, counts in (("overarm", [1, 2]), ("side", [1, 2, 3])):
        found = groups(made, "front", edge)
        assert [count for _, _, count in found] == counts
        assert min(abs(at - left) for at, _, _ in found for _, left, _ in found) >= 1 / 4


def test_no_clip_is_within_an_inch_of_a_corner_not_even_one_within_an_edge(tmp_path: Path) -> None:
    square = "{neck: square, piece: front, depth: 7}, {facing: front, of: front/neck, depth: 2 1/2}"
    made = drafted(tmp_path, square, "{notches: all}")
    ((at, left, count),) = groups(made, "front", "neck")
    assert count == 1
    assert min(at, left, abs(at - 3.5)) >= 1
    for piece in ("front", "front facing"):
        for notch in made.pieces[piece].notches:
            edge = made.pieces[piece].edges[notch.edge]
            corners = [run.start for run in edge.curve.runs()] + [edge.curve.end]
            for clip in notch.clips:
                foot = clip[1] - notch.outward * np.dot(clip[1] - notch.position, notch.outward)
                assert min(np.hypot(*(foot - corner)) for corner in corners) >= 0.99


def test_a_front_neck_and_its_facing_have_one_clip_and_a_back_neck_two(tmp_path: Path) -> None:
    """Common practice: single in front, double at the back."""
    facings = [f"{{facing: {one}, of: {one}/neck, depth: 2 1/2}}" for one in ("front", "back")]
    made = drafted(tmp_path, "{notches: all}", *facings)
    for piece, count in (("front", 1), ("back", 2)):
        ((*_, found),) = groups(made, piece, "neck")
        assert found == count
        assert groups(made, f"{piece} facing", "neck") == groups(made, piece, "neck")


def test_notches_follow_a_change_that_comes_later(tmp_path: Path) -> None:
    for changes in (("{notches: all}", "{lengthen: 5 in}"), ("{lengthen: 5 in}", "{notches: all}")):
        made = drafted(tmp_path, *changes)
        short = drafted(tmp_path, "{notches: all}")
        assert groups(made, "front", "side") == groups(made, "back", "side")
        assert groups(made, "front", "side")[-1][0] > groups(short, "front", "side")[-1][0] + 2


def test_notches_set_by_hand_stay_are_not_doubled_and_are_given_to_the_other_edge(tmp_path: Path) -> None:
    text = smock_text("{notches: all}").replace(
        "  back:\n", "    notches: [{edge: side, at: 4, from: end, count: 3}]\n  back:\n"
    )
    made = pattern_of(tmp_path, text).drafted()
    assert [group[1:] for group in groups(made, "front", "side")] == [(4.0, 3)]
    assert groups(made, "back", "side") == groups(made, "front", "side")


def test_notches_of_both_edges_stay_and_are_told_of_where_they_differ(tmp_path: Path) -> None:
    text = (
        smock_text("{notches: all}")
        .replace("  back:\n", "    notches: [{edge: side, at: 4}]\n  back:\n")
        .replace("joins:", "    notches: [{edge: side, at: 6}]\njoins:")
    )
    made = pattern_of(tmp_path, text).drafted()
    assert (places(made, "front", "side"), places(made, "back", "side")) == ([4], [6])
    assert made.warnings[0] == (
        "front/side and back/side do not carry the same notches at the same distances; give both the same"
    )


@pytest.mark.parametrize("hem", [24.0, 25.0])
def test_a_longer_edge_is_eased_between_groups_that_are_as_far_from_both_ends(
    tmp_path: Path, hem: float
) -> None:
    other = HALF_TOP[HALF_TOP.index("  front:") :].replace("front", "back").replace("24]", f"{hem}]")
    text = f"{HALF_TOP}{other}joins: [[front/side, back/side]]\nchanges: [{{notches: all}}]\n"
    made = pattern_of(tmp_path, text).drafted()
    one, two = groups(made, "front", "side"), groups(made, "back", "side")
    assert [min(a, b) for a, b, _ in one] == [min(a, b) for a, b, _ in two]
    assert [a < b for a, b, _ in one] == [a < b for a, b, _ in two] == [True, True, False]
    assert not [warning for warning in made.warnings if "notches" in warning]


def test_edges_that_differ_too_much_are_not_notched_and_say_so(tmp_path: Path) -> None:
    other = HALF_TOP[HALF_TOP.index("  front:") :].replace("front", "back").replace("24]", "30]")
    text = f"{HALF_TOP}{other}joins: [[front/side, back/side]]\nchanges: [{{notches: all}}]\n"
    made = pattern_of(tmp_path, text).drafted()
    assert not made.pieces["front"].notches
    assert made.warnings[0] == (
        "front/side and back/side are not notched: 22 in and 28 in differ by more than 10%; set their notches "
        "by hand"
    )


def test_an_edge_too_short_for_a_notch_says_so(tmp_path: Path) -> None:
    facings = [f"{{facing: {one}, of: {one}/neck, depth: 2}}" for one in ("front", "back")]
    text = smock_text(", ".join(["{notches: all}", *facings])).replace(
        "joins: [", "joins: [[front facing/overarm, back facing/overarm], "
    )
    made = pattern_of(tmp_path, text).drafted()
    assert made.warnings[0] == (
        "front facing/overarm and back facing/overarm are not notched: of 2 in nothing lies 1 in from both "
        "corners and off the middle; match the seam by its ends"
    )


@pytest.mark.parametrize("turned", [False, True])
def test_the_upper_ends_of_an_armhole_and_a_cap_meet(tmp_path: Path, turned: bool) -> None:
    text = SET_IN
    if turned:  # the cap in the other order round the sleeve
        lines = text.splitlines()
        cap = slice(next(i for i, line in enumerate(lines) if "front cap" in line), len(lines) - 1)
        lines[cap] = [mirrored(line) for line in lines[cap]][::-1]
        text = "\n".join(lines) + "\n"
    made = pattern_of(tmp_path, text + "changes: [{notches: all}]\n").drafted()
    hole, cap_groups = groups(made, "front", "armhole"), groups(made, "sleeve", "front cap")
    walked = [(left, at, count) for at, left, count in cap_groups] if not turned else cap_groups
    assert [count for *_, count in hole] == [count for *_, count in walked] == [1, 2]
    for (at, left, _), (other_at, other_left, _) in zip(hole, walked, strict=True):
        assert min(abs(at - other_at), abs(left - other_left)) < 1e-3
    assert [min(a, b) for a, b, _ in groups(made, "sleeve", "front underarm")] == [
        min(a, b) for a, b, _ in groups(made, "sleeve", "back underarm")
    ]


def mirrored(line: str) -> str:
    """The edge of a file walked the other way."""
    start, end = line.index("[["), line.index("]]") + 2
    points = line[start + 2 : end - 2].split("], [")
    return f"{line[:start]}[[{'], ['.join(points[::-1])}]]{line[end:]}"


@pytest.mark.parametrize(("walked", "same"), [("alike", True), ("against", False)])
def test_an_author_may_say_which_ends_meet(tmp_path: Path, walked: str, same: bool) -> None:
    made = drafted(tmp_path, f"{{notch: [front/side, back/side], walked: {walked}}}", "{notches: all}")
    ends = [groups(made, piece, "side") for piece in ("front", "back")]
    back = ends[1] if same else [(left, at, count) for at, left, count in ends[1]]
    assert ends[0] == back
    assert groups(made, "front", "overarm")


def test_a_seam_whose_piece_is_not_in_this_version_is_passed_over(tmp_path: Path) -> None:
    text = smock_text(
        "{facing: front, of: front/neck, depth: 2 1/2}, {notch: [front/neck, front facing/neck]}"
    )
    pattern = pattern_of(tmp_path, text + "versions: {bare: {without: [0]}}\n")
    assert groups(pattern.drafted(), "front", "neck")
    assert not pattern.drafted("bare").pieces["front"].notches


def test_a_point_pulled_elsewhere_leaves_a_notched_piece_the_very_same(tmp_path: Path) -> None:
    def with_hem(pattern: Pattern) -> Pattern:
        front, back = pattern.pieces
        return replace(pattern, pieces=(front, replace(back, grain=None)))

    pattern = smock(tmp_path, "{notches: all}")
    before, after = pattern.drafted(), with_hem(pattern).drafted()
    assert before.pieces["front"] is after.pieces["front"]


def test_a_seam_is_notched_to_another_edge_alone(tmp_path: Path) -> None:
    text = smock_text("{notch: [front/side, front/side]}")
    (sentence,) = refusal(tmp_path, text)
    assert sentence.endswith(
        'found "front/side, front/side"; wanted two different edges sewn together, or one that is sewn to its '
        "mirror image"
    )


def test_an_edge_sewn_to_its_mirror_image_is_notched_alone(tmp_path: Path) -> None:
    made = pattern_of(tmp_path, SET_IN + "changes: [{notch: sleeve/front underarm}]\n").drafted()
    assert [count for *_, count in groups(made, "sleeve", "front underarm")] == [1, 2]
    assert not groups(made, "sleeve", "back underarm")
    with pytest.raises(PatternError) as refused:
        drafted(tmp_path, "{notch: front/side}")
    assert str(refused.value) == (
        "front/side has no mirror image to be sewn to: front is not cut mirrored; name the edge that it is sewn to"
    )
