"""The virtual display's one output, switched off or to another size as a desktop does, by libXrandr."""

import ctypes
from typing import Final

_ID: Final = ctypes.c_ulong
_DISPLAY: Final = ctypes.c_void_p
ROTATE_0: Final = 1


class _Mode(ctypes.Structure):
    """XRRModeInfo."""

    _fields_ = (
        ("id", _ID),
        ("width", ctypes.c_uint),
        ("height", ctypes.c_uint),
        ("dot_clock", _ID),
        *((name, ctypes.c_uint) for name in ("h_start", "h_end", "h_total", "h_skew")),
        *((name, ctypes.c_uint) for name in ("v_start", "v_end", "v_total")),
        ("name", ctypes.c_char_p),
        ("name_length", ctypes.c_uint),
        ("flags", _ID),
    )


class _Resources(ctypes.Structure):
    """XRRScreenResources."""

    _fields_ = (
        ("timestamp", _ID),
        ("config_timestamp", _ID),
        ("crtc_count", ctypes.c_int),
        ("crtcs", ctypes.POINTER(_ID)),
        ("output_count", ctypes.c_int),
        ("outputs", ctypes.POINTER(_ID)),
        ("mode_count", ctypes.c_int),
        ("modes", ctypes.POINTER(_Mode)),
    )


def set_output(display: str, size_px: tuple[int, int] | None) -> None:
    """Switch the output to a mode of so many pixels, or off."""
    x11, randr = ctypes.CDLL("libX11.so.6"), ctypes.CDLL("libXrandr.so.2")
    x11.XOpenDisplay.restype = _DISPLAY
    x11.XDefaultRootWindow.argtypes, x11.XDefaultRootWindow.restype = [_DISPLAY], _ID
    x11.XCloseDisplay.argtypes = [_DISPLAY]
    randr.XRRGetScreenResources.argtypes = [_DISPLAY, _ID]
    randr.XRRGetScreenResources.restype = ctypes.POINTER(_Resources)
    randr.XRRSetCrtcConfig.argtypes = [
        _DISPLAY, ctypes.POINTER(_Resources), _ID, _ID, ctypes.c_int, ctypes.c_int, _ID, ctypes.c_ushort,
        ctypes.POINTER(_ID), ctypes.c_int,
    ]  # fmt: skip
    randr.XRRCreateMode.argtypes, randr.XRRCreateMode.restype = [_DISPLAY, _ID, ctypes.POINTER(_Mode)], _ID
    randr.XRRAddOutputMode.argtypes = [_DISPLAY, _ID, _ID]
    connection = x11.XOpenDisplay(display.encode())
    root = x11.XDefaultRootWindow(connection)
    found = randr.XRRGetScreenResources(connection, root)
    crtc, outputs = found.contents.crtcs[0], (_ID * 1)(found.contents.outputs[0])
    assert randr.XRRSetCrtcConfig(connection, found, crtc, 0, 0, 0, 0, ROTATE_0, None, 0) == 0
    if size_px is not None:
        mode = randr.XRRCreateMode(connection, root, ctypes.byref(_mode(*size_px)))
        randr.XRRAddOutputMode(connection, outputs[0], mode)
        found = randr.XRRGetScreenResources(connection, root)
        assert randr.XRRSetCrtcConfig(connection, found, crtc, 0, 0, 0, mode, ROTATE_0, outputs, 1) == 0
    x11.XCloseDisplay(connection)


def _mode(width: int, height: int) -> _Mode:
    name = f"{width}x{height}".encode()
    return _Mode(
        width=width,
        height=height,
        dot_clock=60 * width * height,
        h_start=width,
        h_end=width,
        h_total=width,
        v_start=height,
        v_end=height,
        v_total=height,
        name=name,
        name_length=len(name),
    )
