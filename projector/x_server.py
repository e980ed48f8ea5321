"""The X server asked itself, over a connection of our own, for what the window library does not tell."""

import ctypes
from functools import cache
from typing import Final

import pygame

DISPLAY: Final = ctypes.c_void_p
ID: Final = ctypes.c_ulong
KEYMAP_BYTES: Final = 32


def x_display() -> int | None:
    """The connection; None where the window is not on an X server, or the library or the server is not there."""
    return _connected() if pygame.display.get_driver() == "x11" else None


@cache
def x11() -> ctypes.CDLL:
    """The library; OSError where it is not there."""
    library = ctypes.CDLL("libX11.so.6")
    library.XOpenDisplay.argtypes, library.XOpenDisplay.restype = [ctypes.c_char_p], DISPLAY
    library.XDefaultRootWindow.argtypes, library.XDefaultRootWindow.restype = [DISPLAY], ID
    library.XQueryKeymap.argtypes = [DISPLAY, ctypes.c_char_p]
    return library


def keys_down() -> int:
    """The keys that are down now, whichever window they go to, a bit each; 0 where it cannot be told."""
    display = x_display()
    if display is None:
        return 0
    keymap = ctypes.create_string_buffer(KEYMAP_BYTES)
    x11().XQueryKeymap(display, keymap)
    return int.from_bytes(keymap.raw, "little")


@cache
def _connected() -> int | None:
    try:
        return x11().XOpenDisplay(None) or None
    except OSError:
        return None
