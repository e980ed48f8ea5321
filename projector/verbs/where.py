"""Where the light goes: the display or window that was asked for, and its pixels."""

from argparse import Namespace

from calibration.setups import sized
from projector.errors import ProjectorError
from projector.window import InWindow, OnDisplay, Where, display_size


def where_asked(arguments: Namespace) -> Where:
    """The display, or the window."""
    if arguments.window is not None:
        return InWindow(size_px=arguments.window)
    return OnDisplay(number=arguments.display)


def screen_asked(arguments: Namespace) -> tuple[int, int]:
    """Width and height in pixels of what was asked for; ProjectorError when that display is not there."""
    if arguments.window is not None:
        width, height = arguments.window
        return width, height
    return display_size(arguments.display)


def screen_to_align(arguments: Namespace) -> tuple[int, int]:
    """The same where `--screen` may say it beforehand; ProjectorError when it says something else."""
    size = screen_asked(arguments)
    if arguments.screen is not None and arguments.screen != size:
        raise ProjectorError(
            f"--screen is {sized(arguments.screen)}, but the display is {sized(size)}; "
            "leave --screen out, or set the display to it"
        )
    return size
