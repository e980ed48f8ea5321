"""Tracing on the table in a real window, by real keys and a real mouse: from nothing to a pattern to cut from."""

import json
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import shapely

from calibration.frames import Array
from calibration.table.saved import Alignment
from patterns import Kind, read_pattern
from patterns.cutting.placement import Placement
from patterns.measures import Unit
from patterns.tracing.hand_trace import HandTrace, Place, Way
from patterns.tracing.laid_piece import LaidPiece
from projector.actions import Aim, PutDown, TakeUp
from projector.bindings import action_of, typed_by
from projector.lighting.canvas import frame
from projector.lighting.lit_area import lit_area
from projector.lighting.look import DISPLAY_GAMMA
from projector.session import Session
from projector.stations.trace import TraceStation, Work
from projector.tracing.file import keep_trace, kept_path, read_kept
from projector.tracing.ground import TraceGround
from tests.outside.test_projective import sections
from tests.unit.projector.samples import SCREEN_PX
from tests.window.desk import Desk, Pixels
from tests.window.pictures import wait_for_picture

# A bosun's half smock as it lies on the table, folded: the fold's ends, then round from its top.
LYING = Placement(x_in=-6.0, y_in=13.0, turn_deg=8.0)
FOLD = ((0.0, 3.5), (0.0, 22.0))
WALK = (
    ((1.6, 2.7), Way.CURVE), ((3.0, 0.0), Way.CORNER), ((13.0, 3.5), Way.CORNER), ((12.25, 8.0), Way.CORNER),
    ((9.5, 9.25), Way.CURVE), ((8.75, 12.0), Way.CURVE), ((9.5, 21.5), Way.CORNER), ((4.5, 22.0), Way.CURVE),
)  # fmt: skip
KEYS = {"Return": "return", "BackSpace": "backspace", "slash": "/", "minus": "-"}
PIXEL_IN = 1 / 27  # of the sample table, at most
TRUE_IN = 1 / 64 + PIXEL_IN


def on_table(at_in: Place) -> Place:
    x, y = LYING.placed(np.array([at_in]))[0].tolist()
    return x, y


def beside(at_in: Place, *, right_in: float, near_in: float) -> Place:
    """The place that is so far to the right and nearer, as the person sees it."""
    x, y = LYING.lifted(np.array([on_table(at_in)]) + (right_in, -near_in))[0].tolist()
    return x, y


def the_smock() -> HandTrace:
    """What a hand that never errs would trace."""
    trace = HandTrace()
    for at_in in FOLD:
        trace = trace.with_point(on_table(at_in), Way.CORNER)
    for at_in, way in WALK:
        trace = trace.with_point(on_table(at_in), way)
    return trace.closed_up()


class Hands:
    """Does the same at the desk and to a session without a window, whose picture must be the desk's."""

    def __init__(self, desk: Desk, alignment: Alignment, work: Work, notice: str = "") -> None:
        ground = TraceGround(
            piece="front", unit=Unit.IN, file="smock.yaml", alignment=alignment, lit=lit_area(alignment.map),
            judge=lambda piece: piece,
        )  # fmt: skip
        self.desk, self.map = desk, alignment.map
        self.session = Session(TraceStation.begun(ground, work, notice=notice))

    def point_at(self, at_in: Place) -> tuple[int, int]:
        """The mouse to the pixel nearest to a place in piece inches."""
        u, v = np.rint(self.map.screen_from_table([on_table(at_in)])[0]).astype(int).tolist()
        self.desk.xdotool("mousemove", str(u), str(v))
        self.session.take(Aim(at_px=(u, v)))
        return u, v

    def press(self, *keys: str) -> None:
        self.desk.keys(*keys)
        for key in keys:
            name, shift = KEYS.get(key, key.lower()).removeprefix("shift+"), key.startswith("shift+")
            bindings = self.session.station.bindings
            action = typed_by(bindings, name) or action_of(bindings, name, shift=shift)
            assert action is not None, key
            self.session.take(action)

    def click(self, button: int) -> None:
        self.desk.xdotool("click", str(button))
        names = {1: ("left button", "left button let go"), 3: ("right button",)}[button]
        for name in names:
            action = action_of(self.session.station.bindings, name, shift=False)
            if action is not None:
                self.session.take(action)

    def drag(self, from_px: tuple[int, int], by_px: tuple[int, int]) -> None:
        """With the left button down; the pointer is there already."""
        to_px = (from_px[0] + by_px[0], from_px[1] + by_px[1])
        u, v = map(str, to_px)
        self.desk.xdotool("mousedown", "1", "mousemove", u, v, "mouseup", "1")
        for action in (TakeUp(), Aim(at_px=to_px), PutDown()):
            self.session.take(action)

    def see(self, name: str) -> Pixels:
        """The picture, once the desk shows it to the last bit."""
        layers = self.session.scene()
        return wait_for_picture(self.desk, frame((layer.draw() for layer in layers), SCREEN_PX), name)


def trace_options(table: Path, out: Path) -> tuple[str | Path, ...]:
    return ("trace", "--table", table, "--out", out, "--display", "0")


def strays_in(work: Work) -> Iterator[float]:
    """How far each edge lies from the smock's own at most, in inches."""
    paths = work.paths_in if isinstance(work, LaidPiece) else [edge.points for edge in work.edges]
    for true, path in zip(the_smock().edges, paths, strict=False):
        yield float(shapely.distance(shapely.LineString(true.points), shapely.points(path)).max())


