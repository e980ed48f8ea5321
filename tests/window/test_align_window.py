"""Aligning by hand in a real window, driven by real keys, to a saved table file."""

import json
from dataclasses import replace
from functools import partial
from pathlib import Path

import numpy as np
import pytest

from calibration.hand.by_hand import HandAlignment
from calibration.hand.marks import HandMark
from calibration.sheets.sheet import PAPERS
from calibration.table.saved import Alignment
from calibration.table.table_file import load_alignment, load_table, save_alignment
from projector.actions import Accept, Action, Drag, Grab, Help, Move, TakeUp, Undo
from projector.lighting.canvas import frame
from projector.scene import Controls
from projector.session import Session
from projector.stations.align import AlignStation
from tests.unit.projector.samples import KEYSTONE_IN, SCREEN_PX, a_map, an_alignment
from tests.window.desk import SCREEN_NAME, Desk, Pixels
from tests.window.pictures import wait_for_picture

MAP = a_map(k1=0.004)
# The mat lies so that its near left corner is here on the sample table.
MAT_CORNER_IN = np.array([-18.0, -12.0])


def shown(session: Session[AlignStation]) -> Pixels:
    return frame((layer.draw() for layer in session.scene()), SCREEN_PX)


def arrows(from_px: tuple[float, float], to_px: tuple[float, float]) -> list[str]:
    """Keys that bring the cross to within a quarter of a pixel: coarse steps, then fine ones."""
    keys: list[str] = []
    for offset, names in (
        (to_px[0] - from_px[0], ("Left", "Right")),
        (to_px[1] - from_px[1], ("Up", "Down")),
    ):
        coarse = int(np.fix(offset / 10))
        fine = round((offset - 10 * coarse) / 0.5)
        keys += [names[offset > 0]] * abs(coarse) + ["shift+" + names[fine > 0]] * abs(fine)
    return keys


def press(session: Session[AlignStation], keys: list[str]) -> None:
    """The same for a session without a window."""
    ways = {"Left": (-1, 0), "Right": (1, 0), "Up": (0, 1), "Down": (0, -1)}
    for key in keys:
        right, away = ways[key.removeprefix("shift+")]
        session.take(Move(right=right, away=away, other_step=key.startswith("shift+")))


def true_px(mark: HandMark) -> tuple[float, float]:
    """The pixel whose light falls on the mark of the mat."""
    (u, v) = MAP.screen_from_table((MAT_CORNER_IN + mark.at_in)[None])[0]
    return float(u), float(v)


def test_crosses_moved_by_keys_make_a_table_file_that_is_true(desk: Desk, tmp_path: Path) -> None:
    """From nothing to a saved table; the sixth cross goes astray by 12 pixels, is pointed at, and is redone."""
    table = tmp_path / "table.yaml"
    session = Session(AlignStation.begun(HandAlignment.over_mat(SCREEN_PX, 1.0, (36.0, 24.0)), "table"))
    options = ("--mat-pitch", "1in", "--mat-size", "36x24in", "--display", "0")
    with desk.program("align", "--by-hand", "--table", table, *options) as program:
        program.focus()
        wait_for_picture(desk, shown(session), "first cross")

        def place(beside_px: float = 0.0) -> HandMark:
            mark = session.station.mark
            assert mark is not None
            u, v = true_px(mark)
            keys = arrows(session.station.cross_px, (u + beside_px, v))
            press(session, keys)
            session.take(Accept())
            desk.keys(*keys, "Return")
            wait_for_picture(desk, shown(session), f"the cross after {mark.name}")
            return mark

        for _ in range(5):
            place()
        astray = place(beside_px=12.0)
        for _ in range(5):
            place()
        assert session.station.report.worst == astray
        first = session.station.words(Controls()).first
        assert f"{astray.name}, ringed, disagrees with the others by" in first[1]
        desk.keys("r")
        session.take(TakeUp())
        wait_for_picture(desk, shown(session), "the cross that went astray, in hand again")
        assert place() == astray
        assert session.station.report.worst is None
        desk.keys("BackSpace")
        session.take(Undo())
        wait_for_picture(desk, shown(session), "undone")
        desk.keys("Return")
        session.take(Accept())
        wait_for_picture(desk, shown(session), "placed again")
        place()
        desk.keys("d")
        code, said, complained = program.end()
    assert (code, complained) == (0, "")
    assert "placed by hand" in said
    assert sorted(path.name for path in tmp_path.iterdir()) == ["table.yaml"]
    alignment = load_alignment(table)
    assert alignment.screen_name == SCREEN_NAME
    assert not alignment.size_checked
    assert alignment.marks == 12
    assert alignment.mat == (1.0, 36.0, 24.0)
    grid = np.stack(np.meshgrid(np.arange(0, 37, 4.0), np.arange(0, 25, 4.0)), axis=-1).reshape(-1, 2)
    landed = MAP.table_from_screen(alignment.map.screen_from_table(grid)) - MAT_CORNER_IN
    assert np.hypot(*(landed - grid).T).max() < 1 / 32


