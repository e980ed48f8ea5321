from pathlib import Path

import pytest

from patterns import example, read_pattern
from patterns.changes import EdgeRef, Facing, RaiseNeck, VNeck
from patterns.measures import Unit
from patterns.parts import Bend, Corner, CutCount, End, Kind
from tests.unit.patterns.build import HALF_TOP, pattern_of


def test_the_whole_format_is_read(tmp_path: Path) -> None:
    text = HALF_TOP.replace("pieces:", "unit: cm\npieces:").replace(
        "[[9, 2], [10, 24]]}", "[[9, 2], [10, 24]], curve: smooth, allowance: 5/8 in, corner: squared next}"
    )
    pattern = pattern_of(
        tmp_path,
        f"{text}    grain: [[3, 20], [3, 8]]\n"
        "    notches: [{edge: side, at: 5 in, from: end, count: 2}]\n"
        "joins: [[front/shoulder, front facing/neck]]\n"
        "changes:\n"
        "  - {neck: v, piece: front, depth: 7 in}\n"
        "  - {raise neck: 1, piece: front, off: yes}\n"
        "  - {facing: front, of: front/neck, depth: 2, below point: 1 3/4 in}\n"
        "versions: {plain: {without: [0, 2]}, full: {}}\n",
    )
    (front,) = pattern.pieces
    assert pattern.unit is Unit.CM
    assert front.cut == CutCount(count=1, on_fold=True)
    assert front.cut.words == "cut 1 on fold"
    assert [edge.kind for edge in front.edges] == [Kind.SEAM, Kind.SEAM, Kind.SEAM, Kind.HEM, Kind.FOLD]
    side = front.edges[2]
    assert (side.bend, side.corner, str(side.allowance)) == (Bend.SMOOTH, Corner.SQUARED_NEXT, "5/8 in")
    assert side.path[1].x.inches == pytest.approx(10 / 2.54)
    (notch,) = front.notches
    assert (notch.edge, notch.at.inches, notch.from_end, notch.count) == ("side", 5.0, End.END, 2)
    vneck, rise, facing = pattern.changes
    assert isinstance(vneck, VNeck)
    assert isinstance(rise, RaiseNeck)
    assert isinstance(facing, Facing)
    assert rise.off
    assert facing.name == "front facing"
    assert facing.of == EdgeRef(piece="front", edge="neck")
    assert facing.below_point is not None
    assert facing.below_point.spelling == "1 3/4 in"
    assert [(version.name, version.without) for version in pattern.versions] == [
        ("plain", (0, 2)),
        ("full", ()),
    ]


def test_edges_that_meet_within_the_last_digit_are_joined(tmp_path: Path) -> None:
    pattern = pattern_of(tmp_path, HALF_TOP.replace("[[10, 24], [0, 24]]", "[[10.004, 24], [0, 24]]"))
    line = pattern.drafted().pieces["front"].seam_line
    assert [10.004, 24] in line.tolist()
    assert [10, 24] not in line.tolist()


def test_the_example_is_a_pattern() -> None:
    assert read_pattern(str(example("harbour overtop"))).name == "Harbour overtop"
