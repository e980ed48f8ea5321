"""Drafting on the table in a real window, by real keys and a real mouse; the file read back, the cut line measured."""

from pathlib import Path

import numpy as np
import pytest

from calibration.frames import Array
from calibration.table.saved import Alignment
from patterns import example, read_pattern
from patterns.changes import spelled
from patterns.checks.head_check import USUAL_HEAD_IN
from patterns.cutting.marks import LineKind, lines_of
from patterns.stepping import stepped
from projector.actions import Action, Aim, PutDown, TakeUp
from projector.bindings import action_of, typed_by
from projector.drafting.checks import Wearer
from projector.drafting.ground import DraftGround
from projector.drafting.work import DraftWork
from projector.lighting.canvas import frame
from projector.lighting.lit_area import lit_area
from projector.lighting.look import DISPLAY_GAMMA
from projector.session import Session
from projector.stations.draft import DraftStation
from tests.outside.test_projective import sections
from tests.unit.projector.samples import SCREEN_PX
from tests.window.desk import Desk, Pixels
from tests.window.pictures import wait_for_picture

KEYS = {
    "Return": "return",
    "BackSpace": "backspace",
    "Tab": "tab",
    "space": " ",
    "slash": "/",
    "Next": "page down",
}
UNDERARM = (10.75, 12.6)
ON_HEM = (5.0, 25.4)


class Hands:
    """Does the same at the desk and to a session without a window or a file, whose picture must be the desk's."""

    def __init__(self, desk: Desk, alignment: Alignment, file: Path, version: str | None = None) -> None:
        ground = DraftGround(
            alignment=alignment, lit=lit_area(alignment.map), wearer=Wearer(head_in=USUAL_HEAD_IN)
        )
        work = DraftWork.begun(read_pattern(file), version, ground.under)
        self.desk, self.map = desk, alignment.map
        self.session = Session(DraftStation.begun(ground, work))

    def wake(self) -> None:
        """The mouse moved, so that the cross is there, whether or not the window saw where it lay at first."""
        for place in (7, 9, 11):
            self.desk.xdotool("mousemove", str(place), "9")
            self.session.take(Aim(at_px=(place, 9)))

    @property
    def work(self) -> DraftWork:
        return self.session.station.work

    def press(self, *keys: str) -> None:
        self.desk.keys(*keys)
        for key in keys:
            shift, name = key.startswith("shift+"), key.removeprefix("shift+")
            name = KEYS.get(name, name.lower())
            bindings = self.session.station.bindings
            action = typed_by(bindings, name) or action_of(bindings, name, shift=shift)
            assert action is not None, key
            self.session.take(action)

    def drag(self, place: tuple[float, float], by_px: tuple[int, int]) -> None:
        """The traced point or edge at a place in piece inches taken with the left button and left elsewhere."""
        on_table = self.work.laid.placement.placed(np.array([place]))
        u, v = np.rint(self.map.screen_from_table(on_table)[0]).astype(int).tolist()
        there = (u + by_px[0], v + by_px[1])
        self.desk.xdotool(
            "mousemove", str(u), str(v), "mousedown", "1", "mousemove", *map(str, there), "mouseup", "1"
        )
        actions: tuple[Action, ...] = (Aim(at_px=(u, v)), TakeUp(), Aim(at_px=there), PutDown())
        for action in actions:
            self.session.take(action)

    def see(self, name: str) -> Pixels:
        """The picture, once the desk shows it to the last bit."""
        layers = self.session.scene()
        return wait_for_picture(self.desk, frame((layer.draw() for layer in layers), SCREEN_PX), name)


def cut_line_error_px(pixels: Pixels, alignment: Alignment, work: DraftWork) -> Array:
    """Distances of the shown cut line's centres from the exactly mapped one, clear of all that crosses it."""
    lines = lines_of(work.piece, work.laid.placement)
    (cut,) = (line.points for line in lines if line.kind is LineKind.CUT)
    along = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(cut, axis=0).T))])
    every = np.arange(0.05, along[-1], 0.05)
    samples = np.column_stack([np.interp(every, along, cut[:, k]) for k in (0, 1)])
    others = [
        line.points for line in lines if line.kind in (LineKind.NOTCH, LineKind.CLIP, LineKind.FOLD_TICK)
    ]
    turn = np.abs(np.diff(np.unwrap(np.arctan2(*np.diff(cut, axis=0).T[::-1]))))
    others += [cut[[0, -1]], cut[1:-1][turn > np.deg2rad(10)]]
    apart = np.hypot(*(samples[:, None] - np.concatenate(others)).transpose(2, 0, 1)).min(axis=1)
    exact = alignment.map.screen_from_table(samples[apart > 0.7])
    distances: Array = sections((pixels[:, :, 0] / 255.0) ** DISPLAY_GAMMA, exact)
    assert len(distances) > 300
    return distances


@pytest.fixture
def overtop(tmp_path: Path) -> Path:
    path = tmp_path / "overtop.yaml"
    text = example("harbour overtop").read_text(encoding="utf-8")
    path.write_text(
        text.replace("depth: 8 in}", "depth: 8 in}   # as low as the prompter allows"), encoding="utf-8"
    )
    return path


