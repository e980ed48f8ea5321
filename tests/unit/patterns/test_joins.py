import math
from pathlib import Path

import pytest

from patterns.errors import PatternError
from tests.unit.patterns.build import HALF_TOP, pattern_of

BACK = HALF_TOP[HALF_TOP.index("  front:") :].replace("front", "back")


@pytest.mark.parametrize(
    ("hem_end", "warning"),
    [
        (24.0, ""),
        (24.06, ""),
        (
            24.1,
            (
                "front/side is 22.02 in and back/side 22.12 in long: they differ by 3/32 in; "
                "true them: {true up: [front/side, back/side]} among the changes does it"
            ),
        ),
        (
            24.2,
            "front/side is 22.02 in and back/side 22.22 in long: they differ by 3/16 in, more than 1/8 in; "
            "they will not sew together flat, so redraw one",
        ),
    ],
)
def test_joined_edges_are_compared_on_the_seam_line(tmp_path: Path, hem_end: float, warning: str) -> None:
    back = BACK.replace("[10, 24]", f"[10, {hem_end}]")
    draft = pattern_of(tmp_path, f"{HALF_TOP}{back}joins: [[front/side, back/side]]\n").drafted()
    (join,) = draft.joins
    assert join.edges == ("front/side", "back/side")
    assert join.difference_in == pytest.approx(24 - hem_end, abs=2e-3)
    assert join.warning == warning
    assert [told for told in draft.warnings if told.startswith("front/side is")] == (
        [warning] if warning else []
    )


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
def test_a_facing_above_a_change_of_its_neck_is_to_be_moved_below_it(
    tmp_path: Path, order: tuple[int, int]
) -> None:
    """By plain geometry the V is hypot(3.5, 8) in long; the facing made first has the traced neck."""
    steps = ("{neck: v, piece: front, depth: 8}", "{facing: front, of: front/neck, depth: 2}")
    drafted = pattern_of(tmp_path, f"{HALF_TOP}changes: [{', '.join(steps[i] for i in order)}]\n").drafted()
    (join,) = drafted.joins
    assert join.first_in == pytest.approx(math.hypot(3.5, 8))
    advice = "move the facing below the changes of its neck, or redraw it"
    assert [advice in told for told in drafted.warnings if "facing/neck" in told] == [True] * order[0]


def test_a_join_to_a_piece_that_a_version_leaves_out_is_left_out_too(tmp_path: Path) -> None:
    text = (
        f"{HALF_TOP}joins: [[front/shoulder, front facing/shoulder]]\n"
        "changes: [{facing: front, of: front/neck, depth: 2}]\nversions: {bare: {without: [0]}}\n"
    )
    pattern = pattern_of(tmp_path, text)
    assert len(pattern.drafted().joins) == 2
    assert pattern.drafted("bare").joins == ()


@pytest.mark.parametrize(
    ("front", "back", "matched"),
    [
        ("{edge: side, at: 5}", "{edge: side, at: 5}", True),
        ("{edge: side, at: 5}", "{edge: side, at: 5, from: end}", True),
        ("{edge: side, at: 5}", "{edge: side, at: 5.05}", True),
        ("{edge: side, at: 5}", "{edge: side, at: 5.1}", False),
        ("{edge: side, at: 5}", "{edge: side, at: 5, count: 2}", False),
        ("{edge: side, at: 5}", "", False),
        ("{edge: side, at: 5}, {edge: side, at: 9}", "{edge: side, at: 9}, {edge: side, at: 5}", True),
        ("{edge: side, at: 5}, {edge: side, at: 9}", "{edge: side, at: 5}", False),
    ],
)
def test_joined_edges_carry_the_same_notches(tmp_path: Path, front: str, back: str, matched: bool) -> None:
    text = (
        f"{HALF_TOP}    notches: [{front}]\n{BACK}    notches: [{back}]\njoins: [[front/side, back/side]]\n"
    )
    copied = "" if front and back else ": {notch: [front/side, back/side]} does it"
    told = [warning for warning in pattern_of(tmp_path, text).drafted().warnings if "notches" in warning]
    assert told == (
        []
        if matched
        else [
            "front/side and back/side do not carry the same notches at the same distances; give both the "
            f"same{copied}"
        ]
    )


