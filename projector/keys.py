"""Key and mouse events to actions."""

from collections.abc import Callable

import pygame

from projector.actions import Action, Aim, Back, Blank, Drag, Freeze, Grab, Move, Next, Quit, Turn
from projector.bindings import POINTER, Binding, action_of, typed_by

LEFT_BUTTON = 1
BUTTONS = {LEFT_BUTTON: "left button", 3: "right button"}
LET_GO = {LEFT_BUTTON: "left button let go"}
REPEAT_AFTER_S, REPEAT_EVERY_S = 0.35, 0.04
BOUNCES_S = 0.25  # a worn switch bounces for less; nobody ticks off two steps so quickly
PAGE_KEYS = (pygame.K_PAGEDOWN, pygame.K_PAGEUP)
_ANY_KEY = -1  # every bit
KEYPAD = {pygame.K_KP_ENTER: "enter", pygame.K_KP_PERIOD: "."}


def action_from(event: pygame.event.Event, bindings: tuple[Binding, ...]) -> Action | None:
    """What the event asks for; None if nothing."""
    if event.type == pygame.QUIT:
        return Quit()
    if event.type == pygame.KEYDOWN:
        return _from_key(event, bindings)
    if event.type in (pygame.MOUSEBUTTONDOWN, pygame.MOUSEBUTTONUP):
        return _from_button(event, bindings)
    if event.type == pygame.MOUSEMOTION and any(binding.shown == POINTER.shown for binding in bindings):
        x, y = event.pos
        return Aim(at_px=(x, y))
    if event.type == pygame.MOUSEMOTION and event.buttons[0]:
        x, y = event.pos
        across, down = event.rel
        return Drag(from_px=(x - across, y - down), to_px=(x, y))
    return None


class HeldKey:
    """Repeats the steps of a key that is held down, and of no other key.

    The window library's own repeat counts time also while the program draws, and would then press a key
    twice that was pressed once; here a release that has arrived is seen before a repeat is due.
    """

    def __init__(self) -> None:
        self._key: int | None = None
        self._action: Action | None = None
        self._due_s = 0.0

    def see(self, event: pygame.event.Event, action: Action | None, now_s: float) -> None:
        """Note what an event, and the action it asked for, begin or end."""
        if event.type == pygame.KEYDOWN:
            steps = isinstance(action, Move | Turn)
            self._key, self._action = (event.key, action) if steps else (None, None)
            self._due_s = now_s + REPEAT_AFTER_S
        elif (event.type == pygame.KEYUP and event.key == self._key) or event.type == pygame.WINDOWFOCUSLOST:
            self._key = self._action = None

    def due(self, now_s: float) -> Action | None:
        """The action to repeat now."""
        if self._action is None or now_s < self._due_s:
            return None
        self._due_s = now_s + REPEAT_EVERY_S
        return self._action

    def wait_s(self, now_s: float, longest_s: float) -> float:
        """How long to sleep at most."""
        return longest_s if self._action is None else min(longest_s, max(0.001, self._due_s - now_s))


class WornSwitch:
    """Knows a press that a worn pedal or remote sends more than once, also for as long as a foot rests on it.

    Twice over it would tick off what is not done, or light up again what was made dark.
    """

    def __init__(self) -> None:
        self._key: int | None = None
        self._at_s = 0.0

    def bounces(self, event: pygame.event.Event, action: Action | None, now_s: float) -> bool:
        """Whether the event is the press of before again, and asks for what should be asked for once."""
        if event.type != pygame.KEYDOWN or event.key != self._key or now_s - self._at_s >= BOUNCES_S:
            return False
        return isinstance(action, Blank | Freeze) or (
            isinstance(action, Next | Back) and event.key in PAGE_KEYS
        )

    def see(self, event: pygame.event.Event, now_s: float) -> None:
        """Note a press, once it is done."""
        if event.type == pygame.KEYDOWN:
            self._key, self._at_s = event.key, now_s

    def looked_away(self, now_s: float) -> None:
        """What was pressed meanwhile may have come at once: it counts from now."""
        self._at_s = now_s


class KeysBack:
    """Knows a key that was down already when the keys came back to the window: it was pressed in another.

    A foot may rest on a pedal while another window comes and goes; its repeats would be told as a press. What is
    pressed as a new window opens is meant for it, though it may be down before the window hears that it has the keys.
    """

    def __init__(self, keys_down: Callable[[], int]) -> None:
        self._keys_down = keys_down
        self._elsewhere = keys_down()
        self._held = 0

    def pressed_elsewhere(self, event: pygame.event.Event) -> bool:
        """Whether the event is a press while such a key is still down."""
        if event.type != pygame.KEYDOWN or not self._held:
            return False
        self._held &= self._keys_down()
        return self._held != 0

    def see(self, event: pygame.event.Event) -> None:
        """Note which keys are down when they come back, and that one is let go of."""
        if event.type == pygame.WINDOWFOCUSGAINED:
            self._held = self._keys_down() & self._elsewhere
        elif event.type == pygame.WINDOWFOCUSLOST:
            self._elsewhere = _ANY_KEY
        elif event.type == pygame.KEYUP:
            self._held = 0


def _from_button(event: pygame.event.Event, bindings: tuple[Binding, ...]) -> Action | None:
    down = event.type == pygame.MOUSEBUTTONDOWN
    named = action_of(bindings, (BUTTONS if down else LET_GO).get(event.button, ""), shift=False)
    return Grab() if named is None and down and event.button == LEFT_BUTTON else named


def _from_key(event: pygame.event.Event, bindings: tuple[Binding, ...]) -> Action | None:
    typed = typed_by(bindings, event.unicode)
    if typed is not None:
        return typed
    name = KEYPAD.get(event.key) or pygame.key.name(event.key)
    # What the key types comes first for signs: "?" and "." move about between keyboards.
    signs = (event.unicode, name) if event.unicode and not event.unicode.isalnum() else (name,)
    for sign in signs:
        action = action_of(bindings, sign, shift=bool(event.mod & pygame.KMOD_SHIFT))
        if action is not None:
            return action
    return None
