"""Cutting in a real window, driven by real keys, read back pixel by pixel."""

import time
from itertools import pairwise
from pathlib import Path

import cv2
import numpy as np
import pytest
from scipy.spatial import KDTree

from calibration.frames import Array
from calibration.table.saved import Alignment
from calibration.table.setups import TableFile
from calibration.table.table_file import save_alignment, save_table
from patterns import example, read_pattern
from patterns.cutting.marks import LineKind, marks_of
from projector.actions import (
    Action,
    Back,
    Drag,
    Flip,
    Freeze,
    Grab,
    Help,
    Home,
    Mirror,
    Move,
    Next,
    Open,
    Show,
    Turn,
    Untick,
)
from projector.cloth.ground import Ground
from projector.cutting.steps import steps_of
from projector.lighting.canvas import frame
from projector.lighting.lit_area import lit_area
from projector.lighting.look import DISPLAY_GAMMA
from projector.places import places_path, read_work
from projector.session import Session
from projector.stations.cut import CutStation
from projector.trust import ruler_words
from tests.outside.test_projective import sections
from tests.unit.projector.samples import SCREEN_PX, a_map, a_setup, an_alignment
from tests.window.desk import PEDAL_S, Desk, Pixels, a_desk
from tests.window.outputs import set_output
from tests.window.pictures import stray_px, wait_for_picture

PATTERN = example("harbour overtop")
DRAFTED = read_pattern(PATTERN).drafted()
LENS_PX = 1.0


def a_session(alignment: Alignment, *, preview: bool = False) -> Session[CutStation]:
    ground = Ground(
        pieces=tuple(DRAFTED.pieces.values()),
        alignment=alignment,
        lit=lit_area(alignment.map),
        tested=ruler_words(a_setup(alignment).ruler_tests),
    )
    return Session(CutStation.begun(ground), preview=preview)


def expected(session: Session[CutStation], *actions: Action) -> Pixels:
    """The picture after further actions, drawn whole and without a window."""
    for action in actions:
        session.take(action)
    return frame((layer.draw() for layer in session.scene()), SCREEN_PX)


def cut_line_error_px(
    pixels: Pixels, alignment: Alignment, piece: str, session: Session[CutStation]
) -> Array:
    """Distances of the shown cut line's centres from the exactly mapped cut line, every 0.05 in along it.

    Where a notch crosses or the fold begins, light that is not the cut line's is left out. The light is blurred by
    a pixel, as any lens does: a line of two pixels, its coverage exact, would else be read up to 0.1 px aside.
    """
    marks = marks_of(DRAFTED.pieces[piece], session.station.placement)
    (cut,) = marks.of_kind(LineKind.CUT)
    path = np.vstack([cut.points, cut.points[:1]]) if cut.closed else cut.points
    place = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(path, axis=0), axis=1))])
    along = np.arange(0.05, place[-1], 0.05)
    samples = np.column_stack([np.interp(along, place, path[:, k]) for k in (0, 1)])
    others = [line.points for kind in LineKind if kind is not LineKind.CUT for line in marks.of_kind(kind)]
    other_points = np.vstack([_filled(points) for points in others])
    corners = path[1:-1][_turns(path) > np.deg2rad(10)]
    clear = (_apart(samples, other_points) > 0.3) & (
        _apart(samples, np.vstack([corners, path[[0, -1]]])) > 0.3
    )
    exact = alignment.map.screen_from_table(samples)
    on_screen = ((exact > 8) & (exact < np.array(SCREEN_PX) - 8)).all(axis=1)
    light = (pixels[:, :, 0] / 255.0) ** DISPLAY_GAMMA
    seen = np.asarray(cv2.GaussianBlur(light, (0, 0), LENS_PX), dtype=np.float64)
    distances: Array = sections(seen, exact)[clear & on_screen]
    assert len(distances) > len(samples) // 5
    return distances


def _filled(points: Array) -> Array:
    steps = np.linspace(0, 1, 40)[:, None]
    return np.vstack([a + steps * (b - a) for a, b in pairwise(points)])


def _turns(path: Array) -> Array:
    step = np.diff(path, axis=0)
    direction = np.arctan2(step[:, 1], step[:, 0])
    turns: Array = np.abs((np.diff(direction) + np.pi) % (2 * np.pi) - np.pi)
    return turns


def _apart(points: Array, others: Array) -> Array:
    nearest: Array = np.asarray(KDTree(others).query(points)[0])
    return nearest


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


