"""The light brought to the cloth in a real window, by keys and mouse: a slanted fold, a piece in reaches."""

from datetime import datetime
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest

from calibration.frames import Array
from calibration.table.saved import Alignment
from patterns import example, read_pattern
from patterns.cutting.marks import LineKind, lines_of
from patterns.tracing.hand_trace import Place
from projector.actions import Aim
from projector.bindings import action_of
from projector.cloth.cloth_place import ClothPlace
from projector.cloth.ground import Ground
from projector.cutting.finding import FindTool
from projector.cutting.stage import Stage
from projector.lighting.canvas import frame
from projector.lighting.lit_area import lit_area
from projector.lighting.look import DISPLAY_GAMMA
from projector.places import places_path, read_work
from projector.session import Session
from projector.stations.cut import CutStation
from projector.trust import ruler_words
from tests.outside.test_projective import sections
from tests.unit.projector.samples import SCREEN_PX, a_setup
from tests.window.desk import Desk, Pixels
from tests.window.pictures import wait_for_picture

Where = bool | npt.NDArray[np.bool_]
LIT = 0.3  # of the light; fainter, a dash is ending
KEYS = {
    "Return": "return",
    "Next": "page down",
    "Prior": "page up",
    "Tab": "tab",
    "F5": "f5",
    "BackSpace": "backspace",
}
CLOAK = """\
pattern: Pilot's cloak
unit: in
allowance: {seam: 1/2 in, hem: 1/2 in}
pieces:
  cloak:
    cut: 1 on fold
    edges:
      - {name: neck, kind: seam, path: [[0, 3], [2, 2.4], [3.5, 0]], curve: smooth}
      - {name: shoulder, kind: seam, path: [[3.5, 0], [13, 4]]}
      - {name: side, kind: seam, path: [[13, 4], [15, 24], [20, 60]], curve: smooth}
      - {name: hem, kind: hem, path: [[20, 60], [0, 62]]}
      - {name: centre back, kind: fold, path: [[0, 62], [0, 3]]}
    grain: [[4, 40], [4, 12]]
    notches:
      - {edge: side, at: 9 in}
      - {edge: side, at: 28 in, count: 2}
"""


class Hands:
    """Does the same at the desk and to a session without a window, whose picture must be the desk's."""

    def __init__(self, desk: Desk, alignment: Alignment, pattern: Path) -> None:
        drawn, setup = read_pattern(pattern), a_setup(alignment)
        ground = Ground(
            pieces=tuple(drawn.drafted().pieces.values()),
            alignment=alignment,
            lit=lit_area(alignment.map),
            warnings=setup.warnings(datetime.now().astimezone()),
            tested=ruler_words(setup.ruler_tests),
            unit=drawn.unit,
        )
        self.desk, self.map = desk, alignment.map
        self.session = Session(CutStation.begun(ground))

    @property
    def station(self) -> CutStation:
        return self.session.station

    def press(self, *keys: str) -> None:
        self.desk.keys(*keys)
        self._take(*keys)

    def pedal(self, *keys: str) -> None:
        self.desk.pedal(*keys)
        self._take(*keys)

    def _take(self, *keys: str) -> None:
        for key in keys:
            action = action_of(self.station.bindings, KEYS.get(key, key.lower()), shift=False)
            assert action is not None, key
            self.session.take(action)

    def click(self, at_in: Place) -> Place:
        """With the left button on the pixel nearest to a place on the table; where that pixel is."""
        u, v = np.rint(self.map.screen_from_table([at_in])[0]).astype(int).tolist()
        self.desk.xdotool("mousemove", str(u), str(v))
        self.session.take(Aim(at_px=(u, v)))
        self.desk.xdotool("click", "1")
        set_ = action_of(self.station.bindings, "left button", shift=False)
        assert set_ is not None
        self.session.take(set_)
        x, y = self.map.table_from_screen([[u, v]])[0].tolist()
        return x, y

    def see(self, name: str) -> Pixels:
        """The picture, once the desk shows it to the last bit."""
        layers = self.session.scene()
        return wait_for_picture(self.desk, frame((layer.draw() for layer in layers), SCREEN_PX), name)

    def strays_px(self, pixels: Pixels, path_in: Array, where: Where = True) -> Array:
        """Distances of the shown light's centre from a path on the table, there where there is light."""
        exact = self.map.screen_from_table(path_in)
        on_screen = ((exact > 8) & (exact < np.array(SCREEN_PX) - 8)).all(axis=1)
        light = (pixels[:, :, 0] / 255.0) ** DISPLAY_GAMMA
        u, v = np.rint(exact[on_screen]).astype(int).T
        near = np.max([light[v + down, u + across] for across in (-1, 0, 1) for down in (-1, 0, 1)], axis=0)
        wanted = np.broadcast_to(where, on_screen.shape)[on_screen]
        strays: Array = sections(light + 1e-9, exact[on_screen])[(near > LIT) & wanted]
        return strays


