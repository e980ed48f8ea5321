"""What a remnant is good for, by hand."""

import math
from pathlib import Path

import pytest
import shapely

from patterns.laying.buying import Buying
from patterns.laying.cloth import Cloth
from patterns.laying.folding import Fold
from patterns.laying.remnant import Rectangle
from patterns.laying.remnant_uses import bias_strips, holds, scarf_words, strip_words
from patterns.laying.report import cloth_lines
from patterns.measures import Unit
from patterns.planning.plan import Effort, plan
from patterns.saying import Say
from tests.unit.patterns.build import HALF_TOP, pattern_of

INCHES = Say(Unit.IN)


def rectangle(width_in: float, length_in: float) -> Rectangle:
    return Rectangle(left_in=1, bottom_in=2, right_in=1 + width_in, top_in=2 + length_in)


@pytest.mark.parametrize("sides", [(10, 40), (40, 10), (16, 16), (20, 27.3)])
def test_bias_strips_are_those_that_lie_in_the_rectangle(sides: tuple[float, float]) -> None:
    """Drawn one beside the other at 45 degrees (common practice), each within the rectangle."""
    strip_in = 1.5
    short, long = sorted(sides)
    step, strips = strip_in * math.sqrt(2), 0
    while True:
        start = strips * step
        corners = [(start, 0), (start + step, 0), (start + step + short, short), (start + short, short)]
        strip = shapely.Polygon(corners)
        if not shapely.box(0, 0, long, short).buffer(1e-9).contains(strip):
            break
        assert strip.area == pytest.approx(strip_in * short * math.sqrt(2))
        strips += 1
    count, each = bias_strips(rectangle(*sides), strip_in)
    assert count == strips
    assert not strips or each == pytest.approx(short * math.sqrt(2) - strip_in)


def test_a_binding_is_not_pieced_together_from_snippets(tmp_path: Path) -> None:
    text = HALF_TOP + "changes:\n  - {binding: front/neck, width: 1/4 in}\n"
    drafted = pattern_of(tmp_path, text).drafted()
    (narrow,) = strip_words(drafted, rectangle(59, 1.75), INCHES)
    assert narrow.startswith("what stays whole does not give the binding of front neck")
    assert narrow.endswith("it is too narrow for bias strips of 6 in")
    (wider,) = strip_words(drafted, rectangle(59, 5), INCHES)
    assert wider.endswith(f"joined from strips of {INCHES(5 * math.sqrt(2) - 1)}")


def test_a_scarf_may_lie_either_way() -> None:
    remnant = rectangle(16, 70)
    assert holds(remnant, [(70, 16)])
    assert not holds(remnant, [(16.1, 70)])
    assert holds(rectangle(30, 70), [(70, 15)] * 2)
    assert not holds(rectangle(30, 70), [(70, 15)] * 3)
    assert scarf_words(remnant, (12, 60), INCHES) == "what stays whole gives a scarf of 12 in by 60 in"
    assert "does not give a scarf of 18 in by 60 in" in scarf_words(remnant, (18, 60), INCHES)


def test_a_binding_is_cut_from_what_stays_whole(tmp_path: Path) -> None:
    text = HALF_TOP + "changes:\n  - {binding: front/neck, width: 3/8 in}\n"
    drafted = pattern_of(tmp_path, text).drafted()
    (strip,) = drafted.strips
    (enough,) = strip_words(drafted, rectangle(12, 40), INCHES)
    assert enough.startswith("what stays whole gives the binding of front neck, 12 7/8 in long")
    count, each_in = bias_strips(rectangle(12, 40), strip.width_in)
    assert f"holds {INCHES(count * each_in)} of bias strip 1 1/2 in wide, joined from strips of" in enough
    (short,) = strip_words(drafted, rectangle(4, 5), INCHES)
    assert short.startswith("what stays whole does not give the binding of front neck")


def test_uses_that_take_from_one_another_are_said_to_be_reckoned_each_by_itself(tmp_path: Path) -> None:
    text = HALF_TOP + "changes:\n  - {binding: front/neck, width: 3/8 in}\n"
    drafted = pattern_of(tmp_path, text).drafted()
    lay = plan(drafted, Cloth(bought_width_in=60), Fold.SINGLE, effort=Effort(rounds=1))
    alone, both = (
        list(cloth_lines(drafted, lay, Buying.of(lay), INCHES, scarf)) for scarf in (None, (12, 60))
    )
    apart = "Each of these is reckoned by itself."
    assert apart not in alone
    assert both[-1] == apart
