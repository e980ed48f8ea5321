"""Cutting in a real window, driven by real keys, read back pixel by pixel."""

from pathlib import Path

import cv2
import numpy as np
import pytest

from calibration.table.saved import Alignment
from projector.actions import Action, ChangeTool, Flip, Freeze, Help, Home, Mirror, Move, Open, Turn
from projector.places import places_path, read_work
from tests.unit.projector.samples import SCREEN_PX
from tests.window.cutting import DRAFTED, PATTERN, a_session, cut_line_error_px, expected
from tests.window.desk import Desk
from tests.window.pictures import stray_px, wait_for_picture


def test_the_cut_line_falls_where_the_map_says_before_and_after_keys(
    desk: Desk, table: Path, alignment: Alignment
) -> None:
    session = a_session(alignment)
    with desk.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        shown = wait_for_picture(desk, expected(session), "start")
        errors = [cut_line_error_px(shown, alignment, "front", session)]
        desk.keys("Left", "Left", "Up", "r", "r", "shift+r", "o")
        moves = (Move(right=-1), Move(right=-1), Move(away=1))
        turns = (*[Turn(anticlockwise=-1)] * 2, Turn(anticlockwise=-1, other_step=True))
        shown = wait_for_picture(desk, expected(session, *moves, *turns, Open()), "moved")
        errors.append(cut_line_error_px(shown, alignment, "front", session))
        desk.keys("q")
        assert program.end() == (0, "", "")
    for distances in errors:
        assert np.abs(distances).max() < 0.1
        assert abs(distances.mean()) < 0.03


def test_the_measure_of_the_shown_line_can_fail(alignment: Alignment) -> None:
    session = a_session(alignment)
    picture = expected(session)
    shifted = cv2.warpAffine(picture, np.array([[1.0, 0, 0.3], [0, 1.0, 0.3]]), SCREEN_PX).astype(np.uint8)
    assert np.abs(cut_line_error_px(shifted, alignment, "front", session)).mean() > 0.1
    bent = picture.copy()
    bent[388:396] = shifted[388:396]
    assert np.abs(cut_line_error_px(picture, alignment, "front", session)).max() < 0.1
    assert np.abs(cut_line_error_px(bent, alignment, "front", session)).max() > 0.1
    assert stray_px(picture, np.roll(picture, 3, axis=0)) >= 2
    notchless = picture.copy()
    notchless[: SCREEN_PX[1] // 5] = 0
    assert stray_px(picture, notchless) > 5


@pytest.mark.parametrize("opened", [False, True])
def test_a_mirrored_state_is_never_unlabelled(
    desk: Desk, table: Path, alignment: Alignment, opened: bool
) -> None:
    session = a_session(alignment)
    before: tuple[Action, ...] = (Open(),) if opened else ()
    with desk.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        wait_for_picture(desk, expected(session), "start")
        if opened:
            desk.keys("o")
        plain = wait_for_picture(desk, expected(session, *before), "plain")
        for number in range(len(DRAFTED.pieces)):
            plain_strip = session.scene()[1].key
            desk.keys("m")
            mirrored = wait_for_picture(desk, expected(session, Mirror()), f"mirrored {number}")
            (rows,) = [layer.key for layer in session.scene() if layer.name == "strip"]
            assert "MIRRORED" in str(rows)
            assert "MIRRORED" not in str(plain_strip)
            strip_rows = slice(960, 1080)
            assert not np.array_equal(mirrored[strip_rows], plain[strip_rows])
            desk.keys("m", "n")
            plain = wait_for_picture(desk, expected(session, Mirror(), Flip(by=1)), f"plain {number + 1}")


def test_freeze_holds_against_every_key_and_blank_is_black(
    desk: Desk, table: Path, alignment: Alignment
) -> None:
    session = a_session(alignment)
    black = np.zeros((SCREEN_PX[1], SCREEN_PX[0], 3), np.uint8)
    with desk.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        wait_for_picture(desk, expected(session), "start")
        desk.keys("F5")
        wait_for_picture(desk, expected(session, Freeze()), "frozen")
        desk.keys("Left", "Up", "l", "r", "m", "o", "a", "t", "s", "h", "BackSpace", "u", "y")
        desk.drag((800, 400), (900, 500))
        desk.keys("Tab", "Tab")  # the tape comes and goes, and with it what was said on freezing
        taped = (ChangeTool(), ChangeTool())
        frozen = wait_for_picture(desk, expected(session, *taped), "frozen after the tape")
        for key in ("space", "b", "period"):
            desk.keys(key)
            wait_for_picture(desk, black, f"black by {key}")
            desk.pedal("Right", key)
            wait_for_picture(desk, frozen, f"frozen after {key}")
        desk.keys("Escape", "Right")
        wait_for_picture(desk, expected(session, Freeze(), Move(right=1)), "free")


def test_help_appears_on_the_table_and_goes(desk: Desk, table: Path, alignment: Alignment) -> None:
    session = a_session(alignment)
    with desk.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        start = wait_for_picture(desk, expected(session), "start")
        desk.keys("h")
        wait_for_picture(desk, expected(session, Help()), "help")
        desk.keys("question")
        wait_for_picture(desk, start, "help gone")


def test_the_mouse_drags_and_one_undo_takes_the_drag_back(
    desk: Desk, table: Path, alignment: Alignment
) -> None:
    session = a_session(alignment)
    with desk.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        start = wait_for_picture(desk, expected(session), "start")
        desk.drag((700, 500), (820, 460))
        desk.wait_for(lambda pixels: not np.array_equal(pixels, start), "a moved piece")
        desk.keys("u")
        wait_for_picture(desk, start, "undone")


def test_places_are_kept_when_leaving_and_found_again(desk: Desk, table: Path, alignment: Alignment) -> None:
    session = a_session(alignment)
    with desk.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        wait_for_picture(desk, expected(session), "start")
        desk.keys("r", "m")
        left = wait_for_picture(desk, expected(session, Turn(anticlockwise=-1), Mirror()), "turned")
        desk.keys("q")
        assert program.end()[0] == 0
    assert read_work(places_path(table), alignment.name, DRAFTED.name) == session.station.work
    with desk.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        wait_for_picture(desk, left, "as it was left")
        desk.keys("Home")
        wait_for_picture(desk, expected(session, Home()), "home")
