"""The window on the projector: opens it at the display's own pixels, and runs the loop."""

import os
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, Final, cast

# The default surface goes through a texture and uploads the whole frame for the smallest change.
os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")
os.environ.setdefault("SDL_VIDEO_MINIMIZE_ON_FOCUS_LOSS", "0")
os.environ.setdefault("SDL_VIDEO_X11_WMCLASS", "chalkbeam")
os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
if sys.platform == "win32":
    os.environ.setdefault("SDL_WINDOWS_DPI_AWARENESS", "permonitorv2")

import numpy as np
import pygame
from pygame._sdl2.video import Window as SdlWindow

from projector.actions import Quit
from projector.display_name import name_in_sdl
from projector.display_watch import WindowPlace, shown_by
from projector.errors import LightLostError, ProjectorError
from projector.keys import HeldKey, KeysBack, WornSwitch, action_from
from projector.lighting.canvas import Rect, compose, put, tile, whole
from projector.lighting.look import RAMP, WARNING_LIGHT
from projector.lighting.painter import Painter
from projector.session import S, Session, Station
from projector.standing import Standing
from projector.words.messages import message_light
from projector.x_server import keys_down

WAIT_S: Final = 0.5  # asleep between looks at whether the display is still there
WAIT_BESIDE_S: Final = 0.04  # and at what goes on beside the window: a fade in 25 steps a second is smooth
UNSEEN_DRIVERS: Final = ("dummy", "offscreen", "evdev")


@dataclass(frozen=True, slots=True, kw_only=True)
class OnDisplay:
    """All of one display, at its own size."""

    number: int


@dataclass(frozen=True, slots=True, kw_only=True)
class InWindow:
    """A window of so many pixels on the desktop, to look at without a projector."""

    size_px: tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class OpenWindow:
    """A window that is open already, to be handed from one part of the job to the next without going dark.

    `left` has the last station of each kind, as it was left; a press that bounces may reach the next one. The
    person stands where they stood.
    """

    surface: pygame.Surface
    painter: Painter
    watches_place: bool
    back: KeysBack
    left: dict[type, Station] = field(default_factory=dict)
    switch: WornSwitch = field(default_factory=WornSwitch)
    standing: Standing = field(default_factory=Standing)

    def show(
        self, session: Session[S], keep: Callable[[S], None], beside: Callable[[S], S] | None = None
    ) -> None:
        """Show the session until it ends; a station goes on with the undo of its kind, where the person stands."""
        session.remember(self.left.get(type(session.station)))
        session.station = self.standing.turned(session.station)
        _Loop(session, self, keep=self.standing.heeding(keep), beside=beside).run()
        self.left[type(session.station)] = session.station

    def glimpse(self, station: Station) -> None:
        """Show a station while something else is worked out; keys that are pressed wait for what comes."""
        _Loop(Session(station), self, keep=lambda _: None, beside=None).show()


Where = OnDisplay | InWindow | OpenWindow


def display_sizes() -> list[tuple[int, int]]:
    """(width, height) of each display; ProjectorError when there is none to be seen."""
    _start()
    return list(pygame.display.get_desktop_sizes())


def display_size(number: int) -> tuple[int, int]:
    """(width, height) of one display; ProjectorError when it is not there."""
    sizes = display_sizes()
    if number >= len(sizes):
        raise ProjectorError(
            f"found {len(sizes)} display(s), numbered from 0, but --display {number} was asked "
            "for; connect the projector and extend the desktop on to it"
        )
    return sizes[number]


def display_name(number: int) -> str:
    """What one display calls itself, empty where it cannot be told; ProjectorError when none is to be seen."""
    _start()
    return name_in_sdl(number)


