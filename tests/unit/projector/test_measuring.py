"""Lengths along a piece's edges between two points, and angles to its grain."""

import math
from dataclasses import replace

import numpy as np
import pytest

from patterns.cutting.placement import Placement
from patterns.tracing.hand_trace import Place
from projector.cloth.measuring import along_edge, angle_to_grain_deg
from tests.unit.projector.samples import pieces

FRONT, POCKET, TIE = pieces().values()
LAID = Placement(x_in=3, y_in=7, turn_deg=31, mirrored=True)


def on_table(placement: Placement, *points: Place) -> list[Place]:
    return [(x, y) for x, y in placement.placed(np.array(points)).tolist()]


@pytest.mark.parametrize("edge", ["neck", "overarm", "sleeve hem", "side", "hem"])
@pytest.mark.parametrize("opened", [False, True])
def test_from_end_to_end_of_an_edge_is_the_length_that_was_drafted(edge: str, opened: bool) -> None:
    placement = replace(LAID, opened=opened)
    drafted = FRONT.edges[edge]
    ends = on_table(placement, tuple(drafted.curve.start), tuple(drafted.curve.end))
    found = along_edge(FRONT, placement, *ends)
    assert found is not None
    assert found.name == f"{edge} seam line"
    assert found.length_in == pytest.approx(drafted.length_in, abs=1e-3)
    assert {tuple(found.path_in[k].round(6)) for k in (0, -1)} == {tuple(np.round(end, 6)) for end in ends}


def test_half_way_between_is_half_the_length() -> None:
    side = FRONT.edges["side"]
    at = side.curve.points_at(np.array([2.0, 9.0]))
    one, other = on_table(LAID, *[tuple(point) for point in at])
    found = along_edge(FRONT, LAID, one, other)
    assert found is not None
    assert found.length_in == pytest.approx(7, abs=1e-3)
    assert found.length_in > math.dist(one, other)


def test_a_cut_line_is_told_from_its_seam_line_and_runs_round_the_shorter_way() -> None:
    """The tie is 4 by 12 in with allowances of 1/2 in: 5 by 13 in cut."""
    one, other = on_table(LAID, (-0.5, 1.0), (4.5, 0.0))
    found = along_edge(TIE, LAID, one, other)
    assert found is not None
    assert found.name == "cut line"
    assert found.length_in == pytest.approx(1.5 + 5 + 0.5)
    assert np.abs(np.diff(found.path_in, axis=0)).max() < 6


def test_a_half_is_never_measured_along_its_fold() -> None:
    one, other = on_table(LAID, (0.0, 4.0), (0.0, 24.6))
    found = along_edge(FRONT, LAID, one, other)
    assert found is not None
    lengths = [FRONT.edges[name].length_in for name in ("neck", "overarm", "sleeve hem", "side", "hem")]
    assert found.length_in == pytest.approx(sum(lengths), abs=5e-3)
    assert found.name == "seam line"


def test_points_off_the_lines_are_on_no_edge() -> None:
    assert along_edge(FRONT, LAID, *on_table(LAID, (5.0, 12.0), (10.4, 13.0))) is None


@pytest.mark.parametrize(
    ("step", "degrees"), [((0, 1), 0), ((0, -3), 0), ((2, 0), 90), ((1, 1), 45), ((1, -2), 26.565051)]
)
def test_the_angle_to_the_grain_is_from_nothing_to_a_right_angle(step: Place, degrees: float) -> None:
    one, other = on_table(LAID, (3.0, 9.0), (3.0 + step[0], 9.0 + step[1]))
    assert angle_to_grain_deg(FRONT, LAID, one, other) == pytest.approx(degrees, abs=1e-6)


def test_without_a_grainline_the_fold_is_the_grain_and_without_both_there_is_none() -> None:
    one, other = on_table(LAID, (3.0, 9.0), (4.0, 10.0))
    assert angle_to_grain_deg(replace(FRONT, grain=None), LAID, one, other) == pytest.approx(45)
    assert angle_to_grain_deg(TIE, LAID, one, other) is None
    assert angle_to_grain_deg(FRONT, LAID, one, one) is None
