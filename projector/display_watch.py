"""Which part of the desktop each display shows, asked anew of the X server: SDL does not hear there of a change.

Elsewhere SDL itself moves or resizes the window when its display changes, which is seen by the window.
"""

import ctypes
from dataclasses import dataclass
from functools import cache
from typing import Final

import pygame

Rectangle = tuple[int, int, int, int]  # left, top, width, height in desktop pixels

_DISPLAY: Final = ctypes.c_void_p
_ID: Final = ctypes.c_ulong


class _Monitor(ctypes.Structure):
    """XRRMonitorInfo of the X Resize and Rotate Extension, version 1.5."""

    _fields_ = (
        ("name", _ID),
        ("primary", ctypes.c_int),
        ("automatic", ctypes.c_int),
        ("outputs_count", ctypes.c_int),
        ("x", ctypes.c_int),
        ("y", ctypes.c_int),
        ("width", ctypes.c_int),
        ("height", ctypes.c_int),
        ("width_mm", ctypes.c_int),
        ("height_mm", ctypes.c_int),
        ("outputs", ctypes.POINTER(_ID)),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowPlace:
    """A window's size, where it is on the desktop, and what part of that its display shows, as far as is known."""

    size_px: tuple[int, int]
    at_px: tuple[int, int] | None = None
    shown: Rectangle | None = None

    def since(self, before: "WindowPlace") -> str:
        """What has happened, in words."""
        if before.shown is not None and self.shown is None and self.at_px == before.at_px:
            return "was switched off or unplugged"
        sizes = [(place.size_px, place.shown[2:] if place.shown else ()) for place in (before, self)]
        for was, now in zip(*sizes, strict=True):
            if was != now:
                return f"changed from {'x'.join(map(str, was))} to {'x'.join(map(str, now))}"
        return "moved"


def shown_by(left: int, top: int) -> Rectangle | None:
    """What the display shows that has that desktop pixel; None where there is none, or where it cannot be told."""
    for x, y, width, height in _rectangles():
        if x <= left < x + width and y <= top < y + height:
            return (x, y, width, height)
    return None


def _rectangles() -> list[Rectangle]:
    """What each display shows; none where the X server is not to be asked."""
    if pygame.display.get_driver() != "x11" or not _connected():
        return []
    count = ctypes.c_int()
    found = _randr().XRRGetMonitors(_connected(), _root(), 1, ctypes.byref(count))
    if not found:
        return []
    rectangles = [
        (one.x, one.y, one.width, one.height) for one in (found[number] for number in range(count.value))
    ]
    _randr().XRRFreeMonitors(found)
    return rectangles


@cache
def _connected() -> int | None:
    """A connection of our own to the X server, or None where the libraries or the server are not there."""
    try:
        _randr()
        return _x11().XOpenDisplay(None) or None
    except OSError:
        return None


@cache
def _root() -> int:
    root: int = _x11().XDefaultRootWindow(_connected())
    return root


@cache
def _x11() -> ctypes.CDLL:
    library = ctypes.CDLL("libX11.so.6")
    library.XOpenDisplay.argtypes, library.XOpenDisplay.restype = [ctypes.c_char_p], _DISPLAY
    library.XDefaultRootWindow.argtypes, library.XDefaultRootWindow.restype = [_DISPLAY], _ID
    return library


@cache
def _randr() -> ctypes.CDLL:
    library = ctypes.CDLL("libXrandr.so.2")
    library.XRRGetMonitors.argtypes = [_DISPLAY, _ID, ctypes.c_int, ctypes.POINTER(ctypes.c_int)]
    library.XRRGetMonitors.restype = ctypes.POINTER(_Monitor)
    library.XRRFreeMonitors.argtypes = [ctypes.POINTER(_Monitor)]
    library.XRRFreeMonitors.restype = None
    return library
