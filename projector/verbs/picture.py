"""`check --forecast` and `check --picture`: how true the light is, on the table and as a picture to keep."""

from argparse import Namespace

from calibration.table_file import load_alignment
from projector.alignment_picture import write_alignment_picture
from projector.session import Session
from projector.stations.forecast import ForecastStation


def show_forecast(arguments: Namespace) -> int:
    """The forecast as light, until the person leaves; the exit code."""
    from projector.window import InWindow, OnDisplay, run

    alignment = load_alignment(arguments.table)
    where = (
        OnDisplay(number=arguments.display)
        if arguments.window is None
        else InWindow(size_px=arguments.window)
    )
    session = Session(ForecastStation.begun(alignment), preview=arguments.window is not None)
    run(session, where, alignment.map.screen_px, lambda _: None)
    return 0


def write_forecast(arguments: Namespace) -> int:
    """The forecast and the sheets as a PNG file; the exit code."""
    alignment = load_alignment(arguments.table)
    write_alignment_picture(arguments.picture, alignment)
    print(
        f"{arguments.picture}: how true the light of {arguments.table} is where; how far each mark was off is "
        "shown by align --picture"
    )
    return 0
