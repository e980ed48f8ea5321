"""The lay on the table in a real window, by real keys and a real mouse; what is kept read back."""

from pathlib import Path

import numpy as np
import pytest

from calibration.table.saved import Alignment
from patterns.files.reader import read_pattern
from patterns.laying.rules import violations
from patterns.measures import Unit
from patterns.saying import Say
from projector.actions import Accept, Action, Aim, Drag, Flip, Grab
from projector.bindings import action_of
from projector.cloth.ground import Ground
from projector.laying.for_cutting import resumed_by_lay, with_lay
from projector.laying.ground import LayGround
from projector.laying.lay_file import lay_path, read_lay, write_lay
from projector.laying.work import LayWork, in_the_light
from projector.lighting.canvas import frame
from projector.lighting.lit_area import lit_area
from projector.places import places_path, read_work
from projector.scene import Controls
from projector.session import Session
from projector.stations.lay import LayStation
from tests.unit.patterns.build import saved
from tests.unit.projector.lay_stations import TOP_AND_POCKET, a_lay
from tests.unit.projector.samples import SCREEN_PX
from tests.window.desk import Desk, Pixels
from tests.window.pictures import wait_for_picture

KEYS = {"Next": "page down", "Tab": "tab", "BackSpace": "backspace"}


class Hands:
    """Does the same at the desk and to a session without a window, whose picture must be the desk's."""

    def __init__(self, desk: Desk, alignment: Alignment, file: Path) -> None:
        lay, unit = read_lay(lay_path(file), None, read_pattern(file).drafted())
        ground = LayGround(alignment=alignment, lit=lit_area(alignment.map), say=Say(unit))
        cloth = in_the_light(lay, ground.lit, ground.person(0))
        self.desk, self.map = desk, alignment.map
        self.session = Session(LayStation.begun(ground, LayWork(lay=lay, cloth=cloth)))

    @property
    def station(self) -> LayStation:
        return self.session.station

    def press(self, *keys: str) -> None:
        self.desk.keys(*keys)
        for key in keys:
            shift, name = key.startswith("shift+"), key.removeprefix("shift+")
            action = action_of(self.station.bindings, KEYS.get(name, name.lower()), shift=shift)
            assert action is not None, key
            self.session.take(action)

    def drag(self, start: tuple[int, int], end: tuple[int, int]) -> None:
        self.desk.xdotool("mousemove", *map(str, start))
        self.desk.drag(start, end)
        middle = ((start[0] + end[0]) // 2, (start[1] + end[1]) // 2)
        for action in (Grab(), Drag(from_px=start, to_px=middle), Drag(from_px=middle, to_px=end)):
            self.session.take(action)

    def mark(self, at_in: tuple[float, float]) -> None:
        """The left button at a place of the table."""
        u, v = np.rint(self.map.screen_from_table(np.array([at_in]))[0]).astype(int).tolist()
        self.desk.xdotool("mousemove", str(u), str(v), "click", "1")
        actions: tuple[Action, ...] = (Aim(at_px=(u, v)), Accept())
        for action in actions:
            self.session.take(action)

    def see(self, name: str) -> Pixels:
        """The picture, once the desk shows it to the last bit."""
        return wait_for_picture(
            self.desk, frame((layer.draw() for layer in self.session.scene()), SCREEN_PX), name
        )


@pytest.fixture
def top(tmp_path: Path) -> Path:
    path = saved(tmp_path, TOP_AND_POCKET)
    write_lay(lay_path(path), None, a_lay(tmp_path), Unit.IN)
    return path


def test_pieces_are_moved_named_when_wrong_undone_and_kept(
    desk: Desk, table: Path, alignment: Alignment, top: Path
) -> None:
    hands = Hands(desk, alignment, top)
    kept_at_first = lay_path(top).read_bytes()
    with desk.program("lay", top, "--table", table, "--display", "0") as program:
        program.focus()
        hands.see("lay-fold")
        hands.press("Next")
        hands.see("lay-front")
        hands.press("Up", "r", "shift+Left")
        hands.see("lay-front-turned")
        assert violations(hands.station.work.lay) == ()
        hands.press("2")
        hands.drag((700, 500), (1000, 520))
        hands.see("lay-pocket-wrong")
        assert hands.station.broken
        assert lay_path(top).read_bytes() != kept_at_first
        hands.press("BackSpace")
        assert not hands.station.broken
        hands.see("lay-pocket-back")
        hands.press("Tab", "Tab")
        hands.mark((2.0, -4.0))
        hands.mark((3.0, 12.0))
        hands.see("lay-by-marks")
        hands.press("q")
        code, out, err = program.end()
    assert (code, out, err) == (0, "", "")
    lay, _ = read_lay(lay_path(top), None, read_pattern(top).drafted())
    expected = hands.station.work
    for one, other in zip(lay.placed, expected.lay.placed, strict=True):
        assert np.array_equal(one.outline_in, other.outline_in)
    work = read_work(places_path(table), alignment.name, "Prompt corner")
    assert work is not None
    assert work.is_lay
    assert work.cloth == expected.cloth
    assert [copy.place for copy in work.copies] == [one.placement for one in expected.lay.placed]


def test_killed_it_is_found_again_as_it_was_shown(
    desk: Desk, table: Path, alignment: Alignment, top: Path
) -> None:
    hands = Hands(desk, alignment, top)
    with desk.program("lay", top, "--table", table, "--display", "0") as program:
        program.focus()
        hands.see("lay-begun")
        hands.press("Right", "Next", "Up")
        shown = hands.see("lay-killed")
        program.process.kill()
    desk.wait_for(lambda pixels: not pixels.any(), "an empty screen")
    with desk.program("lay", top, "--table", table, "--display", "0") as program:
        program.focus()
        program.desk.keys("Next")
        desk.wait_for(lambda pixels: np.array_equal(pixels, shown), "the piece where it was left")
        program.desk.keys("q")
        assert program.end()[0] == 0


def test_cutting_goes_on_where_the_lay_has_its_cloth(
    desk: Desk, table: Path, alignment: Alignment, top: Path
) -> None:
    hands = Hands(desk, alignment, top)
    with desk.program("lay", top, "--table", table, "--display", "0") as program:
        program.focus()
        hands.see("lay-before-cutting")
        hands.press("Right", "l")
        hands.see("lay-slid")
        hands.press("q")
        assert program.end()[0] == 0
    work = hands.station.work
    ground = Ground(pieces=work.lay.pieces, alignment=alignment, lit=lit_area(alignment.map))
    cut = resumed_by_lay(ground, work.lay, with_lay(None, work.lay, work.cloth))
    with desk.program("cut", top, "--table", table, "--display", "0") as program:
        program.focus()
        for piece in ("front", "pocket"):
            assert cut.piece.name == piece
            picture = frame((layer.draw() for layer in cut.scene(Controls())), SCREEN_PX)
            wait_for_picture(desk, picture, f"cut-{piece}-by-lay")
            desk.keys("n")
            cut = cut.after(Flip(by=1))
        desk.keys("q")
        assert program.end()[0] == 0


def test_without_a_lay_the_way_out_is_said(desk: Desk, table: Path, tmp_path: Path) -> None:
    path = saved(tmp_path, TOP_AND_POCKET)
    with desk.program("lay", path, "--table", table, "--display", "0") as program:
        code, _, err = program.end()
    assert code == 1
    assert (
        "found no lay of the pattern as it is; plan one first: chalkbeam lay with --width and --keep" in err
    )
