"""Repainting what changed gives the picture of a full redraw, to the last bit."""

import numpy as np

from projector.actions import Action, Flip, Freeze, Help, Mirror, Move, Turn
from projector.cutting.ground import Ground
from projector.lighting.canvas import compose, tile, whole
from projector.lighting.lit_area import lit_area
from projector.lighting.painter import Painter
from projector.session import Session
from projector.stations.cut import CutStation
from tests.unit.projector.samples import SCREEN_PX, an_alignment, pieces


def test_each_repaint_equals_a_full_redraw() -> None:
    alignment = an_alignment()
    ground = Ground(pieces=tuple(pieces().values()), alignment=alignment, lit=lit_area(alignment.map))
    session = Session(CutStation.begun(ground))
    painter = Painter(SCREEN_PX)
    shown = np.zeros((SCREEN_PX[1], SCREEN_PX[0]), np.uint8)
    turned: tuple[Action, ...] = (Move(right=1), Turn(anticlockwise=1), Mirror(), Flip(by=1))
    held: tuple[Action, ...] = (Freeze(), Freeze(), Help(), Help())
    actions = (*turned, *held, *[Move(away=-1)] * 9)
    for action in actions:
        session.take(action)
        for rect, light in painter.repaint(session.scene()):
            shown[rect.top : rect.bottom, rect.left : rect.right] = light
        fresh = compose((tile(layer.draw(), SCREEN_PX) for layer in session.scene()), whole(SCREEN_PX))
        assert np.array_equal(shown, fresh), action


def test_nothing_is_painted_when_nothing_changes_and_all_of_it_goes_dark() -> None:
    alignment = an_alignment()
    ground = Ground(pieces=tuple(pieces().values()), alignment=alignment, lit=lit_area(alignment.map))
    session = Session(CutStation.begun(ground))
    painter = Painter(SCREEN_PX)
    assert len(painter.repaint(session.scene())) == 2
    assert painter.repaint(session.scene()) == []
    dark = painter.repaint(())
    assert len(dark) == 2
    assert all(light.max() == 0 for _, light in dark)