def dragged(start: tuple[int, int], end: tuple[int, int]) -> tuple[Action, ...]:
    """What the session takes when the mouse is dragged, as the desk does it."""
    middle = ((start[0] + end[0]) // 2, (start[1] + end[1]) // 2)
    return (Grab(), Drag(from_px=start, to_px=middle), Drag(from_px=middle, to_px=end))


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


def check_cut_line(pixels: Pixels, alignment: Alignment, session: Session[CutStation]) -> None:
    """The cut line that is shown is the one the map says."""
    distances = cut_line_error_px(pixels, alignment, session.station.piece.name, session)
    assert np.abs(distances).max() < 0.1
    assert abs(distances.mean()) < 0.03


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
        frozen = wait_for_picture(desk, expected(session, Freeze()), "frozen")
        desk.keys("Left", "Up", "l", "r", "m", "o", "a", "t", "s", "h", "BackSpace", "u", "y", "Tab")
        desk.drag((800, 400), (900, 500))
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


def test_a_preview_window_says_that_it_is_not_true_to_size(
    desk: Desk, table: Path, alignment: Alignment
) -> None:
    session = a_session(alignment, preview=True)
    with desk.program("cut", PATTERN, "--table", table, "--window", "1920x1080") as program:
        program.focus()
        wait_for_picture(desk, expected(session), "preview")
        assert "preview, not true to size" in str(session.scene()[1].key)


def test_a_window_that_is_moved_off_the_projector_goes_dark_and_says_why(
    desk: Desk, table: Path, alignment: Alignment
) -> None:
    session = a_session(alignment)
    with desk.program("cut", PATTERN, "--table", table) as program:
        window = program.focus()
        start = wait_for_picture(desk, expected(session), "start")
        desk.xdotool("windowmove", window, "40", "30")
        lines = start.max(axis=2) > 0
        desk.wait_for(
            lambda pixels: (
                (pixels.max(axis=2) > 0)[400:700].sum() > 0 and (pixels[lines].max(axis=1) > 0).mean() < 0.2
            ),
            "the reason instead of cut lines",
        )
        desk.keys("q")
        code, _, said = program.end()
        assert code == 1
        assert "the projector's display moved while it was in use" in said
        assert "Traceback" not in said


@pytest.mark.parametrize(
    ("size_px", "happened"),
    [(None, "was switched off or unplugged"), ((1280, 720), "changed from 1920x1080 to 1280x720")],
)
def test_a_display_that_is_unplugged_or_set_otherwise_goes_dark_and_says_why(
    tmp_path: Path, table: Path, alignment: Alignment, size_px: tuple[int, int] | None, happened: str
) -> None:
    with a_desk(tmp_path) as own, own.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        lines = wait_for_picture(own, expected(a_session(alignment)), "start").max(axis=2) > 0
        set_output(own.display, size_px)
        own.wait_for(
            lambda pixels: bool(pixels.any() and (pixels[lines].max(axis=1) > 0).mean() < 0.2),
            "the reason instead of cut lines",
        )
        own.keys("Right", "Next", "q")
        code, _, said = program.end()
    assert code == 1
    assert f"the projector's display {happened} while it was in use" in said


def test_without_a_trustworthy_map_there_are_words_and_no_cut_lines(desk: Desk, tmp_path: Path) -> None:
    alignment = an_alignment(trustworthy=False)
    table = tmp_path / "doubtful.yaml"
    save_alignment(table, alignment)
    lines = expected(a_session(alignment)).max(axis=2) > 0
    with desk.program("cut", PATTERN, "--table", table) as program:
        program.focus()
        shown = desk.wait_for(lambda pixels: bool(pixels.any()), "a message")
        assert (shown[lines].max(axis=1) > 0).mean() < 0.2
        desk.keys("q")
        code, _, said = program.end()
        assert code == 1
        assert said.startswith("chalkbeam cut: This alignment cannot be trusted, so no cut lines are shown")


def test_a_display_of_another_size_is_refused_with_both_sizes(desk: Desk, tmp_path: Path) -> None:
    table = tmp_path / "small.yaml"
    small = a_setup(an_alignment(a_map(screen_px=(1280, 720))))
    save_table(table, TableFile(setups=(small,)))
    with desk.program("cut", PATTERN, "--table", table) as program:
        assert program.end() == (
            1,
            "",
            "chalkbeam cut: display 0 is 1920x1080, but the table file is for 1280x720; "
            "set the display to 1280x720, or align again at 1920x1080\n",
        )
    with desk.program("cut", PATTERN, "--table", table, "--display", "3") as program:
        assert program.end()[2].startswith(
            "chalkbeam cut: found 1 display(s), numbered from 0, but --display 3"
        )
