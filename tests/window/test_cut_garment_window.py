"""A whole garment cut in a real window, by real keys and the mouse, also after the process was killed."""

import time
from pathlib import Path

import numpy as np

from calibration.table.saved import Alignment
from projector.actions import Action, Back, Freeze, Mirror, Move, Next, Open, Show, Turn, Untick
from projector.cutting.steps import steps_of
from projector.places import places_path, read_work
from projector.session import Session
from projector.stations.cut import CutStation
from tests.unit.projector.samples import SCREEN_PX
from tests.window.cutting import DRAFTED, PATTERN, a_session, check_cut_line, dragged, expected
from tests.window.desk import PEDAL_S, Desk
from tests.window.pictures import wait_for_picture


def test_a_whole_garment_is_cut_by_page_keys_alone(desk: Desk, table: Path, alignment: Alignment) -> None:
    session = a_session(alignment)
    black = np.zeros((SCREEN_PX[1], SCREEN_PX[0], 3), np.uint8)
    done = [f"{piece.name}: {step.name}" for piece in DRAFTED.pieces.values() for step in steps_of(piece)]
    with desk.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        shown = wait_for_picture(desk, expected(session), "start")
        for _ in DRAFTED.pieces:
            check_cut_line(shown, alignment, session)
            desk.pedal("Next")
            shown = wait_for_picture(desk, expected(session, Next()), "laid out")
        assert session.frozen
        for step in done:
            now = session.station.step
            assert now is not None
            assert f"{session.station.piece.name}: {now.name}" == step
            check_cut_line(shown, alignment, session)
            desk.pedal("b")
            wait_for_picture(desk, black, f"dark before {step}")
            desk.pedal("b", "Next")
            shown = wait_for_picture(desk, expected(session, Next()), f"after {step}")
        assert session.station.step is None
        desk.pedal("Prior", "Prior", "Prior")
        seen = wait_for_picture(
            desk, expected(session, Back(), Back(), Back()), "the front again, as it stood"
        )
        check_cut_line(seen, alignment, session)
        desk.keys("q")
        assert program.end() == (0, "", "")
    kept = read_work(places_path(table), alignment.name, DRAFTED.name)
    assert kept is not None
    assert [f"{copy.piece}: {step}" for copy in kept.copies for step in copy.ticked] == done


def test_a_whole_garment_is_laid_and_cut_by_mouse_and_keyboard(
    desk: Desk, table: Path, alignment: Alignment
) -> None:
    session = a_session(alignment)
    ways: tuple[tuple[str, Action], ...] = (
        ("m", Mirror()),
        ("r", Turn(anticlockwise=-1)),
        ("o", Open()),
        ("shift+l", Turn(anticlockwise=1, other_step=True)),
    )
    with desk.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        shown = wait_for_picture(desk, expected(session), "start")
        for number, (key, way) in enumerate(ways, start=1):
            desk.keys(str(number), key)
            before = wait_for_picture(desk, expected(session, Show(number=number), way), f"turned {number}")
            start, end = (700 + 20 * number, 500), (700 + 55 * number, 488)
            desk.drag(start, end)
            shown = wait_for_picture(desk, expected(session, *dragged(start, end)), f"dragged {number}")
            assert not np.array_equal(shown, before)
            check_cut_line(shown, alignment, session)
        desk.keys("u")
        wait_for_picture(desk, before, "the whole drag undone")
        desk.keys("y", "f")
        shown = wait_for_picture(desk, expected(session, Freeze()), "frozen")
        for number in (4, 2, 3, 1):
            desk.keys(str(number))
            shown = wait_for_picture(desk, expected(session, Show(number=number)), f"frozen {number}")
            check_cut_line(shown, alignment, session)
            for step in steps_of(session.station.piece):
                desk.pedal("Next")
                shown = wait_for_picture(desk, expected(session, Next()), f"{number}: {step.name}")
        desk.keys("x")
        wait_for_picture(desk, expected(session, Untick()), "one step not done after all")
        desk.keys("Next")
        wait_for_picture(desk, shown, "all cut")


def test_a_pedal_that_bounces_or_is_stood_on_ticks_off_one_step_and_dark_stays_dark(
    desk: Desk, table: Path, alignment: Alignment
) -> None:
    session = a_session(alignment)
    with desk.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        wait_for_picture(desk, expected(session), "start")
        desk.pedal("f")
        wait_for_picture(desk, expected(session, Freeze()), "frozen")
        desk.xdotool("key", "--delay", "90", *["Next"] * 5)
        wait_for_picture(desk, expected(session, Next()), "one step done")
        time.sleep(PEDAL_S)
        desk.xdotool("keydown", "Next", "sleep", "1.2", "keyup", "Next")
        wait_for_picture(desk, expected(session, Next()), "one more")
        desk.xdotool("key", "--delay", "90", "b", "b")
        time.sleep(PEDAL_S)
        assert not desk.pixels().any()
        desk.pedal("q")
        assert program.end() == (0, "", "")
    kept = read_work(places_path(table), alignment.name, DRAFTED.name)
    assert kept == session.station.work


def test_killed_while_cutting_it_asks_and_comes_back_to_what_was_shown(
    desk: Desk, table: Path, alignment: Alignment
) -> None:
    session = a_session(alignment)
    with desk.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        wait_for_picture(desk, expected(session), "start")
        desk.pedal("Right", "f", "Next", "Next")
        wait_for_picture(desk, expected(session, Move(right=1), Freeze(), Next(), Next()), "two steps done")
        program.process.kill()
    left = session.station
    session = Session(CutStation.begun(a_session(alignment).station.ground).resumed(left.work))
    with desk.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        asked = wait_for_picture(desk, expected(session), "whether the cloth has moved")
        desk.keys("Right", "Home")
        assert np.array_equal(desk.pixels(), asked)
        desk.keys("Next")
        shown = wait_for_picture(desk, expected(session, Next()), "where it stood")
        check_cut_line(shown, alignment, session)
        assert session.station.work == left.work
