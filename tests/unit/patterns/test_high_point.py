"""Depths count from the high shoulder point as it was traced, whatever is changed or pulled."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from patterns import Pattern, Unit
from patterns.checks.high_point import below_high_point_in, high_point_words
from patterns.cutting.drafted import DraftedPiece
from patterns.files.reader import pattern_in
from patterns.saying import Say
from patterns.tracing.smoothing import pulled
from tests.unit.patterns.smock import smock_text

V = "{neck: v, piece: front, depth: 8}"
WIDER = "{widen neck: 1}"
ALONG = np.array([15.0, 5.0]) / np.hypot(15, 5)  # an inch along the smock's straight shoulder
SAY = Say(Unit.IN)


def smock(*changes: str) -> Pattern:
    return pattern_in(smock_text(", ".join(changes)), Path("smock.yaml"))


def front(*changes: str) -> DraftedPiece:
    return smock(*changes).drafted().pieces["front"]


def centre_in(piece: DraftedPiece) -> float:
    """How far down the neck lies at the fold."""
    return float(piece.edges["neck"].points[:, 1].max())


def test_a_v_is_as_deep_before_and_after_the_neck_is_widened() -> None:
    one, other = front(V, WIDER), front(WIDER, V)
    assert centre_in(one) == centre_in(other) == pytest.approx(8.0, abs=1e-9)
    assert one.seam_line == pytest.approx(other.seam_line, abs=1e-9)
    assert below_high_point_in(one) == pytest.approx(ALONG[1], abs=1e-9)


def test_a_v_counts_from_the_top_of_the_shoulder_and_not_from_a_seam_brought_forward() -> None:
    for changes in (("{shoulder forward: 3/8}", V), (V, "{shoulder forward: 3/8}")):
        piece = front(*changes)
        assert centre_in(piece) == pytest.approx(8.0, abs=1e-9)
        assert below_high_point_in(piece) == pytest.approx(3 / 8, abs=0.05)  # as the neck slopes there


def test_a_shoulder_point_pulled_along_the_shoulder_is_the_neck_widened_by_so_much() -> None:
    pattern = smock(V)
    traced = pattern.pieces[0]
    shoulder = np.array([3.5, 0.0])
    moved = pulled(traced, "overarm", shoulder, shoulder + ALONG)
    by_hand = replace(pattern, pieces=(moved, *pattern.pieces[1:])).drafted().pieces["front"]
    by_change = front("{widen neck: 1, pieces: [front]}", V)
    assert by_hand.seam_line == pytest.approx(
        by_change.seam_line, abs=0.001
    )  # as finely as a point is written
    assert centre_in(by_hand) == pytest.approx(8.0, abs=1e-9)


def test_levels_stay_level_across_the_side_seam() -> None:
    """What is spread at one level is as long on both, where only one has a neck that ends lower."""
    both = smock("{widen neck: 1, pieces: [front]}", "{lengthen: 2, at: 17}").drafted().pieces
    sides = [both[name].edges["side"] for name in ("front", "back")]
    assert sides[0].points == pytest.approx(sides[1].points, abs=1e-9)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ((), ""),
        ((WIDER,), "neck ends 5/16 in below the high shoulder point"),
        (("{narrow neck: 1/2}",), "neck ends 3/16 in above the high shoulder point"),
    ],
)
def test_where_the_neck_ends_is_told_where_that_is_not_there(changes: tuple[str, ...], words: str) -> None:
    assert high_point_words(front(*changes), SAY) == words


def test_a_piece_without_a_neck_has_nothing_to_tell() -> None:
    piece = front()
    edges = {name: edge for name, edge in piece.edges.items() if name != "neck"}
    assert high_point_words(replace(piece, edges=edges), SAY) == ""
