"""Key and mouse events to actions."""

import pygame

from projector.actions import Action, Drag, Grab, Quit
from projector.bindings import Binding, action_of

LEFT_BUTTON = 1
KEYPAD = {pygame.K_KP_ENTER: "enter", pygame.K_KP_PERIOD: "."}


def action_from(event: pygame.event.Event, bindings: tuple[Binding, ...]) -> Action | None:
    """What the event asks for; None if nothing."""
    if event.type == pygame.QUIT:
        return Quit()
    if event.type == pygame.KEYDOWN:
        return _from_key(event, bindings)
    if event.type == pygame.MOUSEBUTTONDOWN and event.button == LEFT_BUTTON:
        return Grab()
    if event.type == pygame.MOUSEMOTION and event.buttons[0]:
        x, y = event.pos
        across, down = event.rel
        return Drag(from_px=(x - across, y - down), to_px=(x, y))
    return None


def _from_key(event: pygame.event.Event, bindings: tuple[Binding, ...]) -> Action | None:
    name = KEYPAD.get(event.key) or pygame.key.name(event.key)
    # What the key types comes first for signs: "?" and "." move about between keyboards.
    signs = (event.unicode, name) if event.unicode and not event.unicode.isalnum() else (name,)
    for sign in signs:
        action = action_of(bindings, sign, shift=bool(event.mod & pygame.KMOD_SHIFT))
        if action is not None:
            return action
    return None
