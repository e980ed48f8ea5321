"""Undo, freeze, blank, help and leaving, whatever the station."""

from dataclasses import dataclass, replace

import pytest

from projector.actions import Action, Blank, Flip, Freeze, Grab, Help, Mirror, Move, Quit, Undo
from projector.bindings import CUT_BINDINGS, Binding
from projector.scene import Controls, Layer, Scene
from projector.session import Session


@dataclass(frozen=True, slots=True, kw_only=True)
class Counter:
    """Counts moves; mirroring finishes it."""

    moves: int = 0
    finished: bool = False

    @property
    def bindings(self) -> tuple[Binding, ...]:
        return CUT_BINDINGS

    def after(self, action: Action) -> "Counter":
        if isinstance(action, Move):
            return replace(self, moves=self.moves + 1)
        return replace(self, finished=True) if isinstance(action, Mirror) else self

    def scene(self, controls: Controls) -> Scene:
        return (Layer(name="main", key=(self.moves, controls), draw=tuple),)


STEP = Move(right=1)


def taken(*actions: Action) -> Session[Counter]:
    session = Session(Counter())
    for action in actions:
        session.take(action)
    return session


def test_a_frozen_light_takes_only_freeing_blanking_and_leaving() -> None:
    session = taken(STEP, Freeze())
    before = session.scene()[0].key
    for action in (STEP, Undo(), Mirror(), Flip(by=1), Help(), Grab()):
        session.take(action)
        assert session.scene()[0].key == before, action
        assert session.station == Counter(moves=1), action
    session.take(Freeze())
    session.take(STEP)
    assert session.station.moves == 2


def test_a_frozen_light_can_be_blanked_and_comes_back_frozen() -> None:
    session = taken(Freeze(), Blank())
    assert session.scene() == ()
    session.take(Blank())
    assert session.frozen
    assert session.scene() != ()


def test_nothing_moves_in_the_dark() -> None:
    session = taken(Blank(), STEP, Freeze(), Help(), Undo(), Blank())
    assert (session.station.moves, session.frozen, session.helping) == (0, False, False)


def test_help_closes_at_the_next_key_of_any_kind() -> None:
    assert taken(Help()).helping
    assert not taken(Help(), Help()).helping
    assert not taken(Help(), STEP).helping
    assert not taken(Help(), Freeze()).helping


@pytest.mark.parametrize("before", [(), (Freeze(),), (Blank(),), (Help(),)])
def test_leaving_always_works(before: tuple[Action, ...]) -> None:
    assert taken(*before, Quit()).finished


def test_a_finished_station_ends_the_session() -> None:
    assert taken(Mirror()).finished