def test_the_second_cross_starts_where_it_is_predicted_and_leaving_keeps_the_first(
    desk: Desk, tmp_path: Path
) -> None:
    table = tmp_path / "table.yaml"
    begun = HandAlignment.over_sheets(SCREEN_PX, PAPERS["a4"], 2)
    session = Session(AlignStation.begun(begun, "table"))
    arguments = ("align", "--by-hand", "--table", table, "--paper", "a4", "--sheets", "2")
    with desk.program(*arguments) as program:
        program.focus()
        wait_for_picture(desk, shown(session), "first")
        desk.keys("h")
        session.take(Help())
        wait_for_picture(desk, shown(session), "help")
        desk.keys("h", "Right", "Return")
        for action in (Help(), Move(right=1), Accept()):
            session.take(action)
        second = wait_for_picture(desk, shown(session), "second")
        desk.keys("d")
        desk.wait_for(lambda pixels: not np.array_equal(pixels, second), "that it is too early to be done")
        desk.keys("q")
        code, _, said = program.end()
    assert code == 1
    assert said.startswith("chalkbeam align: left without an alignment; the crosses placed so far wait in")
    assert not table.exists()
    with desk.program(*arguments) as program:
        program.focus()
        wait_for_picture(desk, second, "the second cross again")


def test_the_mouse_moves_the_cross(desk: Desk, tmp_path: Path) -> None:
    session = Session(AlignStation.begun(HandAlignment.over_mat(SCREEN_PX, 1.0, (36.0, 24.0)), "table"))
    options = ("--mat-pitch", "1in", "--mat-size", "36x24in")
    with desk.program("align", "--by-hand", "--table", tmp_path / "table.yaml", *options) as program:
        program.focus()
        wait_for_picture(desk, shown(session), "first")
        desk.drag((500, 500), (560, 470))
        actions: tuple[Action, ...] = (Grab(), Drag(from_px=(500, 500), to_px=(560, 470)))
        for action in actions:
            session.take(action)
        wait_for_picture(desk, shown(session), "dragged")


def test_a_mat_with_too_few_lines_is_a_sentence(desk: Desk, tmp_path: Path) -> None:
    options = ("--mat-pitch", "20in", "--mat-size", "36x24in")
    with desk.program("align", "--by-hand", "--table", tmp_path / "table.yaml", *options) as program:
        code, _, said = program.end()
    assert code == 1
    assert said == (
        "chalkbeam align: a mat of 36 x 24 in ruled every 20 in has too few lines; 3 or more each way "
        "are needed: check the pitch and the size\n"
    )


def aligned_on_mat(table: Path) -> Alignment:
    """A table file for a mat all of which is lit, as aligning by hand would leave it."""
    corners_in = [(x + 18.0, y + 12.0) for x, y in KEYSTONE_IN]
    alignment = replace(an_alignment(a_map(corners_in=corners_in, sigma=0.2)), mat=(1.0, 36.0, 24.0))
    save_alignment(table, alignment)
    return alignment


def test_three_marks_nudged_by_keys_say_that_the_light_has_moved(desk: Desk, tmp_path: Path) -> None:
    table = tmp_path / "table.yaml"
    aligned_on_mat(table)
    with desk.program("check", "--by-hand", "--table", table, "--display", "0", "--json") as program:
        program.focus()
        black = np.zeros_like(desk.pixels())
        seen = desk.wait_for(lambda pixels: not np.array_equal(pixels, black), "the first mark")
        for _ in range(3):
            desk.keys(*["Right"] * 12, "Return")
            before = seen
            seen = desk.wait_for(partial(differs, before), "the next mark")
        desk.keys("d")
        code, said, complained = program.end()
    assert (code, complained) == (0, "")
    result = json.loads(said)
    (test,) = load_table(table).setup().drift_tests
    assert test.moved
    assert (result["moved"], result["moved_in"], result["what"]) == (True, test.moved_in, test.what)
    assert 6 / 33 < test.moved_in < 6 / 27  # pixels by pixels an inch
    assert test.what.startswith("moved: up to ")


def test_a_loop_by_eye_is_kept_and_leaving_before_keeps_nothing(desk: Desk, tmp_path: Path) -> None:
    table = tmp_path / "table.yaml"
    aligned_on_mat(table)
    before = table.read_bytes()
    arguments = ("check", "--loop", "--table", table, "--display", "0")
    with desk.program(*arguments) as program:
        program.focus()
        desk.keys("Return", "q")
        code, _, said = program.end()
    assert (code, said) == (1, "chalkbeam check: left after 1 of 9 marks; nothing is kept of it\n")
    assert table.read_bytes() == before
    with desk.program(*arguments) as program:
        program.focus()
        desk.keys("d", *["Return"] * 4, "BackSpace", *["Left"] * 10, "Return", "Down", *["Return"] * 5, "d")
        code, said, complained = program.end()
    assert (code, complained) == (0, "")
    (test,) = load_table(table).setup().loop_tests
    assert (test.marks, test.by) == (9, "eye")
    assert 0.1 < test.most_in < 5 / 27
    assert said.startswith(f"{table}: 9 crosses up to ")


def differs(before: Pixels, pixels: Pixels) -> bool:
    return not np.array_equal(pixels, before)


@pytest.mark.parametrize(("start", "end"), [((0.0, 0.0), (-123.3, 47.6)), ((5.0, 5.0), (5.2, 5.2))])
def test_the_arrows_of_this_test_reach_their_aim(
    start: tuple[float, float], end: tuple[float, float]
) -> None:
    session = Session(AlignStation.begun(HandAlignment.over_mat(SCREEN_PX, 1.0, (36.0, 24.0)), "table"))
    before = np.array(session.station.cross_px)
    press(session, arrows(start, end))
    assert np.abs(np.array(session.station.cross_px) - before - (np.array(end) - start)).max() <= 0.25 + 1e-9
