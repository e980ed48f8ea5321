import math
from pathlib import Path

import numpy as np
import pytest

from patterns import DraftedPiece, PatternError
from tests.unit.patterns.build import HALF_TOP, pattern_of


def front(folder: Path, tail: str = "", text: str = HALF_TOP) -> DraftedPiece:
    return pattern_of(folder, text + tail).drafted().pieces["front"]


def test_a_piece_has_its_edges_lines_and_area(tmp_path: Path) -> None:
    piece = front(tmp_path)
    assert list(piece.edges) == ["neck", "shoulder", "side", "hem", "centre front"]
    assert piece.fold is piece.edges["centre front"]
    assert piece.edges["shoulder"].length_in == pytest.approx(math.hypot(5.5, 2))
    assert piece.edges["hem"].allowance_in == 0.5
    assert piece.fold.allowance_in == 0
    assert piece.seam_line[0].tolist() == [0, 4]
    assert piece.seam_line[-1].tolist() == [0, 24]
    assert piece.cut_line[[0, -1]].tolist() == [[0, 3.5], [0, 24.5]]
    assert piece.area_in2 > 200
    assert not piece.cut_line.flags.writeable


def test_lines_begin_at_the_fold_wherever_the_author_began(tmp_path: Path) -> None:
    lines = HALF_TOP.splitlines(keepends=True)
    turned = "".join([*lines[:6], *lines[8:11], *lines[6:8]])
    assert front(tmp_path, text=turned).cut_line == pytest.approx(front(tmp_path).cut_line)
    assert front(tmp_path, text=turned).seam_line == pytest.approx(front(tmp_path).seam_line)


@pytest.mark.parametrize(
    ("notch", "positions"),
    [
        ("{edge: hem, at: 3}", [[7, 24]]),
        ("{edge: hem, at: 3, from: end}", [[3, 24]]),
        ("{edge: hem, at: 3, count: 2}", [[7.125, 24], [6.875, 24]]),
        ("{edge: hem, at: 3, count: 3}", [[7.25, 24], [7, 24], [6.75, 24]]),
    ],
)
def test_notches_are_clips_at_the_cut_edge(tmp_path: Path, notch: str, positions: list[list[float]]) -> None:
    (drafted,) = front(tmp_path, f"    notches: [{notch}]\n").notches
    assert drafted.count == len(drafted.clips) == len(positions)
    assert drafted.outward == pytest.approx([0, 1])
    assert drafted.position == pytest.approx(np.mean(positions, axis=0))
    for clip, (x, y) in zip(drafted.clips, positions, strict=True):
        assert clip == pytest.approx(np.array([[x, y + 0.5], [x, y + 0.375]]))


@pytest.mark.parametrize(("allowance", "depth"), [("1 in", 1 / 8), ("1/2 in", 1 / 8), ("1/4 in", 1 / 16)])
def test_a_notch_is_never_deeper_than_a_quarter_of_the_allowance(
    tmp_path: Path, allowance: str, depth: float
) -> None:
    text = HALF_TOP.replace("hem: 1/2 in", f"hem: {allowance}")
    (notch,) = front(tmp_path, "    notches: [{edge: hem, at: 3}]\n", text).notches
    assert notch.depth_in == depth
    assert np.hypot(*(notch.clips[0][1] - notch.clips[0][0])) == pytest.approx(depth)


def test_without_allowance_a_notch_lies_outside_the_cut_edge(tmp_path: Path) -> None:
    text = HALF_TOP.replace("hem: 1/2 in", "hem: 0")
    (notch,) = front(tmp_path, "    notches: [{edge: hem, at: 3}]\n", text).notches
    assert notch.clips[0] == pytest.approx(np.array([[7, 24.125], [7, 24]]))


def test_a_notch_near_a_corner_is_warned_of(tmp_path: Path) -> None:
    pattern = pattern_of(tmp_path, HALF_TOP + "    notches: [{edge: hem, at: 1/2}]\n")
    assert pattern.drafted().warnings == (
        "front, hem: a notch 1/2 in from a corner; keep it 1 in away, or the crossing seam will hide it",
    )


def test_a_notch_that_a_change_leaves_behind_is_refused(tmp_path: Path) -> None:
    tail = "    notches: [{edge: neck, at: 5 3/4}]\nchanges: [{raise neck: 3, piece: front}]\n"
    with pytest.raises(PatternError) as refused:
        pattern_of(tmp_path, HALF_TOP + tail).drafted()
    assert str(refused.value).startswith(
        "front: a notch 5 3/4 in along neck lies beyond its end once changed, at 3 "
    )


def test_a_v_has_a_clip_short_of_its_point_and_a_round_neck_has_none(tmp_path: Path) -> None:
    assert front(tmp_path).clips == ()
    (clip,) = front(tmp_path, "changes: [{neck: v, piece: front, depth: 6}]\n").clips
    cut_point = 6 - 0.5 * math.hypot(3.5, 6) / 3.5
    assert clip == pytest.approx(np.array([[0, cut_point], [0, 6 - 1 / 16]]))


def test_a_corner_that_turns_in_is_clipped(tmp_path: Path) -> None:
    text = HALF_TOP.replace("[[9, 2], [10, 24]]", "[[9, 2], [9, 10], [14, 10], [14, 24]]").replace(
        "[10, 24]", "[14, 24]"
    )
    split = text.replace(
        "{name: side, kind: seam, path: [[9, 2], [9, 10], [14, 10], [14, 24]]}",
        "{name: side, kind: seam, path: [[9, 2], [9, 10]]}\n"
        "      - {name: step, kind: seam, path: [[9, 10], [14, 10], [14, 24]]}",
    )
    (clip,) = front(tmp_path, text=split).clips
    short = 1 / 16 / math.sqrt(2)
    assert clip == pytest.approx(np.array([[9.5, 9.5], [9 + short, 10 - short]]))
