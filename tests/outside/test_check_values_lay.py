"""Numbers of laying that can be worked out by hand, held against what the patterns package computes.

Each test says where its number is from. Tolerance 0.01 in or 0.1 mm unless said otherwise.
"""

import math
from dataclasses import replace

import numpy as np
import pytest

from patterns.cutting.placement import Placement
from patterns.laying.buying import Buying, bought_length_in, needed_in, said_to_buy
from patterns.laying.cloth import Cloth, Shrinkage
from patterns.laying.folding import Fold, Folding
from patterns.laying.lay import Lay, PieceOnCloth, Terms
from patterns.laying.rules import violations_of
from patterns.measures import Unit
from patterns.parts import CutCount
from patterns.planning.plan import Effort, plan
from tests.unit.patterns.wardrobe import box, pattern_of_pieces

MM = 25.4
HUNDREDTH_IN = 0.01
ON_FOLD = CutCount(on_fold=True)
QUICK = Effort(rounds=4)


def test_28_a_partial_fold() -> None:
    """Plain geometry: 21.5 + 1/2 = 22 to turn over, 60 - 2 x 22 = 16 stay single, 15.5 without the selvedge."""
    pattern = pattern_of_pieces(box("front", ON_FOLD, 21.5, 25.0))
    folding = plan(pattern, Cloth(bought_width_in=60.0), Fold.PARTIAL, effort=QUICK).folding
    single = folding.zones[0]
    assert folding.right_in == pytest.approx(22, abs=HUNDREDTH_IN)
    assert single.right_in == pytest.approx(16, abs=HUNDREDTH_IN)
    assert single.width_in == pytest.approx(15.5, abs=HUNDREDTH_IN)


@pytest.mark.parametrize(("width_in", "each_in"), [(45, 10.75), (60, 14.5)])
def test_29_double_to_the_centre(width_in: float, each_in: float) -> None:
    """Plain geometry: W / 4 - 1/2 on each side."""
    cloth = Cloth(bought_width_in=width_in)
    pattern = pattern_of_pieces(box("front", ON_FOLD, each_in, 20.0), box("back", ON_FOLD, each_in, 20.0))
    lay = plan(pattern, cloth, Fold.CENTRE, effort=QUICK)
    assert [zone.width_in for zone in lay.folding.zones] == pytest.approx([each_in] * 2, abs=HUNDREDTH_IN)
    assert lay.used_in == pytest.approx(20, abs=HUNDREDTH_IN)


@pytest.mark.parametrize(("sold_by", "words"), [(Unit.IN, "1 3/4 yd"), (Unit.CM, "1.60 m")])
def test_30_the_length_to_buy(sold_by: Unit, words: str) -> None:
    """Common practice: (28 + 28.5 + 1 + 2) / 0.97 = 61.34 in, up to the next 1/8 yd (63 in) or 10 cm (160 cm)."""
    cloth = Cloth(bought_width_in=60.0, shrinkage=Shrinkage(along=0.03))
    pattern = pattern_of_pieces(box("front", ON_FOLD, 20.0, 28.0), box("back", ON_FOLD, 20.0, 28.5))
    lay = plan(pattern, cloth, Fold.SELVEDGES, terms=Terms(gap_in=1.0, sold_by=sold_by), effort=QUICK)
    assert needed_in(lay.used_in, cloth) == pytest.approx(61.34, abs=HUNDREDTH_IN)
    assert Buying.of(lay).words == words


def test_31_shrinkage() -> None:
    """Dimensional change as in ISO 5077 and AATCC 135: (485 - 500) / 500 = -3.0 %."""
    washed = Cloth(bought_width_in=500 / MM, selvedge_in=0.0, shrinkage=Shrinkage(across=0.03))
    assert washed.width_in * MM == pytest.approx(485, abs=0.1)


def off_its_grain(length_in: float, off_in: float) -> tuple[str, ...]:
    """What is said of a panel whose grainline of that length has its ends so far off."""
    panel = replace(box("panel", CutCount(), 4.0, length_in), grain=np.array([[2.0, length_in], [2.0, 0.0]]))
    turn = math.degrees(math.asin(off_in / length_in))
    lies = PieceOnCloth(piece=panel, placement=Placement(x_in=5.0, y_in=length_in + 1, turn_deg=turn))
    folding = Folding(fold=Fold.SINGLE, cloth=Cloth(bought_width_in=60.0))
    return tuple(str(one) for one in violations_of(Lay(folding=folding, placed=(lies,)), 0))


def test_32_skew_is_told_as_a_length_across_the_cloth() -> None:
    """Quantity as in ASTM D3882: 3/4 in over 58 in is 1.29 %."""
    (said,) = off_its_grain(58.0, 0.75)
    assert "one end of the grainline lies 3/4 in nearer" in said
    skew = 100 * 0.75 / 58
    assert skew == pytest.approx(1.29, abs=0.005)


def test_33_how_far_a_piece_may_be_off_its_grain() -> None:
    """Plain geometry: 1/8 in over 24 in is 0.30 degrees, the most that is allowed."""
    assert math.degrees(math.asin(1 / 8 / 24)) == pytest.approx(0.30, abs=0.005)
    assert off_its_grain(24.0, 0.1249) == ()
    assert len(off_its_grain(24.0, 0.1251)) == 1


def test_34_how_much_is_used() -> None:
    """Plain geometry: 1596 / (57 x 35) = 80 %."""
    pattern = pattern_of_pieces(box("panel", CutCount(), 1596 / 35, 35.0))
    lay = plan(pattern, Cloth(bought_width_in=58.0), Fold.SINGLE, effort=QUICK)
    assert Buying.of(lay).used == pytest.approx(0.80, abs=0.0005)


@pytest.mark.parametrize(
    ("used_in", "sold_by", "words"),
    [
        (34.0, Unit.IN, "1 yd"),
        (34.01, Unit.IN, "1 1/8 yd"),
        (2.4, Unit.IN, "1/8 yd"),
        (98 / 2.54 - 2, Unit.CM, "1.00 m"),
    ],
)
def test_what_is_needed_is_rounded_up_and_never_down(used_in: float, sold_by: Unit, words: str) -> None:
    """Common practice: cloth is sold by 1/8 yd or 10 cm; 2 in are for squaring."""
    length_in = bought_length_in(used_in, Cloth(bought_width_in=45.0), sold_by)
    assert said_to_buy(length_in, sold_by) == words
    assert length_in >= used_in + 2 - 1e-6


def test_the_remnant_and_the_waste_of_a_partial_fold() -> None:
    """By hand: 25 in used and 2 in for squaring make 27, 3/4 yd. The front opened takes 43 in of the 59 between
    the selvedges, and the 16 beside it stay whole, 25 in long.
    """
    pattern = pattern_of_pieces(box("front", ON_FOLD, 21.5, 25.0))
    buying = Buying.of(plan(pattern, Cloth(bought_width_in=60.0), Fold.PARTIAL, effort=QUICK))
    assert (buying.length_in, buying.words) == (27.0, "3/4 yd")
    assert buying.remnant.width_in == pytest.approx(16.0)
    assert buying.remnant.length_in == pytest.approx(25.0)
    assert buying.wasted == pytest.approx(1 - (43 + 16) / 60)
