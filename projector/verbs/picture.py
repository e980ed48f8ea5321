"""`check --forecast` and `check --picture`: how true the light is, on the table and as a picture to keep."""

from argparse import Namespace
from datetime import datetime

from calibration.table_file import load_table
from projector.alignment_picture import Known, write_alignment_picture
from projector.session import Session
from projector.stations.forecast import ForecastStation


def show_forecast(arguments: Namespace) -> int:
    """The forecast as light, until the person leaves; the exit code."""
    from projector.window import InWindow, OnDisplay, Where, display_sizes, run

    where: Where = OnDisplay(number=arguments.display)
    if arguments.window is None:
        sizes = display_sizes()
        screen_px = sizes[arguments.display] if arguments.display < len(sizes) else None
    else:
        where, screen_px = InWindow(size_px=arguments.window), arguments.window
    setup = load_table(arguments.table).setup(arguments.setup, screen_px)
    alignment = setup.in_force()
    station = ForecastStation.begun(alignment, setup.warnings(datetime.now().astimezone()))
    session = Session(station, preview=arguments.window is not None)
    run(session, where, alignment.map.screen_px, lambda _: None)
    return 0


def write_forecast(arguments: Namespace) -> int:
    """The forecast and the sheets as a PNG file; the exit code."""
    setup = load_table(arguments.table).setup(arguments.setup)
    known = Known(alignment=setup.in_force(), warnings=setup.warnings(datetime.now().astimezone()))
    write_alignment_picture(arguments.picture, known)
    print(f"{arguments.picture}: how true the light is where, by {arguments.table}")
    return 0
