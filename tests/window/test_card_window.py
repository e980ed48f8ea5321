"""The sewing card on the table: the real command, real keys, and the step that is found again."""

from pathlib import Path

import numpy as np

from calibration.table.saved import Alignment
from patterns import example
from projector.actions import Action, Blank, ChangeSide, Flip, Freeze, Help, Show
from projector.lighting.canvas import frame
from projector.lighting.lit_area import lit_area
from projector.session import Session
from projector.sewing.kept import KeptStep, steps_path
from projector.stations.card import CardGround, CardStation
from tests.unit.projector.cards import GROUND
from tests.unit.projector.samples import SCREEN_PX
from tests.window.desk import Desk, Pixels
from tests.window.pictures import wait_for_picture


def a_session(alignment: Alignment, title: str = "") -> Session[CardStation]:
    ground = CardGround(
        name=GROUND.name,
        steps=GROUND.steps,
        cautions=GROUND.cautions,
        alignment=alignment,
        lit=lit_area(alignment.map),
    )
    return Session(CardStation.begun(ground, title))


def after(session: Session[CardStation], *actions: Action) -> Pixels:
    for action in actions:
        session.take(action)
    return frame((layer.draw() for layer in session.scene()), SCREEN_PX)


def test_the_card_is_paged_through_held_turned_and_found_again(
    desk: Desk, table: Path, alignment: Alignment
) -> None:
    session = a_session(alignment)
    asked = ("card", example("harbour overtop"), "--table", table)
    with desk.program(*asked) as program:
        program.focus()
        wait_for_picture(desk, after(session), "first step")
        desk.keys("Next", "Next", "Next")
        wait_for_picture(desk, after(session, *3 * (Flip(by=1),)), "fourth step")
        desk.keys("f", "Next")
        wait_for_picture(desk, after(session, Freeze()), "held step")
        desk.keys("f", "Prior")
        wait_for_picture(desk, after(session, Freeze(), Flip(by=-1)), "third step")
        desk.keys("t")
        wait_for_picture(desk, after(session, ChangeSide()), "third step from the right side")
        desk.keys("h")
        wait_for_picture(desk, after(session, Help()), "keys")
        desk.keys("7")
        seventh = wait_for_picture(desk, after(session, Show(number=7)), "seventh step")
        desk.keys("period")
        desk.wait_for(lambda pixels: not pixels.any(), "darkness")
        desk.pedal("period")
        wait_for_picture(desk, after(session, Blank(), Blank()), "seventh step, lit again")
        kept = KeptStep(path=steps_path(table), garment=GROUND.name)
        desk.wait_for(lambda _: kept.read() == session.station.step.title, "a step that is kept")
        program.process.kill()
    again = a_session(alignment, session.station.step.title)
    with desk.program(*asked) as program:
        program.focus()
        upright = wait_for_picture(desk, after(again), "seventh step, after the power was cut")
        assert not np.array_equal(upright, seventh)
        desk.keys("q")
        assert program.end() == (0, "", "")
