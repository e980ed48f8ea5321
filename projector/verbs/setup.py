"""The set-up of a table file that a verb lights the table by."""

from argparse import Namespace

from calibration.table.saved import Alignment
from calibration.table.setups import Setup
from calibration.table.table_file import load_table
from projector.arguments import LEAST_PX, MOST_PX
from projector.errors import ProjectorError


def setup_asked(arguments: Namespace) -> Setup:
    """The set-up that was named, or else the screen's. Of one there is no choice: whether it fits is told later."""
    table = load_table(arguments.table)
    if arguments.setup is not None or len(table.setups) == 1:
        return table.setup(arguments.setup)
    from projector.verbs.where import setup_on_screen  # opens a display, which a frame needs none of

    return setup_on_screen(arguments)


def setup_to_show(arguments: Namespace) -> Setup:
    """The same; but a frame has no screen of its own, and its set-up is the file's only one."""
    if arguments.setup is None and arguments.window is None and arguments.frame is not None:
        return load_table(arguments.table).setup()
    return setup_asked(arguments)


def check_size(size_px: tuple[int, int] | None, alignment: Alignment, what: str) -> None:
    """ProjectorError unless the size, if one was asked for, is the alignment's, and that one a screen's."""
    width, height = alignment.map.screen_px
    if not (LEAST_PX[0] <= width <= MOST_PX and LEAST_PX[1] <= height <= MOST_PX):
        raise ProjectorError(
            f"the table file is for a screen of {width}x{height}, which there is not; align again"
        )
    if size_px is not None and size_px != (width, height):
        raise ProjectorError(
            f"{what} is {size_px[0]}x{size_px[1]}, but the table file is for {width}x{height}; "
            f"use {width}x{height}, or align again at {size_px[0]}x{size_px[1]}"
        )
