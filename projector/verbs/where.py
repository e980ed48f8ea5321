"""Where the light goes: the display or window that was asked for, and its pixels."""

from argparse import Namespace

from calibration.table.setups import Setup, sized
from calibration.table.table_file import load_table
from projector.errors import ProjectorError
from projector.window import InWindow, OnDisplay, OpenWindow, Where, display_name, display_size


def where_asked(arguments: Namespace) -> Where:
    """The display, or the window; the one that is open already where the whole job has one."""
    window: OpenWindow | None = vars(arguments).get("open_window")
    if window is not None:
        return window
    if arguments.window is not None:
        return InWindow(size_px=arguments.window)
    return OnDisplay(number=arguments.display)


def screen_asked(arguments: Namespace) -> tuple[int, int]:
    """Width and height in pixels of what was asked for; ProjectorError when that display is not there."""
    if arguments.window is not None:
        width, height = arguments.window
        return width, height
    return display_size(arguments.display)


def screen_name_asked(arguments: Namespace) -> str:
    """What the display that was asked for calls itself; empty for a window, or where it cannot be told."""
    return "" if arguments.window is not None else display_name(arguments.display)


def setup_on_screen(arguments: Namespace) -> Setup:
    """The set-up that was named, or else the screen's; AlignmentError where none or several are meant."""
    table = load_table(arguments.table)
    return table.setup(arguments.setup, screen_asked(arguments), screen_name_asked(arguments))


def screen_to_align(arguments: Namespace) -> tuple[int, int]:
    """The same where `--screen` may say it beforehand; ProjectorError when it says something else."""
    size = screen_asked(arguments)
    if arguments.screen is not None and arguments.screen != size:
        raise ProjectorError(
            f"--screen is {sized(arguments.screen)}, but the display is {sized(size)}; "
            "leave --screen out, or set the display to it"
        )
    return size
