"""The cross with the mark of the point in hand, drawn in one go: as each drawn by itself, the brighter on top."""

import numpy as np
import pytest

from projector.lighting.canvas import compose, tile, whole
from projector.lighting.lit_area import lit_area
from projector.person import Person
from projector.tracing.light import (
    IN_HAND,
    LARGER,
    MARK_IN,
    SHAPES,
    Mark,
    cross_layer,
    cross_light,
    stroked,
)
from tests.unit.projector.samples import SCREEN_PX, a_map

LIT = lit_area(a_map())
CROSSINGS_PX = 80  # four of them, where the half light of both edges is added up
QUARTER = 64
ROUNDING = 16  # of 255: both have the scale that is their average, and points are drawn to 1/64 px


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("away_in", [0.0, 2.5])
@pytest.mark.parametrize("facing_deg", [0.0, 90.0])
def test_the_mark_is_seen_where_it_is_and_the_cross_where_it_is(
    shape: str, away_in: float, facing_deg: float
) -> None:
    at_in, person = (2.0, 1.0), Person(facing_deg=facing_deg)
    mark: Mark = ((at_in[0] + away_in, at_in[1]), shape)
    drawn = compose([tile(cross_layer(at_in, mark, LIT, person).draw(), SCREEN_PX)], whole(SCREEN_PX))
    outline = person.on_table(LARGER * MARK_IN * SHAPES[shape]) + mark[0]
    each = (cross_light(at_in, LIT, person), stroked([outline], IN_HAND, LIT))
    apart = compose([tile(drawing, SCREEN_PX) for drawing in each], whole(SCREEN_PX))
    astray = np.abs(drawn.astype(int) - apart)
    assert (astray > ROUNDING).sum() <= (CROSSINGS_PX if away_in == 0.0 else 0)
    assert astray.max() <= QUARTER
    assert drawn.any()