def run(
    session: Session[S],
    where: Where,
    screen_px: tuple[int, int],
    keep: Callable[[S], None],
    beside: Callable[[S], S] | None = None,
) -> None:
    """Show the session until it ends; `keep` is called with the station when there is time, and at the end.

    `beside` says between events what has become of the station by work beside the window; it must not wait.
    Raises ProjectorError when the display is missing, of another size than `screen_px`; LightLostError
    when it goes away.
    """
    if isinstance(where, OpenWindow):
        _check_open(where.surface, screen_px)
        where.show(session, keep, beside)
        return
    with opened(where, screen_px) as window:
        window.show(session, keep, beside)


@contextmanager
def opened(where: OnDisplay | InWindow, screen_px: tuple[int, int]) -> Iterator[OpenWindow]:
    """A window for `run` after `run`; ProjectorError when the display is missing or of another size."""
    _start()
    back = KeysBack(keys_down)
    try:
        surface = _open(where, screen_px)
        painter, watches_place = Painter(surface.get_size()), isinstance(where, OnDisplay)
        yield OpenWindow(surface=surface, painter=painter, watches_place=watches_place, back=back)
    finally:
        pygame.display.quit()


def _start() -> None:
    try:
        pygame.display.init()
    except pygame.error as error:
        raise ProjectorError(
            f"found no screen ({error}); start from the desktop, or write a picture with --frame"
        ) from error
    driver = pygame.display.get_driver()
    if driver in UNSEEN_DRIVERS:
        raise ProjectorError(
            f'found only the unseen display "{driver}"; start from the desktop with the libraries a window '
            "needs (on Debian: libx11-6 libxext6 libxrandr2 libxcursor1 libxi6 libxfixes3), or use --frame"
        )


def _open(where: OnDisplay | InWindow, screen_px: tuple[int, int]) -> pygame.Surface:
    wanted = f"{screen_px[0]}x{screen_px[1]}"
    if isinstance(where, InWindow):
        surface = pygame.display.set_mode(where.size_px)
    else:
        size = display_size(where.number)
        if size != screen_px:
            raise ProjectorError(
                f"display {where.number} is {size[0]}x{size[1]}, but the table file is for {wanted}; "
                f"set the display to {wanted}, or align again at {size[0]}x{size[1]}"
            )
        # Without `display` the window would follow the mouse; at another size SDL would switch the mode.
        surface = pygame.display.set_mode(size, pygame.NOFRAME, display=where.number)
        pygame.mouse.set_visible(False)
    if surface.get_size() != screen_px:
        raise ProjectorError(
            f"the window came out at {surface.get_width()}x{surface.get_height()}, but {wanted} is needed; "
            "switch off the desktop's scaling for this display"
        )
    pygame.display.set_caption("Chalkbeam")
    return surface


def _check_open(surface: pygame.Surface, screen_px: tuple[int, int]) -> None:
    if surface.get_size() != screen_px:
        raise ProjectorError(
            f"the light is {surface.get_width()}x{surface.get_height()}, but the table file is for "
            f"{screen_px[0]}x{screen_px[1]}; set the display to that, or align again"
        )


