"""The cross that is walked over the table."""

import numpy as np
import pytest

from patterns.measures import Unit
from projector.actions import Aim, ChangeOffset, ChangeStep, Home, Move
from projector.lighting.lit_area import lit_area
from projector.person import Person
from projector.tracing.table_cross import BESIDE_IN, TableCross
from tests.unit.projector.samples import SCREEN_PX, a_map

MAP = a_map()
LIT = lit_area(MAP)
NEAR = Person()
LEFT = Person(facing_deg=-90.0)
START = TableCross(at_in=(2.0, 1.0))


def pixel(x_in: float, y_in: float) -> tuple[float, float]:
    u, v = MAP.screen_from_table([(x_in, y_in)])[0].tolist()
    return u, v


def test_arrows_step_as_the_person_sees_it() -> None:
    assert START.after(Move(right=1), LIT, NEAR).at_in == pytest.approx((2.25, 1.0))
    assert START.after(Move(away=1), LIT, NEAR).at_in == pytest.approx((2.0, 1.25))
    assert START.after(Move(right=1), LIT, LEFT).at_in == pytest.approx((2.0, 0.75))
    assert START.after(Move(right=1, other_step=True), LIT, NEAR).at_in == pytest.approx((2 + 1 / 64, 1.0))
    fine = START.after(ChangeStep(), LIT, NEAR)
    assert fine.after(Move(right=1), LIT, NEAR).at_in == pytest.approx((2 + 1 / 64, 1.0))
    assert fine.words == ("steps 1/64 in, s: 1/4 in",)
    assert START.after(Home(), LIT, NEAR) is START


def test_it_follows_the_pointer_at_four_usual_places_beside_it() -> None:
    aimed = Aim(at_px=pixel(5.0, -3.0))
    cross = START.after(aimed, LIT, NEAR)
    assert cross.at_in == pytest.approx((5.0, -3.0), abs=1e-6)
    places = []
    for _ in range(4):
        cross = cross.after(ChangeOffset(), LIT, NEAR)
        places.append(np.subtract(cross.at_in, (5.0, -3.0)).round(6).tolist())
        assert cross.after(aimed, LIT, NEAR).at_in == pytest.approx(cross.at_in, abs=1e-6)
    assert places == [[0, BESIDE_IN], [-BESIDE_IN, 0], [BESIDE_IN, 0], [0, 0]]


def test_an_offset_of_ones_own_turns_with_the_person_and_gives_way_to_the_usual_ones() -> None:
    own = TableCross(at_in=(0.0, 0.0), offset_in=(1.0, 0.5))
    assert own.after(Aim(at_px=pixel(4.0, 4.0)), LIT, NEAR).at_in == pytest.approx((5.0, 4.5), abs=1e-6)
    assert own.after(Aim(at_px=pixel(4.0, 4.0)), LIT, LEFT).at_in == pytest.approx((4.5, 3.0), abs=1e-6)
    assert own.words[1] == "cross beside the pointer"
    assert own.after(ChangeOffset(), LIT, NEAR).offset_in == (0.0, 0.0)


def test_a_shaking_mouse_does_not_undo_the_arrows() -> None:
    u, v = pixel(5.0, -3.0)
    cross = START.after(Aim(at_px=(u, v)), LIT, NEAR).after(Move(right=1), LIT, NEAR)
    assert cross.after(Aim(at_px=(u + 3, v - 3)), LIT, NEAR) is cross
    assert cross.after(Aim(at_px=(u + 9, v)), LIT, NEAR).at_in != cross.at_in
    steady = START.after(Aim(at_px=(u, v)), LIT, NEAR)
    assert steady.after(Aim(at_px=(u + 1, v)), LIT, NEAR).at_in != steady.at_in


def test_it_never_leaves_the_light() -> None:
    cross = TableCross.in_the_middle(LIT, Unit.IN)
    for _ in range(300):
        cross = cross.after(Move(right=1, away=1), LIT, NEAR)
    at_px = MAP.screen_from_table([cross.at_in])[0]
    assert at_px == pytest.approx([SCREEN_PX[0] - 1, 0], abs=0.1)


def test_with_a_point_it_keeps_its_distance_to_the_pointer() -> None:
    cross = START.after(Aim(at_px=pixel(5.0, -3.0)), LIT, NEAR).laid_on((5.5, -3.25))
    assert cross.at_in == (5.5, -3.25)
    moved = cross.after(Aim(at_px=pixel(6.0, -3.0)), LIT, NEAR)
    assert moved.at_in == pytest.approx((6.5, -3.25), abs=1e-6)
    free = moved.let_go().after(Aim(at_px=pixel(6.0, -3.0)), LIT, NEAR)
    assert free.at_in == pytest.approx((6.0, -3.0), abs=1e-6)
