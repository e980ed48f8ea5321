from pathlib import Path

import pytest

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
                "true them before cutting"
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
    told = [warning for warning in pattern_of(tmp_path, text).drafted().warnings if "notches" in warning]
    assert told == (
        []
        if matched
        else [
            "front/side and back/side do not carry the same notches at the same distances; give both the same"
        ]
    )