def test_a_depth_a_switch_a_pulled_point_and_undoing_are_seen_and_kept(
    desk: Desk, table: Path, alignment: Alignment, overtop: Path
) -> None:
    before = overtop.read_text(encoding="utf-8")
    hands = Hands(desk, alignment, overtop)
    with desk.program("draft", overtop, "--table", table) as program:
        program.focus()
        hands.wake()
        shown = [hands.see("as it is in the file")]
        errors = [cut_line_error_px(shown[0], alignment, hands.work)]
        hands.press("Right", "Right", "shift+Left")
        shown.append(hands.see("a deeper V"))
        errors.append(cut_line_error_px(shown[1], alignment, hands.work))
        deeper = before.replace("depth: 8 in}", "depth: 8 3/16 in}")
        assert overtop.read_text(encoding="utf-8") == deeper
        hands.press("Down", "o", "Up")
        hands.see("the front again, the back's neck as it was traced")
        assert read_pattern(overtop).changes[1].off
        hands.press("u")
        assert hands.work.stop.number == 1
        hands.see("the back, its neck raised again")
        hands.press("Up")
        hands.drag(UNDERARM, (24, 9))
        shown.append(hands.see("a wider underarm"))
        assert overtop.read_text(encoding="utf-8").count("as low as the prompter allows") == 1
        assert read_pattern(overtop) == hands.work.pattern
        side = read_pattern(overtop).drafted().pieces["front"].edges["side"].points
        assert side[:, 0].min() > UNDERARM[0]
        hands.press("y")
        hands.see("nothing to redo")
        hands.press("u")
        hands.see("the underarm as it was")
        assert overtop.read_text(encoding="utf-8") == deeper
        hands.drag(ON_HEM, (4, 20))
        shown.append(hands.see("a lower hem"))
        hem = read_pattern(overtop).drafted().pieces["front"].edges["hem"].points
        assert hem[:, 1].min() > ON_HEM[1]
        hands.press("u", "u", "u", "u")
        hands.see("all undone")
        assert overtop.read_text(encoding="utf-8") == before
        hands.press("j")
        shown.append(hands.see("the back joined to it at the overarm"))
        hands.press("y", "y", "y", "q")
        assert program.end() == (0, "", "")
    assert overtop.read_text(encoding="utf-8") == deeper
    for distances in errors:
        assert np.abs(distances).max() < 0.5
        assert np.abs(distances).mean() < 0.1
        assert abs(distances.mean()) < 0.03
    assert len({picture.tobytes() for picture in shown}) == len(shown)


def test_typed_numbers_and_changes_refusals_and_a_file_written_meanwhile(
    desk: Desk, table: Path, alignment: Alignment, overtop: Path
) -> None:
    hands = Hands(desk, alignment, overtop, "low back")
    with desk.program("draft", overtop, "--table", table, "--version", "low back") as program:
        program.focus()
        hands.wake()
        hands.see("as it is in the file")
        hands.press("Return", *"30", "space", *"in", "Return")
        hands.see("a V deeper than the body, refused")
        assert "leaves no body" in hands.session.station.notice
        hands.press(*["BackSpace"] * 5, "7", "space", "1", "slash", "2", "Return")
        hands.see("a V of 7 1/2 in")
        hands.press("Next", "Down", "a", *["Tab"] * 5, "Return")
        hands.see("the back's neck lower")
        kept = read_pattern(overtop)
        assert [spelled(change) for change in kept.changes[:3]] == [
            "neck v, piece front, depth 7 1/2",
            "raise neck 3/4 in, piece back",
            "lower neck 1/2 in, piece back",
        ]
        assert kept == hands.work.pattern
        hands.press("Tab", "Tab", "l", "m", "t")
        hands.see("the piece turned over, the words to another side")
        theirs = overtop.read_text(encoding="utf-8").replace("7 1/2", "6")
        overtop.write_text(theirs, encoding="utf-8")
        desk.keys("Tab", "x")
        desk.wait_for(
            lambda _: overtop.read_text(encoding="utf-8") == theirs, "what another program wrote, kept"
        )
        desk.keys("q")
        assert program.end() == (0, "", "")
    assert overtop.read_text(encoding="utf-8") == theirs


def test_the_measure_of_the_drafted_line_can_fail(alignment: Alignment, overtop: Path, desk: Desk) -> None:
    hands = Hands(desk, alignment, overtop)
    picture = frame((layer.draw() for layer in hands.session.scene()), SCREEN_PX)
    assert np.abs(cut_line_error_px(picture, alignment, hands.work)).mean() < 0.1
    assert np.abs(cut_line_error_px(np.roll(picture, 1, axis=0), alignment, hands.work)).mean() > 0.3
    deeper = hands.work.with_length(stepped(hands.work.length, 1, fine=True))
    assert np.abs(cut_line_error_px(picture, alignment, deeper)).max() > 0.5
