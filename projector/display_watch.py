"""Which part of the desktop each display shows, asked anew of the X server: SDL does not hear there of a change.

Elsewhere SDL itself moves or resizes the window when its display changes, which is seen by the window.
"""

import ctypes
from dataclasses import dataclass
from functools import cache

from projector.x_server import DISPLAY, ID, x11, x_display

Rectangle = tuple[int, int, int, int]  # left, top, width, height in desktop pixels


class _Monitor(ctypes.Structure):
    """XRRMonitorInfo of the X Resize and Rotate Extension, version 1.5."""

    _fields_ = (
        ("name", ID),
        ("primary", ctypes.c_int),
        ("automatic", ctypes.c_int),
        ("outputs_count", ctypes.c_int),
        ("x", ctypes.c_int),
        ("y", ctypes.c_int),
        ("width", ctypes.c_int),
        ("height", ctypes.c_int),
        ("width_mm", ctypes.c_int),
        ("height_mm", ctypes.c_int),
        ("outputs", ctypes.POINTER(ID)),
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
    display, randr = x_display(), _randr()
    if display is None or randr is None:
        return []
    count = ctypes.c_int()
    found = randr.XRRGetMonitors(display, x11().XDefaultRootWindow(display), 1, ctypes.byref(count))
    if not found:
        return []
    rectangles = [
        (one.x, one.y, one.width, one.height) for one in (found[number] for number in range(count.value))
    ]
    randr.XRRFreeMonitors(found)
    return rectangles


@cache
def _randr() -> ctypes.CDLL | None:
    try:
        library = ctypes.CDLL("libXrandr.so.2")
    except OSError:
        return None
    library.XRRGetMonitors.argtypes = [DISPLAY, ID, ctypes.c_int, ctypes.POINTER(ctypes.c_int)]
    library.XRRGetMonitors.restype = ctypes.POINTER(_Monitor)
    library.XRRFreeMonitors.argtypes = [ctypes.POINTER(_Monitor)]
    library.XRRFreeMonitors.restype = None
    return library
