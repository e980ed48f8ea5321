"""What nudging crosses on to known marks shows, and what each action does."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.hand.drift import laid_marks, spread_marks
from projector.actions import Accept, Action, ChangeSide, Drag, Finish, Help, Move, Undo
from projector.scene import Controls
from projector.session import Session
from projector.stations.nudge import NudgeStation
from tests.unit.projector.samples import SCREEN_PX, a_map, an_alignment

CALM = Controls()
MAP = a_map()
# the mat's near left corner is the table's origin, so half of it is dark
MARKS = spread_marks(laid_marks(replace(an_alignment(), mat=(1.0, 36.0, 24.0))), 5)
BEGUN = NudgeStation.begun(MAP, MARKS, lambda marks, moves: f"{len(marks)} seen", on_mat=True)


def after(*actions: Action, station: NudgeStation = BEGUN) -> NudgeStation:
    for action in actions:
        station = station.after(action)
    return station


def lines(station: NudgeStation, controls: Controls = CALM) -> tuple[str, ...]:
    words = station.words(controls)
    return (*words.first, *words.aside)


def test_each_cross_starts_on_its_mark_in_fine_steps() -> None:
    station = BEGUN
    for number, mark in enumerate(MARKS):
        expected = MAP.screen_from_table([mark.table_in])[0]
        assert np.allclose(station.hand.at_px, expected)
        first, count, ways = lines(station)
        assert first == f"is the cross on the mat's lines {mark.mark.name}, from its near left corner?"
        assert count.startswith(f"mark {number + 1} of 5")
        assert ways.startswith("arrows step 0.5 px, s: 10 px  ·  enter: on the mark")
        assert ("d: enough" in ways) is (number >= 3)
        station = after(Accept(), station=station)
    assert np.allclose(station.moved_in, 0, atol=1e-9)


def test_a_nudge_is_how_far_the_light_falls_beside_the_mark() -> None:
    u, v = BEGUN.hand.at_px
    station = after(Drag(from_px=(u, v), to_px=(u + 3, v)), Accept(), *[Accept()] * 2)
    # the light had to go 3 px to the right, so it falls as far to the left of where it was meant
    (x, y), *others = station.moved_in
    assert -3 / 28 < x < -3 / 33
    assert abs(y) < 0.01
    assert np.allclose(others, 0, atol=1e-9)
    assert np.allclose(station.placed_in, [mark.table_in for mark in MARKS[:3]])


def test_after_the_last_the_verdict_is_on_the_table_and_d_keeps_it() -> None:
    station = after(*[Accept()] * 5)
    assert not station.finished
    assert lines(station) == ("5 seen", "d keeps this and leaves  ·  backspace undoes  ·  h: keys")
    cross = next(layer for layer in station.scene(CALM) if layer.name == "cross")
    assert cross.draw() == ()
    assert "every mark has been looked at" in lines(after(Accept(), station=station))
    assert after(Finish(), station=station).finished


def test_three_are_enough_and_two_are_not() -> None:
    two = after(Accept(), Accept(), Finish())
    assert not two.finished
    assert lines(two)[1] == "3 marks are needed before it can be judged"
    assert after(Accept(), Finish(), station=two).finished


def test_undo_takes_the_last_cross_in_hand_again_where_it_was_left() -> None:
    two = after(Accept(), Move(right=1), Accept())
    back = after(Undo(), station=two)
    assert back.left_px == two.left_px[:1]
    assert back.hand.at_px == two.left_px[1]
    assert after(Accept(), station=back).left_px == two.left_px
    assert lines(after(Undo()))[1] == "nothing to undo"
    assert after(Undo(), station=after(*[Accept()] * 5)).mark == MARKS[4]


def test_sheets_must_lie_as_they_lay() -> None:
    station = NudgeStation.begun(MAP, MARKS, lambda marks, moves: "", on_mat=False)
    assert lines(station)[0] == f"is the cross on {MARKS[0].mark.name}?"
    assert lines(station)[1] == "the sheets must lie just as they lay for the alignment"
    assert lines(after(Accept(), station=station))[1].startswith("mark 2 of 5")


@pytest.mark.parametrize("turns", [0, 1])
def test_words_stay_clear_of_the_cross(turns: int) -> None:
    station = after(*[ChangeSide()] * turns)
    for _ in MARKS:
        layers = {layer.name: layer for layer in station.scene(Controls(preview=True))}
        words = np.vstack([part.points for part in layers["words"].draw()])
        assert ((words > 0) & (words < np.array(SCREEN_PX))).all()
        assert not words[:, 1].min() - 20 < station.hand.at_px[1] < words[:, 1].max() + 20
        station = after(Accept(), station=station)


def test_help_frozen_and_preview_are_shown() -> None:
    session = Session(BEGUN)
    session.take(Help())
    (page,) = session.scene()
    assert len(page.draw()) == 2 * len(BEGUN.bindings)
    assert lines(BEGUN, Controls(frozen=True))[0] == "FROZEN: f frees it"
    assert "not true to size" in lines(BEGUN, Controls(preview=True))[2]
