import numpy as np
import pytest

from patterns import Kind, PatternError, Placement
from patterns.curves import Curve
from patterns.parts import CutCount
from patterns.piece import closed_curves
from patterns.tracing.curve_fitting import CLOSE_IN
from patterns.tracing.whole_outline import whole_piece
from tests.unit.patterns.garments import bezier, sampled

STRAP = Curve.straight(np.array([(0, 0), (16, 1), (16, 4), (0, 3), (0, 0)], dtype=np.float64))
NAMES = ("long edge", "hem", "other edge", "end")


@pytest.mark.parametrize("turn_deg", [0, 20, -20])
@pytest.mark.parametrize("ahead", [1, -1])
def test_a_piece_without_a_fold_is_named_clockwise_from_its_top_left(turn_deg: float, ahead: int) -> None:
    lies = Placement(x_in=5, y_in=7, turn_deg=turn_deg)
    found = whole_piece(lies.placed(sampled(STRAP)[:-1])[::ahead], noise_in=0.0, piece="strap", names=NAMES)
    piece = found.piece
    assert [edge.name for edge in piece.edges] == list(NAMES)
    assert [edge.kind for edge in piece.edges] == [Kind.SEAM, Kind.HEM, Kind.SEAM, Kind.SEAM]
    assert piece.cut == CutCount()
    begins = np.stack([curve.start for curve in closed_curves(piece.edges)])
    assert found.placement.placed(begins) == pytest.approx(lies.placed(STRAP.corners[:4]), abs=0.01)
    assert begins.min(axis=0) == pytest.approx((0, 0), abs=0.001)
    assert found.warnings == ()


def test_a_curved_edge_is_within_a_64th() -> None:
    arc = bezier((0, 0), (4, -3), (8, -3), (12, 0))
    ring = np.concatenate(
        [sampled(arc)[:-1], sampled(Curve.straight(np.array([(12.0, 0), (12, 8), (0, 8), (0, 0)])))]
    )
    found = whole_piece(Placement().placed(ring[:-1]), noise_in=0.0, piece="yoke", names=NAMES)
    made = found.placement.placed(closed_curves(found.piece.edges)[0].points)
    off = np.min(np.hypot(*(made[:, None] - Placement().placed(ring)[None]).transpose(2, 0, 1)), axis=1)
    assert off.max() < CLOSE_IN + 0.01
    assert found.farthest_in <= CLOSE_IN


@pytest.mark.parametrize("names", [None, ("one", "other")])
def test_names_are_asked_for(names: tuple[str, ...] | None) -> None:
    with pytest.raises(PatternError) as error:
        whole_piece(Placement().placed(sampled(STRAP)[:-1]), noise_in=0.0, piece="strap", names=names)
    assert str(error.value) == (
        f"{len(names or ())} names for the edges, where 4 corners were found; name the edges from corner to corner, "
        "clockwise from the one at the top left as the piece lies, or set the corners"
    )