def fold_strays_px(hands: Hands, pixels: Pixels, one: Place, other: Place) -> Array:
    """Distances of the shown fold from the line through two marks, clear of all that comes near it."""
    share = np.linspace(0.1, 0.9, 1500)[:, None]
    points = np.array(one) * (1 - share) + np.array(other) * share
    lines = lines_of(hands.station.piece, hands.station.placement)
    signs = np.vstack([line.points for line in lines if line.kind not in (LineKind.FOLD, LineKind.FOLD_TICK)])
    clear = np.hypot(*(points[:, None] - signs).T).min(axis=0) > 0.8
    strays = hands.strays_px(pixels, points, clear)
    assert len(strays) > 300
    return strays


@pytest.fixture
def cloak(tmp_path: Path) -> Path:
    path = tmp_path / "cloak.yaml"
    path.write_text(CLOAK, encoding="utf-8")
    return path


def test_two_marks_on_a_slanted_fold_bring_the_light_of_the_fold_on_to_it(
    desk: Desk, table: Path, alignment: Alignment
) -> None:
    pattern = example("harbour overtop")
    hands = Hands(desk, alignment, pattern)
    with desk.program("cut", pattern, "--table", table) as program:
        program.focus()
        hands.see("start")
        hands.press("Tab")
        hands.see("tool taken up")
        one = hands.click((-7.0, 11.0))
        hands.see("mark 1")
        other = hands.click((-4.5, -10.0))
        laid = hands.see("mark 2")
        strays = fold_strays_px(hands, laid, one, other)
        assert np.quantile(np.abs(strays), 0.98) < 0.5, "but for the ends of dashes"
        assert np.abs(strays).mean() < 0.1
        hands.click((-4.4, -12.0))
        hands.see("slid to a third mark")
        assert hands.station.outline_in[:, 1].min() == pytest.approx(-12, abs=1 / 16)
        hands.press("m")
        turned = hands.see("on the other side")
        assert np.quantile(np.abs(fold_strays_px(hands, turned, one, other)), 0.98) < 0.5
        hands.press("BackSpace", "q")
        assert program.end() == (0, "", "")
    kept = read_work(places_path(table), alignment.name, read_pattern(pattern).name)
    assert kept is not None
    assert kept.placements == hands.station.placements


