"""Repainting what changed gives the picture of a full redraw, to the last bit."""

import numpy as np

from calibration.frames import ScreenPixels
from projector.actions import (
    Action,
    Blank,
    ChangeLook,
    ChangeSide,
    Flip,
    Freeze,
    Help,
    Mirror,
    Move,
    ShowGrid,
    ShowRepeats,
    Turn,
)
from projector.cloth.ground import Ground
from projector.lighting.canvas import compose, tile, whole
from projector.lighting.lit_area import lit_area
from projector.lighting.painter import MOST_KEPT, Painter
from projector.lighting.strokes import Drawing, Patch
from projector.scene import Layer
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
    seen: tuple[Action, ...] = (
        ShowGrid(),
        ChangeLook(),
        ShowRepeats(),
        ChangeLook(),
        ChangeSide(),
        ShowGrid(),
    )
    dark: tuple[Action, ...] = (Blank(), Blank(), Help(), Help(), Flip(by=-1), Flip(by=1), ShowGrid())
    actions = (*turned, *held, *[Move(away=-1)] * 9, *seen, *dark)
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


def a_layer(name: str, key: object, low: float, drawn: list[str]) -> Layer:
    """A square of ten pixels, that notes when it is drawn."""
    corners = np.array([[low, low], [low + 10, low], [low + 10, low + 10], [low, low + 10]])

    def draw() -> Drawing:
        drawn.append(name)
        return (Patch(points=ScreenPixels(corners), ends=np.array([4]), letter_px=10.0, light=1.0),)

    return Layer(name=name, key=(key,), draw=draw)


def test_what_comes_back_is_not_drawn_again_until_much_else_was_shown() -> None:
    drawn: list[str] = []
    painter = Painter(SCREEN_PX)
    piece, words = a_layer("piece", 0, 100, drawn), a_layer("words", 0, 300, drawn)
    for scene in ((piece, words), (), (piece, words), (words,), (piece, words)):
        painter.repaint(scene)
    assert drawn == ["piece", "words"]
    for number in range(1, MOST_KEPT + 1):
        painter.repaint((a_layer("piece", number, 100, drawn), words))
    drawn.clear()
    painter.repaint((piece, words))
    assert drawn == ["piece"]


def test_two_places_far_apart_are_two_parts_and_one_within_another_is_none() -> None:
    drawn: list[str] = []
    painter = Painter(SCREEN_PX)
    painter.repaint((a_layer("piece", 0, 100, drawn),))
    moved_far = painter.repaint((a_layer("piece", 1, 900, drawn),))
    assert len(moved_far) == 2
    assert sum(rect.area for rect, _ in moved_far) < 2 * 20**2
    near = painter.repaint((a_layer("piece", 2, 903, drawn), a_layer("dot", 0, 902, drawn)))
    assert len(near) == 1


def test_two_places_over_one_another_are_one_part() -> None:
    drawn: list[str] = []
    layers = (
        a_layer("piece", 0, 100, drawn),
        a_layer("beside", 0, 104, drawn),
        a_layer("far", 0, 400, drawn),
    )
    changed = [rect for rect, _ in Painter(SCREEN_PX).repaint(layers)]
    assert len(changed) == 2
    assert changed[0].meet(changed[1]).is_empty


def test_words_that_come_back_are_not_drawn_again_however_often_a_piece_moves() -> None:
    drawn: list[str] = []
    painter = Painter(SCREEN_PX)
    places = (a_layer("words", 0, 300, drawn), a_layer("words", 1, 500, drawn))
    for number in range(3 * MOST_KEPT):
        painter.repaint((a_layer("piece", number, 100, drawn), places[number % 2]))
    assert drawn.count("words") == len(places)
    assert drawn.count("piece") == 3 * MOST_KEPT


def test_another_session_with_the_same_keys_is_drawn_anew() -> None:
    drawn: list[str] = []
    painter = Painter(SCREEN_PX)
    painter.repaint((a_layer("piece", 0, 100, drawn),))
    painter.forget()
    (changed,) = painter.repaint((a_layer("piece", 0, 105, drawn),))
    assert drawn == ["piece", "piece"]
    rect, light = changed
    assert light[106 - rect.top, 106 - rect.left] == 255
    assert light[101 - rect.top, 101 - rect.left] == 0


def test_however_many_layers_are_shown_none_of_them_is_drawn_twice() -> None:
    drawn: list[int] = []

    def layer(number: int) -> Layer:
        def draw() -> Drawing:
            drawn.append(number)
            return ()

        return Layer(name=f"line {number}", key=number, draw=draw)

    painter, scene = Painter(SCREEN_PX), tuple(layer(number) for number in range(3 * MOST_KEPT))
    for _ in range(2):
        painter.repaint(scene)
    assert drawn == list(range(3 * MOST_KEPT))
