"""Keys and the help that names them come from one table."""

import pytest

from projector.actions import (
    Accept,
    Action,
    Blank,
    Finish,
    Flip,
    Freeze,
    Help,
    Move,
    Quit,
    Show,
    Turn,
    Type,
    Undo,
)
from projector.bindings import ALIGN_BINDINGS, CUT_BINDINGS, RULER_BINDINGS, Binding, action_of, typed_by
from projector.drafting.bindings import TYPING_CHANGE
from projector.tracing.bindings import NAMING


@pytest.mark.parametrize(
    ("key", "action"),
    [
        ("page down", Flip(by=1)),
        ("page up", Flip(by=-1)),
        (".", Blank()),
        ("b", Blank()),
        ("f5", Freeze()),
        ("escape", Freeze()),
        ("3", Show(number=3)),
        ("left", Move(right=-1)),
        ("up", Move(away=1)),
        ("r", Turn(anticlockwise=-1)),
        ("h", Help()),
        ("q", Quit()),
        ("backspace", Undo()),
    ],
)
def test_keys_of_keyboards_remotes_and_pedals_while_cutting(key: str, action: Action) -> None:
    assert action_of(CUT_BINDINGS, key, shift=False) == action


def test_a_pedal_accepts_while_aligning() -> None:
    assert action_of(ALIGN_BINDINGS, "return", shift=False) == Accept()
    assert action_of(ALIGN_BINDINGS, "page down", shift=False) == Accept()
    assert action_of(ALIGN_BINDINGS, "d", shift=False) == Finish()


def test_shift_takes_the_other_step_and_changes_nothing_else() -> None:
    assert action_of(CUT_BINDINGS, "left", shift=True) == Move(right=-1, other_step=True)
    assert action_of(CUT_BINDINGS, "l", shift=True) == Turn(anticlockwise=1, other_step=True)
    assert action_of(CUT_BINDINGS, "page down", shift=True) == Flip(by=1)


@pytest.mark.parametrize("bindings", [CUT_BINDINGS, ALIGN_BINDINGS, RULER_BINDINGS])
def test_no_key_has_two_meanings_and_each_is_told(bindings: tuple[Binding, ...]) -> None:
    keys = [key for binding in bindings for key, _ in binding.pairs()]
    assert len(keys) == len(set(keys))
    for binding in bindings:
        assert binding.signs or any(
            key in binding.shown.lower() or "arrows" in binding.shown for key in binding.keys
        )
    assert action_of(bindings, "z", shift=False) is None


def test_no_key_asks_for_an_action_by_a_sign_that_is_text() -> None:
    assert typed_by(RULER_BINDINGS, "/") == Type(text="/")
    for binding in RULER_BINDINGS:
        assert all(typed_by(RULER_BINDINGS, key) is None for key, _ in binding.pairs())
    for bindings in (CUT_BINDINGS, ALIGN_BINDINGS):
        assert all(typed_by(bindings, sign) is None for sign in ("1", " ", "m", ""))


def test_a_capital_stays_one_in_a_name_and_is_small_in_a_length() -> None:
    assert typed_by(NAMING, "Y") == Type(text="Y")
    assert typed_by(TYPING_CHANGE, "Y") == Type(text="Y")
    assert typed_by(RULER_BINDINGS, "M") == Type(text="m")
    assert typed_by(RULER_BINDINGS, "Y") is None
