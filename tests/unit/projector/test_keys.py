"""Events of the window library to actions."""

import pygame
import pytest

from projector.actions import (
    Accept,
    Action,
    Aim,
    Back,
    Blank,
    Cancel,
    ChangeSide,
    Drag,
    Flip,
    Freeze,
    Grab,
    Help,
    Move,
    Next,
    Offer,
    PutDown,
    Quit,
    SetCurve,
    TakeUp,
    Type,
    Undo,
)
from projector.bindings import CUT_BINDINGS, RULER_BINDINGS, Binding
from projector.keys import BOUNCES_S, REPEAT_AFTER_S, HeldKey, KeysBack, WornSwitch, action_from
from projector.tracing.bindings import GROWING, NAMING, PULLING


def key(code: int, typed: str = "", mod: int = 0) -> pygame.event.Event:
    return pygame.event.Event(pygame.KEYDOWN, key=code, unicode=typed, mod=mod)


@pytest.mark.parametrize(
    ("event", "action"),
    [
        (key(pygame.K_PAGEDOWN), Flip(by=1)),
        (key(pygame.K_PERIOD, "."), Blank()),
        (key(pygame.K_KP_PERIOD, "."), Blank()),
        (key(pygame.K_b, "b"), Blank()),
        (key(pygame.K_b, "B", pygame.KMOD_SHIFT), Blank()),
        (key(pygame.K_SPACE, " "), Blank()),
        (key(pygame.K_MINUS, "?", pygame.KMOD_SHIFT), Help()),
        (key(pygame.K_LEFT, mod=pygame.KMOD_LSHIFT), Move(right=-1, other_step=True)),
        (pygame.event.Event(pygame.QUIT), Quit()),
        (pygame.event.Event(pygame.MOUSEBUTTONDOWN, button=1, pos=(5, 5)), Grab()),
        (
            pygame.event.Event(pygame.MOUSEMOTION, pos=(10, 20), rel=(3, -1), buttons=(1, 0, 0)),
            Drag(from_px=(7, 21), to_px=(10, 20)),
        ),
    ],
)
def test_events_ask_for_actions(event: pygame.event.Event, action: Action) -> None:
    assert action_from(event, CUT_BINDINGS) == action


@pytest.mark.parametrize(
    ("bindings", "event", "action"),
    [
        (GROWING, pygame.event.Event(pygame.MOUSEBUTTONDOWN, button=1, pos=(5, 5)), Accept()),
        (GROWING, pygame.event.Event(pygame.MOUSEBUTTONDOWN, button=3, pos=(5, 5)), SetCurve()),
        (GROWING, pygame.event.Event(pygame.MOUSEBUTTONUP, button=1, pos=(5, 5)), None),
        (PULLING, pygame.event.Event(pygame.MOUSEBUTTONDOWN, button=1, pos=(5, 5)), TakeUp()),
        (PULLING, pygame.event.Event(pygame.MOUSEBUTTONUP, button=1, pos=(5, 5)), PutDown()),
        (PULLING, pygame.event.Event(pygame.MOUSEBUTTONDOWN, button=2, pos=(5, 5)), None),
        (CUT_BINDINGS, pygame.event.Event(pygame.MOUSEBUTTONUP, button=1, pos=(5, 5)), None),
        (
            CUT_BINDINGS,
            pygame.event.Event(pygame.MOUSEMOTION, pos=(5, 6), rel=(1, 1), buttons=(0, 0, 0)),
            None,
        ),
        *(
            (
                bindings,
                pygame.event.Event(pygame.MOUSEMOTION, pos=(5, 6), rel=(1, 1), buttons=buttons),
                Aim(at_px=(5, 6)),
            )
            for bindings in (GROWING, PULLING)
            for buttons in ((0, 0, 0), (1, 0, 0))
        ),
        (NAMING, key(pygame.K_SPACE, " "), Type(text=" ")),
        (NAMING, key(pygame.K_b, "b"), Type(text="b")),
        (NAMING, key(pygame.K_TAB, "\t"), Offer()),
        (NAMING, key(pygame.K_ESCAPE, "\x1b"), Cancel()),
    ],
)
def test_the_mouse_and_letters_mean_what_the_stage_of_a_trace_has_them_mean(
    bindings: tuple[Binding, ...], event: pygame.event.Event, action: Action | None
) -> None:
    assert action_from(event, bindings) == action


@pytest.mark.parametrize(
    "event",
    [
        key(pygame.K_z, "z"),
        pygame.event.Event(pygame.MOUSEMOTION, pos=(10, 20), rel=(3, -1), buttons=(0, 0, 0)),
        pygame.event.Event(pygame.MOUSEBUTTONDOWN, button=3, pos=(5, 5)),
        pygame.event.Event(pygame.KEYUP, key=pygame.K_q, unicode="q", mod=0),
    ],
)
def test_other_events_ask_for_nothing(event: pygame.event.Event) -> None:
    assert action_from(event, CUT_BINDINGS) is None


