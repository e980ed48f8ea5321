"""The name that a display gives itself. SDL knows it (SDL_GetDisplayName); pygame does not pass it on."""

import ctypes
import ctypes.util
import sys
from pathlib import Path

import pygame


def name_in_sdl(number: int) -> str:
    """The name of one display, once SDL has been started; empty where it cannot be told."""
    path = _sdl_path()
    if path is None:
        return ""
    name_of = ctypes.CDLL(path).SDL_GetDisplayName
    name_of.argtypes, name_of.restype = [ctypes.c_int], ctypes.c_char_p
    name: bytes | None = name_of(number)
    return name.decode("utf-8", "replace").strip() if name else ""


def _sdl_path() -> str | None:
    """The very library that pygame has loaded: beside it in its wheel, or else the system's."""
    package = Path(pygame.__file__).parent
    places = {
        "win32": (package, "SDL2.dll"),
        "darwin": (package / ".dylibs", "libSDL2-2*.dylib"),
    }
    folder, name = places.get(sys.platform, (package.parent / "pygame.libs", "libSDL2-2*.so*"))
    found = sorted(folder.glob(name))
    return str(found[0]) if found else ctypes.util.find_library("SDL2-2.0")