class _Loop:
    """Events in, light out; decides nothing."""

    def __init__(
        self,
        session: Session[S],
        window: OpenWindow,
        *,
        keep: Callable[[S], None],
        beside: Callable[[S], S] | None,
    ) -> None:
        self._session: Session[Any] = session
        self._surface = window.surface
        self._keep = keep
        self._beside = beside
        self._longest_s = WAIT_S if beside is None else WAIT_BESIDE_S
        self._kept: object = None
        self._held = HeldKey()
        self._back = window.back
        self._switch = window.switch
        self._switch.looked_away(time.monotonic())
        self._painter = window.painter
        self._painter.forget()  # what is told apart within a session may be alike in two: the map may be another
        self._colours = _colours(window.surface)
        self._watches_place = window.watches_place
        self._window = SdlWindow.from_display_module()
        self._opened_at = self._place()

    def run(self) -> None:
        while not self._session.finished:
            if self._opened_at != self._place():
                self._lose()
            self.show()
            event = pygame.event.wait(round(1000 * self._held.wait_s(time.monotonic(), self._longest_s)))
            self._take(event)
            self._take_waiting()
            again = self._held.due(time.monotonic())
            if again is not None:
                self._session.take(again)
            elif event.type == pygame.NOEVENT:
                self._keep_changes()
            if self._beside is not None:
                self._session.station = self._beside(self._session.station)
        self._keep_changes()

    def _take_waiting(self) -> None:
        """All that has been asked for meanwhile; what comes after the session's end is for the next one."""
        while not self._session.finished:
            event = pygame.event.poll()
            if event.type == pygame.NOEVENT:
                return
            self._take(event)

    def _take(self, event: pygame.event.Event) -> None:
        if event.type == pygame.WINDOWEXPOSED:
            pygame.display.update()
        if event.type in (pygame.WINDOWFOCUSLOST, pygame.WINDOWFOCUSGAINED):
            self._session.unheard = event.type == pygame.WINDOWFOCUSLOST
        self._back.see(event)
        action = action_from(event, self._session.station.bindings)
        if self._switch.bounces(event, action, time.monotonic()) or self._back.pressed_elsewhere(event):
            action = None
        if action is not None and not self._session.finished:
            self._session.take(action)
        now_s = time.monotonic()  # after what may have taken long: no step is repeated for it
        self._held.see(event, action, now_s)
        self._switch.see(event, now_s)

    def show(self) -> None:
        """Paint what has changed."""
        changed = self._painter.repaint(self._session.scene())
        for rect, light in changed:
            self._paint(rect, light)
        if changed:
            pygame.display.update([_area(rect) for rect, _ in changed])

    def _paint(self, rect: Rect, light: "np.ndarray[Any, np.dtype[np.uint8]]") -> None:
        width, height = self._surface.get_size()
        row = self._surface.get_pitch() // 4
        pixels = np.frombuffer(memoryview(self._surface.get_buffer()), dtype=np.uint32)  # type: ignore[arg-type]
        pixels = pixels.reshape(height, row)[:, :width]
        put(pixels, rect, light, self._colours)

    def _keep_changes(self) -> None:
        if self._session.station is not self._kept:
            self._kept = self._session.station
            self._keep(self._session.station)

    def _place(self) -> WindowPlace:
        size_px = cast(tuple[int, int], self._window.size)
        if not self._watches_place:
            return WindowPlace(size_px=size_px)
        x, y = cast(tuple[int, int], self._window.position)
        return WindowPlace(size_px=size_px, at_px=(x, y), shown=shown_by(x, y))

    def _lose(self) -> None:
        """A wrong map must never draw a cut line: dark, with the reason, until the person leaves."""
        self._keep_changes()
        reason = (
            f"the projector's display {self._place().since(self._opened_at)} while it was in use, so the light "
            "would fall in the wrong place; put it back and start again, or align again (q leaves)"
        )
        surface = pygame.display.get_surface()
        if surface is not None:
            self._surface = surface
            self._colours = _colours(surface)
            screen = whole(surface.get_size())
            words = tile(message_light(reason, surface.get_size(), WARNING_LIGHT), surface.get_size())
            self._paint(screen, compose([words], screen))
            pygame.display.update()
        while not self._session.finished:
            for event in (pygame.event.wait(round(1000 * WAIT_S)), *pygame.event.get()):
                action = action_from(event, self._session.station.bindings)
                if isinstance(action, Quit):
                    self._session.take(action)
        raise LightLostError(reason)


def _colours(surface: pygame.Surface) -> "np.ndarray[Any, np.dtype[np.uint32]]":
    """(256,) pixel values of the surface for each level of light."""
    red, green, blue, _ = surface.get_shifts()
    ramp = RAMP.astype(np.uint32)
    packed: np.ndarray[Any, np.dtype[np.uint32]] = np.bitwise_or.reduce(
        ramp << np.array([red, green, blue], np.uint32), axis=1
    )
    return packed


def _area(rect: Rect) -> pygame.Rect:
    return pygame.Rect(rect.left, rect.top, rect.right - rect.left, rect.bottom - rect.top)
