"""A change makes a piece larger or smaller as it says, and moves nothing farther than by so much."""

from functools import cache

import pytest
import shapely
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from patterns import PatternError
from patterns.changes import Draft
from tests.property.test_changes import read

LARGER = ("lengthen: {}", "lengthen: {}, at: 17", "lengthen sleeve: {}", "widen: {}, at: fold",
          "widen: {}, at: side", "raise neck: {}, piece: front", "narrow neck: {}")  # fmt: skip
SMALLER = ("shorten: {}", "shorten: {}, at: 18", "shorten sleeve: {}", "narrow: {}, at: fold",
           "narrow: {}, at: side", "lower neck: {}, piece: front", "widen neck: {}", "hem band: {}")  # fmt: skip
ROUND_OFF = 1.02  # a curve that is stretched to its new end may swing out a little


@cache
def traced() -> Draft:
    return read().draft()


@pytest.mark.parametrize(("change", "sign"), [*((one, 1) for one in LARGER), *((one, -1) for one in SMALLER)])
@settings(
    max_examples=8, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much], deadline=None
)
@given(by_in=st.floats(0.05, 4))
def test_a_piece_grows_or_shrinks_by_no_more_than_is_said(change: str, sign: int, by_in: float) -> None:
    try:
        shapes = read(f"{{{change.format(f'{by_in:.3f}')}}}").draft().shapes
    except PatternError:
        assume(False)
        raise
    for before, after in zip(traced().shapes, shapes, strict=True):
        if "piece: front" in change and before.name != "front":
            assert after is before
            continue
        one, two = shapely.Polygon(before.ring), shapely.Polygon(after.ring)
        assert sign * (two.area - one.area) > 0
        assert shapely.hausdorff_distance(one.exterior, two.exterior) <= round(by_in, 3) * ROUND_OFF + 0.002