@pytest.mark.parametrize(
    ("event", "action"),
    [
        (key(pygame.K_1, "1"), Type(text="1")),
        (key(pygame.K_AMPERSAND, "1", pygame.KMOD_SHIFT), Type(text="1")),
        (key(pygame.K_KP1, "1"), Type(text="1")),
        (key(pygame.K_SPACE, " "), Type(text=" ")),
        (key(pygame.K_SLASH, "/"), Type(text="/")),
        (key(pygame.K_PERIOD, "."), Type(text=".")),
        (key(pygame.K_m, "m"), Type(text="m")),
        (key(pygame.K_m, "M", pygame.KMOD_SHIFT), Type(text="m")),
        (key(pygame.K_QUOTE, '"', pygame.KMOD_SHIFT), Type(text='"')),
        (key(pygame.K_RETURN, "\r"), Accept()),
        (key(pygame.K_KP_ENTER, "\r"), Accept()),
        (key(pygame.K_BACKSPACE, "\b"), Undo()),
        (key(pygame.K_t, "t"), ChangeSide()),
        (key(pygame.K_b, "b"), Blank()),
        (key(pygame.K_h, "h"), Help()),
        (key(pygame.K_q, "q"), Quit()),
        (key(pygame.K_LSHIFT), None),
        (key(pygame.K_x, "x"), None),
    ],
)
def test_where_text_is_taken_its_signs_are_no_keys_and_other_keys_stay(
    event: pygame.event.Event, action: Action | None
) -> None:
    assert action_from(event, RULER_BINDINGS) == action


STEP = Move(right=1)
RELEASE = pygame.event.Event(pygame.KEYUP, key=pygame.K_RIGHT, unicode="", mod=0)


def test_a_held_arrow_repeats_until_it_is_released() -> None:
    held = HeldKey()
    held.see(key(pygame.K_RIGHT), STEP, 10.0)
    assert held.due(10.1) is None
    assert held.wait_s(10.1, 0.5) == pytest.approx(REPEAT_AFTER_S - 0.1)
    assert held.due(10.4) == STEP
    assert held.due(10.41) is None
    assert held.due(10.45) == STEP
    held.see(RELEASE, None, 10.46)
    assert held.due(11.0) is None
    assert held.wait_s(11.0, 0.5) == 0.5


def test_a_release_that_came_while_the_program_was_busy_is_no_repeat() -> None:
    held = HeldKey()
    held.see(key(pygame.K_RIGHT), STEP, 10.0)
    held.see(RELEASE, None, 12.0)
    assert held.due(12.0) is None


def test_only_steps_repeat_and_leaving_the_window_ends_them() -> None:
    held = HeldKey()
    held.see(key(pygame.K_PAGEDOWN), Flip(by=1), 10.0)
    assert held.due(20.0) is None
    held.see(key(pygame.K_RIGHT), STEP, 10.0)
    held.see(pygame.event.Event(pygame.WINDOWFOCUSLOST), None, 10.1)
    assert held.due(20.0) is None


PEDAL = key(pygame.K_PAGEDOWN)


@pytest.mark.parametrize("action", [Next(), Back(), Blank(), Freeze()])
def test_a_press_that_a_worn_switch_sends_again_is_known(action: Action) -> None:
    switch = WornSwitch()
    assert not switch.bounces(PEDAL, action, 10.0)
    switch.see(PEDAL, 10.0)
    switch.see(RELEASE, 10.02)
    assert switch.bounces(PEDAL, action, 10.15)
    assert not switch.bounces(PEDAL, action, 10.0 + BOUNCES_S + 0.01)


def test_a_foot_that_rests_on_a_pedal_presses_it_once() -> None:
    switch = WornSwitch()
    switch.see(PEDAL, 10.0)
    for after_s in (0.2, 0.4, 0.6, 0.8):
        assert switch.bounces(PEDAL, Next(), 10.0 + after_s)
        switch.see(PEDAL, 10.0 + after_s)


def test_another_key_and_what_may_be_asked_for_quickly_are_no_bounces() -> None:
    switch = WornSwitch()
    switch.see(PEDAL, 10.0)
    assert not switch.bounces(key(pygame.K_b, "b"), Blank(), 10.05)
    for quick in (Flip(by=1), STEP, Type(text="1"), Accept(), Quit()):
        assert not switch.bounces(PEDAL, quick, 10.05)
    switch.see(key(pygame.K_c, "c"), 10.1)
    assert not switch.bounces(key(pygame.K_c, "c"), Next(), 10.15)


def test_a_press_that_waited_while_the_next_station_opened_is_a_bounce_still() -> None:
    switch = WornSwitch()
    switch.see(PEDAL, 10.0)
    switch.looked_away(12.0)
    assert switch.bounces(PEDAL, Next(), 12.05)


def test_a_key_that_is_down_when_the_keys_come_back_is_no_press_until_it_was_let_go_of() -> None:
    down = 0b100
    back = KeysBack(lambda: down)
    back.see(pygame.event.Event(pygame.WINDOWFOCUSGAINED))
    assert back.pressed_elsewhere(PEDAL)
    back.see(pygame.event.Event(pygame.KEYUP, key=PEDAL.key))
    assert not back.pressed_elsewhere(PEDAL)
    back.see(pygame.event.Event(pygame.WINDOWFOCUSGAINED))
    down = 0b010  # let go of unseen, and another pressed
    assert not back.pressed_elsewhere(PEDAL)
    back.see(pygame.event.Event(pygame.WINDOWFOCUSLOST))
    back.see(pygame.event.Event(pygame.WINDOWFOCUSGAINED))
    assert back.pressed_elsewhere(PEDAL)


def test_a_key_pressed_as_a_new_window_opens_is_meant_for_it() -> None:
    down = 0b000
    back = KeysBack(lambda: down)
    down = 0b100
    back.see(pygame.event.Event(pygame.WINDOWFOCUSGAINED))
    assert not back.pressed_elsewhere(PEDAL)