def line_error_px(pixels: Pixels, alignment: Alignment, station: TraceStation) -> Array:
    """Distances of the shown outline's centre from its exactly mapped curve, clear of marks and the cross."""
    assert isinstance(station.work, HandTrace)
    samples = np.concatenate(
        [edge.points_at(np.arange(0, edge.length_in, 0.05)) for edge in station.work.edges]
    )
    others = np.concatenate([station.work.places_in, [station.cross.at_in]])
    apart = np.hypot(*(samples[:, None] - others).transpose(2, 0, 1)).min(axis=1)
    exact = alignment.map.screen_from_table(samples[apart > 1.2])
    distances: Array = sections((pixels[:, :, 0] / 255.0) ** DISPLAY_GAMMA, exact)
    return distances


def test_a_garment_walked_round_becomes_a_pattern_also_after_a_power_cut(
    desk: Desk, table: Path, alignment: Alignment, tmp_path: Path
) -> None:
    out = tmp_path / "smock.yaml"
    kept_in = kept_path(out, "front")
    hands = Hands(desk, alignment, HandTrace())
    with desk.program(*trace_options(table, out)) as program:
        program.focus()
        hands.point_at(FOLD[0])
        hands.see("before anything is set")
        hands.press("Return")
        hands.point_at(FOLD[1])
        hands.click(1)
        hands.see("the fold")
        hands.point_at(WALK[0][0])
        hands.click(3)
        hands.point_at(beside(WALK[1][0], right_in=0.25, near_in=0.25))
        hands.press(*["Left"], *["shift+Up"] * 16, "Return", "u", "u", "y", "y", "h", "h")
        hands.see("the neck")
        for at_in, way in WALK[2:5]:
            hands.point_at(at_in)
            hands.press("Return" if way is Way.CORNER else "c")
        hands.see("half way round")
        assert not out.exists()
        program.process.kill()
        program.process.wait()
    kept = read_kept(kept_in)
    assert kept.lies == hands.session.station.work
    assert kept.setup == alignment.name

    going_on = "going on with the outline that was begun, not closed yet"
    hands = Hands(desk, alignment, kept.lies, going_on)
    with desk.program(*trace_options(table, out)) as program:
        program.focus()
        for at_in, way in WALK[5:]:
            hands.point_at(at_in)
            hands.press("Return" if way is Way.CORNER else "c")
        hands.point_at((7.0, 14.0))
        shown = hands.see("all round")
        distances = line_error_px(shown, alignment, hands.session.station)
        assert len(distances) > 200
        assert np.abs(distances).mean() < 0.1
        assert abs(distances.mean()) < 0.03
        hands.press("d")
        hands.see("closed, with the usual names")
        assert max(strays_in(hands.session.station.work)) < TRUE_IN
        hands.press("d")
        hands.see("the piece where it lies")
        shoulder = hands.point_at((2.9, 0.1))
        first = hands.session.station.work
        hands.drag(shoulder, (20, 13))
        hands.see("a corner pulled with the mouse")
        assert hands.session.station.work != first
        hands.press("BackSpace")
        hands.see("and put back by undoing")
        assert hands.session.station.work == first
        hands.press("d")
        code, said, complained = program.end()
    assert (code, complained) == (0, "")
    assert f"{kept_in}: {going_on}" in said
    assert f"{out}: front with neck 4 7/8 in, overarm 10" in said
    pattern = read_pattern(out)
    assert LaidPiece(piece=pattern.pieces[0], placement=hands.session.station.work.placement) == first
    seam_line = pattern.drafted().pieces["front"].seam_line
    edges = pattern.drafted().pieces["front"].edges
    assert [edge.kind for edge in edges.values()].count(Kind.FOLD) == 1
    assert edges["centre front"].points[:, 0].tolist() == [0.0, 0.0]
    true = np.concatenate([LYING.lifted(edge.points) for edge in the_smock().edges])
    for one, other in ((seam_line, true), (true, seam_line)):
        assert shapely.distance(shapely.LinearRing(one), shapely.points(other)).max() < TRUE_IN
    assert "placement" in json.loads(kept_in.read_text())
    with desk.program("cut", out, "--table", table, "--frame", tmp_path / "front.png") as cutting:
        assert cutting.end()[0] == 0


def test_a_hem_is_moved_by_a_typed_length_and_a_traced_piece_is_found_again(
    desk: Desk, table: Path, alignment: Alignment, tmp_path: Path
) -> None:
    out = tmp_path / "smock.yaml"
    begun = the_smock()
    keep_trace(kept_path(out, "front"), begun, alignment)
    with desk.program(*trace_options(table, out), "--folded-away", "sleeve hem: 1/2 in") as program:
        program.focus()
        desk.keys("d", "q")
        assert program.end()[0] == 0
    hands_piece = read_pattern(out).pieces[0]
    kept = read_kept(kept_path(out, "front"))
    assert isinstance(kept.lies, Placement)
    hands = Hands(
        desk, alignment, LaidPiece(piece=hands_piece, placement=kept.lies), "front where it was traced"
    )
    with desk.program(*trace_options(table, out)) as program:
        program.focus()
        hands.point_at((4.5, 21.5))
        hands.see("the piece found again")
        hands.press("e", "1", "slash", "2", "Return")
        hands.see("its hem moved out")
        hands.press("d")
        assert program.end()[0] == 0
    pattern = read_pattern(out)
    hem = pattern.drafted().pieces["front"].edges["hem"].points
    old = LYING.lifted(the_smock().edges[4].points)
    middle = hem[len(hem) // 2]
    assert shapely.distance(shapely.LineString(old), shapely.Point(middle)) == pytest.approx(0.5, abs=1 / 64)