def test_a_long_piece_is_cut_in_two_reaches_and_its_lines_go_on_where_the_crosses_say(
    desk: Desk, table: Path, alignment: Alignment, cloak: Path
) -> None:
    hands = Hands(desk, alignment, cloak)
    with desk.program("cut", cloak, "--table", table) as program:
        program.focus()
        hands.see("start")
        hands.press(*["l"] * 18, *["Right"] * 26, "g")
        hands.see("in reaches")
        hands.press("F5")
        first = hands.see("reach 1")
        assert np.abs(cut_strays_px(hands, first)).mean() < 0.1
        hands.pedal("Next", "Next")
        hands.see("crosses to mark")
        hands.pedal("Next")
        seeking = hands.see("slid")
        assert hands.station.stage is Stage.FINDING
        cut = hands.strays_px(seeking, cut_path_in(hands))
        assert len(cut) < 100, "no cut line is lit before the cloth is found"
        tool = hands.station.tool
        assert isinstance(tool, FindTool)
        moved = ClothPlace(x_in=0.6, y_in=0.4, turn_deg=1.0).on_table(np.array(tool.expected_in))
        marks = [hands.click((x, y)) for x, y in moved.tolist()]
        second = hands.see("reach 2")
        assert hands.station.copy.reach == 1
        assert np.abs(cut_strays_px(hands, second)).mean() < 0.1
        crosses = hands.station.placement.placed(np.array(_crosses(hands)))
        assert np.hypot(*(crosses - marks).T).max() < 1 / 32, "a pixel at most from where they were set"
        hands.pedal("Next", "Next")
        hands.see("all is cut")
        hands.press("q")
        assert program.end()[0] == 0


def _crosses(hands: Hands) -> tuple[Place, Place]:
    reaches = hands.station.copy.reaches
    assert reaches is not None
    crosses = reaches.reaches[0].crosses
    assert crosses is not None
    return crosses.marks_in


def cut_path_in(hands: Hands) -> Array:
    """The whole cut line where the piece lies, finely."""
    lines = lines_of(hands.station.piece, hands.station.placement)
    (cut,) = (line.points for line in lines if line.kind is LineKind.CUT)
    place = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(cut, axis=0).T))])
    along = np.arange(0.05, place[-1], 0.05)
    return np.column_stack([np.interp(along, place, cut[:, axis]) for axis in (0, 1)])


def cut_strays_px(hands: Hands, pixels: Pixels) -> Array:
    """Distances of the shown cut line from the exactly mapped one within the reach, clear of marks and its ends."""
    reaches, reach = hands.station.copy.reaches, hands.station.copy.reach
    assert reaches is not None
    path = cut_path_in(hands)
    along = reaches.along_in(hands.station.placement.lifted(path))
    now = reaches.reaches[reach]
    lines = lines_of(hands.station.piece, hands.station.placement)
    others = np.vstack([line.points for line in lines if line.kind in (LineKind.NOTCH, LineKind.FOLD_TICK)])
    clear = np.hypot(*(path[:, None] - others).T).min(axis=0) > 1.0
    corners = hands.station.placement.placed(hands.station.piece.cut_line)
    turns = corners[_turning(corners)]
    clear &= np.hypot(*(path[:, None] - turns).T).min(axis=0) > 0.4
    clear &= (along > now.start_in + 0.5) & (along < now.end_in - 0.5)
    strays = hands.strays_px(pixels, path, clear)
    assert len(strays) > 500
    return strays


def _turning(path: Array) -> Array:
    step = np.diff(np.vstack([path[-1:], path, path[:1]]), axis=0)
    direction = np.arctan2(step[:, 1], step[:, 0])
    turning: Array = np.abs((np.diff(direction) + np.pi) % (2 * np.pi) - np.pi) > np.deg2rad(8)
    return turning


def test_the_measure_of_the_shown_lines_can_fail(desk: Desk, alignment: Alignment) -> None:
    hands = Hands(desk, alignment, example("harbour overtop"))
    one, other = (
        tuple(point)
        for point in hands.station.placement.placed(hands.station.piece.cut_line)[[0, -1]].tolist()
    )
    picture = frame((layer.draw() for layer in hands.session.scene()), SCREEN_PX)
    assert np.abs(fold_strays_px(hands, picture, one, other)).mean() < 0.1
    assert np.abs(fold_strays_px(hands, np.roll(picture, 1, axis=1), one, other)).mean() > 0.5
