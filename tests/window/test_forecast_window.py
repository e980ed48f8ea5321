"""How true the light is, shown in a real window by the real command and real keys."""

from datetime import datetime
from pathlib import Path

import numpy as np
import pytest
from shapely import Polygon

from calibration.table.saved import Alignment
from calibration.table.table_file import load_table, save_alignment
from projector.actions import Action, Blank, ChangeSide, Help
from projector.lighting.canvas import frame
from projector.pictures.forecast_areas import GRADES
from projector.pictures.forecast_light import label_box, words_in
from projector.session import Session
from projector.stations.forecast import ForecastStation
from projector.verbs.picture import forecast_frame
from tests.unit.projector.forecasts import a_graded_alignment
from tests.unit.projector.samples import SCREEN_PX
from tests.window.desk import Desk, Pixels
from tests.window.pictures import wait_for_picture


@pytest.fixture
def graded() -> Alignment:
    return a_graded_alignment(turn_deg=2.0)


@pytest.fixture
def graded_table(tmp_path: Path, graded: Alignment) -> Path:
    path = tmp_path / "table.yaml"
    save_alignment(path, graded)
    return path


def a_session(table: Path) -> Session[ForecastStation]:
    setup = load_table(table).setup()
    return Session(ForecastStation.begun(setup.in_force(), setup.warnings(datetime.now().astimezone())))


def expected(session: Session[ForecastStation], *actions: Action) -> Pixels:
    for action in actions:
        session.take(action)
    return frame((layer.draw() for layer in session.scene()), SCREEN_PX)


def test_the_forecast_shows_with_its_words_and_the_keys_work(
    desk: Desk, graded_table: Path, graded: Alignment
) -> None:
    session = a_session(graded_table)
    with desk.program("check", "--table", graded_table, "--forecast") as program:
        program.focus()
        shown = wait_for_picture(desk, expected(session), "forecast")
        check_words(shown, session.station)
        desk.keys("t")
        turned = wait_for_picture(desk, expected(session, ChangeSide()), "forecast from the right side")
        assert not np.array_equal(turned, shown)
        desk.keys("h")
        wait_for_picture(desk, expected(session, Help()), "keys")
        desk.keys("h", "space")
        wait_for_picture(desk, expected(session, Help(), Blank()), "dark")
        desk.pedal("space", "t", "t", "t")
        back = expected(session, Blank(), ChangeSide(), ChangeSide(), ChangeSide())
        assert np.array_equal(back, shown)
        wait_for_picture(desk, back, "forecast again")
        warned = np.flatnonzero((shown != forecast_frame(graded)).any(axis=(1, 2)))
        assert warned.min() > SCREEN_PX[1] * 0.8, "only the strip's words differ, by their warnings"
        desk.keys("q")
        assert program.end() == (0, "", "")


def check_words(shown: Pixels, station: ForecastStation) -> None:
    """The words of the two best grades, in the middle of the table, are lit where they belong."""
    bright = shown.max(axis=2) > 150
    for grade in GRADES[:2]:
        (area,) = [area for area in station.areas if area.grade == grade]
        (label,) = words_in(area, station.person, Polygon())
        corners = station.lit.projector_map.screen_from_table(np.array(label_box(label).exterior.coords))
        left, top = np.floor(corners.min(axis=0)).astype(int)
        right, bottom = np.ceil(corners.max(axis=0)).astype(int)
        assert bright[top:bottom, left:right].mean() > 0.05, f"no words: {label.text}"
