"""The ruler test in a real window, by real keys, to the result in the table file and its warnings."""

from pathlib import Path

import pytest

from calibration.table.saved import Alignment
from calibration.table.table_file import load_table, save_alignment
from patterns import example
from projector.actions import Accept, Action, Type, Undo
from projector.command_line import main
from projector.lighting.canvas import frame
from projector.session import Session
from projector.stations.ruler import RulerStation
from tests.unit.projector.samples import SCREEN_PX
from tests.window.desk import Desk, Pixels
from tests.window.pictures import wait_for_picture

KEYS = {" ": "space", "/": "slash", ".": "period", "-": "minus"}


def shown(session: Session[RulerStation], *actions: Action) -> Pixels:
    for action in actions:
        session.take(action)
    return frame((layer.draw() for layer in session.scene()), SCREEN_PX)


def signs(text: str) -> tuple[Action, ...]:
    return tuple(Type(text=sign) for sign in text)


def keys(text: str) -> list[str]:
    return [KEYS.get(sign, sign) for sign in text]


def cut_warnings(table: Path, folder: Path, capsys: pytest.CaptureFixture[str]) -> str:
    pattern = str(example("harbour overtop"))
    assert main(["cut", pattern, "--table", str(table), "--frame", str(folder / "f.png")]) == 0
    return capsys.readouterr().err


def test_what_the_tape_says_is_typed_on_the_table_and_kept(
    desk: Desk, tmp_path: Path, alignment: Alignment, capsys: pytest.CaptureFixture[str]
) -> None:
    table = tmp_path / "table.yaml"
    save_alignment(table, alignment)
    assert "no ruler test yet" in cut_warnings(table, tmp_path, capsys)
    session = Session(RulerStation.begun(alignment))
    across, away, rising, falling = session.station.lines.all
    with desk.program("check", "--table", table, "--display", "0") as program:
        program.focus()
        wait_for_picture(desk, shown(session), "first line")
        said = f"{across.length_in:.0f} 1/64"
        desk.keys(*keys(said + "9"), "BackSpace")
        wait_for_picture(desk, shown(session, *signs(said + "9"), Undo()), "first line, typed")
        desk.keys("Return", *keys(f"{25.4 * away.length_in:.1f} mm"))
        second = (Accept(), *signs(f"{25.4 * away.length_in:.1f} mm"))
        wait_for_picture(desk, shown(session, *second), "second line, typed")
        for line in (rising, falling):
            said = f"{line.length_in:.0f}"
            desk.keys("Return", *keys(said))
            wait_for_picture(desk, shown(session, Accept(), *signs(said)), "a diagonal, typed")
        desk.keys("Return")
        wait_for_picture(desk, shown(session, Accept()), "the result")
        desk.keys("Return")
        code, printed, complained = program.end()
    assert (code, complained) == (0, "")
    assert printed == (
        f"{table}: Ruler test passed: the tape agrees with every line to 1/64 in, and the diagonals with "
        "each other to 1/64 in.\n"
    )
    (test,) = load_table(table).setup().ruler_tests
    assert test.lengths[0] == (across.length_in, across.length_in + 1 / 64)
    assert test.lengths[1] == pytest.approx((away.length_in, away.length_in), abs=0.002)
    assert test.diagonals == 2 * ((rising.length_in, rising.length_in),)
    assert cut_warnings(table, tmp_path, capsys) == ""


def test_leaving_early_keeps_nothing_and_says_so(desk: Desk, table: Path, alignment: Alignment) -> None:
    before = table.read_bytes()
    session = Session(RulerStation.begun(alignment))
    with desk.program("check", "--table", table) as program:
        program.focus()
        wait_for_picture(desk, shown(session), "first line")
        desk.keys("b")
        desk.wait_for(lambda pixels: not pixels.any(), "darkness: b is no sign of a length")
        desk.keys("q")
        code, printed, complained = program.end()
    assert (code, printed) == (1, "")
    assert complained == (
        "chalkbeam check: left before all lines were taped, so nothing is kept; start again for a test\n"
    )
    assert table.read_bytes() == before
