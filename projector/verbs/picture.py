"""`check --forecast` and `check --picture`: how true the light is, on the table and as a picture to keep."""

from argparse import Namespace
from datetime import datetime

from calibration.table.saved import Alignment
from calibration.table.table_file import load_table
from projector.lighting.canvas import Rgb, frame
from projector.pictures.alignment_picture import Known, write_alignment_picture
from projector.scene import Controls
from projector.session import Session
from projector.stations.forecast import ForecastStation


def show_forecast(arguments: Namespace) -> int:
    """The forecast as light, until the person leaves; the exit code."""
    from projector.verbs.where import setup_on_screen, where_asked
    from projector.window import run

    setup = setup_on_screen(arguments)
    station = ForecastStation.begun(setup.in_force(), setup.warnings(datetime.now().astimezone()))
    session = Session(station, preview=arguments.window is not None)
    run(session, where_asked(arguments), setup.screen_px, lambda _: None)
    return 0


def forecast_frame(alignment: Alignment) -> Rgb:
    """What the projector shows of an alignment's forecast, (h, w, 3) red, green, blue."""
    scene = ForecastStation.begun(alignment).scene(Controls())
    return frame((layer.draw() for layer in scene), alignment.map.screen_px)


def write_forecast(arguments: Namespace) -> int:
    """The forecast and the sheets as a PNG file; the exit code."""
    setup = load_table(arguments.table).setup(arguments.setup)
    known = Known(alignment=setup.in_force(), warnings=setup.warnings(datetime.now().astimezone()))
    write_alignment_picture(arguments.picture, known)
    print(f"{arguments.picture}: how true the light is where, by {arguments.table}")
    return 0
