"""Looks in a real window: each key changes what it should, and the cut line stays where the map says."""

from pathlib import Path

import numpy as np

from calibration.table.saved import Alignment
from patterns import example
from projector.actions import Action, ChangeLine, ChangeLook, ChangeText, Freeze, ShowGrid, ShowRepeats
from projector.lighting.looks import LOOKS
from tests.window.cutting import a_session, cut_line_error_px, expected
from tests.window.desk import Desk
from tests.window.pictures import wait_for_picture

PATTERN = example("harbour overtop")


def test_every_look_by_its_key_has_its_cut_line_on_the_exactly_mapped_one_also_when_frozen(
    desk: Desk, table: Path, alignment: Alignment
) -> None:
    session = a_session(alignment)
    with desk.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        wait_for_picture(desk, expected(session), "start")
        desk.keys("f")
        session.take(Freeze())
        for name in (*list(LOOKS)[1:], "light"):
            desk.keys("k")
            shown = wait_for_picture(desk, expected(session, ChangeLook()), name)
            assert session.station.look.name == name
            distances = cut_line_error_px(shown, alignment, "front", session)
            assert np.abs(distances).mean() < 0.1
            assert abs(distances.mean()) < 0.03
        desk.keys("q")
        assert program.end() == (0, "", "")


def test_keys_for_line_words_repeats_and_grid_and_what_they_chose_is_there_the_next_time(
    desk: Desk, table: Path, alignment: Alignment
) -> None:
    session = a_session(alignment)
    with desk.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        wait_for_picture(desk, expected(session), "start")
        for key, action in (
            ("bracketright", ChangeLine(by=1)),
            ("minus", ChangeText(by=-1)),
            ("i", ShowRepeats()),
            ("numbersign", ShowGrid()),
        ):
            desk.keys(key)
            wait_for_picture(desk, expected(session, action), key)
        desk.keys("q")
        assert program.end() == (0, "", "")
    with desk.program("cut", PATTERN, "--table", table, "--look", "printed") as program:
        program.focus()
        again = a_session(alignment)
        kept: tuple[Action, ...] = (ChangeText(by=-1), ShowRepeats(), ShowGrid())
        for asked in (*kept, ChangeLook(), ChangeLook()):
            again.take(asked)
        desk.keys("k")
        wait_for_picture(
            desk, expected(again, ChangeLook()), "after the look that was asked for, all else as it was"
        )
