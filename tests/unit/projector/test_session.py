"""Undo, freeze, blank, help and leaving, whatever the station."""

from dataclasses import dataclass, replace
from typing import Self

import pytest

from projector.actions import Action, Blank, Flip, Freeze, Grab, Help, Mirror, Move, Quit, Undo
from projector.bindings import CUT_BINDINGS, Binding
from projector.history import History
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

    def after(self, action: Action) -> Self:
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Rememberer(Counter):
    """Knows how many moves there were in the one before it."""

    known: int = 0

    def remembering(self, left: "Rememberer") -> "Rememberer":
        return replace(self, known=left.moves)


def test_a_station_goes_on_with_the_undo_of_the_last_of_its_kind() -> None:
    session: Session[Rememberer] = Session(Rememberer())
    session.remember(Rememberer(moves=3))
    assert session.station.known == 3


@pytest.mark.parametrize("left", [None, Counter(moves=3)])
def test_a_station_does_not_go_on_with_another_kinds(left: Counter | None) -> None:
    session: Session[Rememberer] = Session(Rememberer())
    session.remember(left)
    assert session.station.known == 0


def test_undo_that_was_left_is_taken_over_only_where_it_ends_in_what_is_now() -> None:
    left = History(now=1).then(2).then(3).back()
    same, other = History(now=2), History(now=1)
    assert same.recalling(left) is left
    assert other.recalling(left) is other