@pytest.mark.parametrize(
    ("ease", "told"),
    [
        ("1/2 in", ""),
        ("0.45 in", ""),
        (
            "1/4 in",
            "1/4 in more than the ease of 1/4 in that is wanted; redraw one, or give the ease that it has",
        ),
        (
            "3/4 in",
            "1/4 in less than the ease of 3/4 in that is wanted; redraw one, or give the ease that it has",
        ),
    ],
)
def test_the_second_edge_is_longer_by_the_ease_that_is_given(tmp_path: Path, ease: str, told: str) -> None:
    """As a back shoulder is, and the cap of a set-in sleeve (common practice)."""
    shoulder = f"[{3.5 + 0.5 * 5.5 / math.hypot(5.5, 2) + 5.5:.9f}, {2 + 0.5 * 2 / math.hypot(5.5, 2):.9f}]"
    text = (
        f"{HALF_TOP}{BACK.replace('[9, 2]', shoulder)}"
        f"joins: [{{edges: [front/shoulder, back/shoulder], ease: {ease}}}]\n"
    )
    warnings = [one for one in pattern_of(tmp_path, text).drafted().warnings if "long: " in one]
    assert [one.split("long: ")[1] for one in warnings] == [told] * bool(told)


@pytest.mark.parametrize("hem_end", [23.9, 24.0, 24.1])
def test_edges_that_nearly_agree_are_trued_to_their_mean(tmp_path: Path, hem_end: float) -> None:
    back = BACK.replace("[10, 24]", f"[10, {hem_end}]")
    text = (
        f"{HALF_TOP}{back}joins: [[front/side, back/side]]\nchanges: [{{true up: [front/side, back/side]}}]\n"
    )
    draft = pattern_of(tmp_path, text).drafted()
    (join,) = draft.joins
    assert join.difference_in == pytest.approx(0, abs=1e-9)
    mean = (math.hypot(1, 22) + math.hypot(1, hem_end - 2)) / 2
    assert join.first_in == pytest.approx(mean)
    for piece in draft.pieces.values():  # at the hem: the underarm's end stays where it is
        assert piece.edges["side"].points[0] == pytest.approx((9.0, 2.0))
        assert piece.edges["hem"].points[0] == pytest.approx(piece.edges["side"].points[-1])


def test_a_piece_walked_the_other_way_is_trued_at_its_hem_too(tmp_path: Path) -> None:
    back = (
        "  back:\n    cut: 1 on fold\n    edges:\n"
        "      - {name: centre back, kind: fold, path: [[0, 4], [0, 24.1]]}\n"
        "      - {name: hem, kind: hem, path: [[0, 24.1], [10, 24.1]]}\n"
        "      - {name: side, kind: seam, path: [[10, 24.1], [9, 2]]}\n"
        "      - {name: shoulder, kind: seam, path: [[9, 2], [3.5, 0]]}\n"
        "      - {name: neck, kind: seam, path: [[3.5, 0], [0, 4]]}\n"
    )
    text = (
        f"{HALF_TOP}{back}joins: [[front/side, back/side]]\nchanges: [{{true up: [front/side, back/side]}}]\n"
    )
    side = pattern_of(tmp_path, text).drafted().pieces["back"].edges["side"]
    assert side.points[-1] == pytest.approx((9.0, 2.0))
    assert side.points[0][1] < 24.1


def test_hems_are_trued_at_the_side_and_stay_at_the_fold(tmp_path: Path) -> None:
    back = BACK.replace("[10, 24]", "[10.1, 24]")
    text = f"{HALF_TOP}{back}changes: [{{true up: [front/hem, back/hem]}}]\n"
    for piece in pattern_of(tmp_path, text).drafted().pieces.values():
        assert piece.edges["hem"].length_in == pytest.approx(10.05)
        assert piece.edges["hem"].points[-1] == pytest.approx((0.0, 24.0))


@pytest.mark.parametrize("apart", ["0.000000001", "-0.000000001"])
def test_edges_that_agree_but_for_rounding_are_left_as_they_are(tmp_path: Path, apart: str) -> None:
    back = BACK.replace("[10, 24]", f"[10, {24 + float(apart):.9f}]")
    text = f"{HALF_TOP}{back}"
    trued = f"{text}changes: [{{true up: [front/side, back/side]}}]\n"
    before, after = (pattern_of(tmp_path, one).drafted().pieces["front"] for one in (text, trued))
    assert after.edges["side"].points.tolist() == before.edges["side"].points.tolist()


def test_edges_too_far_apart_cannot_be_trued(tmp_path: Path) -> None:
    back = BACK.replace("[10, 24]", "[10, 24.2]")
    text = (
        f"{HALF_TOP}{back}joins: [[front/side, back/side]]\nchanges: [{{true up: [front/side, back/side]}}]\n"
    )
    with pytest.raises(
        PatternError, match="differ by 3/16 in; no more than 1/8 in can be trued, so redraw one"
    ):
        pattern_of(tmp_path, text).drafted()
