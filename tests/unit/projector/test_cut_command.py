"""`cut` without a window: frames, what is printed, and what is refused."""

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import cv2
import numpy as np
import pytest

from calibration import load_map, save_alignment
from calibration.table.saved import Alignment
from calibration.table.setups import TableFile
from calibration.table.table_file import save_table
from calibration.trust.closed_loop import LoopTest
from calibration.trust.surface import Surface
from patterns import example, read_pattern
from patterns.cutting import labels
from projector.cloth.ground import Ground
from projector.lighting.lit_area import lit_area
from projector.scene import Controls
from projector.stations.cut import CutStation
from projector.verbs.cut import draw_all
from tests.unit.projector.commands import a_table, check_refusal, ours, result
from tests.unit.projector.samples import a_map, a_setup, an_alignment

PATTERN = example("harbour overtop")


def test_a_frame_needs_no_screen_and_says_where_the_light_falls(tmp_path: Path) -> None:
    table, picture = a_table(tmp_path), tmp_path / "frame.png"
    bare = {"DISPLAY": "", "WAYLAND_DISPLAY": "", "SDL_VIDEODRIVER": "nothing"}
    arguments = ("--frame", picture, "--json", "--at", "-3 in, 12 in", "--turn", "10", "--mirrored")
    done = ours("cut", PATTERN, "--table", table, "--piece", "back", *arguments, env=bare)
    assert (done.returncode, done.stderr) == (0, "")
    found = json.loads(done.stdout)
    assert found["piece"] == "back"
    assert (found["origin_in"], found["turn_deg"]) == ([-3.0, 12.0], 10.0)
    assert (found["mirrored"], found["opened"]) == (True, False)
    assert "MIRRORED" in found["strip"]
    piece = read_pattern(PATTERN).drafted().pieces["back"]
    assert len(found["cut_line_in"]) == len(piece.cut_line)
    assert len(found["seam_line_in"]) == len(piece.seam_line)
    frame = cv2.imread(str(picture))
    assert frame is not None
    assert frame.shape == (1080, 1920, 3)
    light = frame[:, :, 2] / 255.0
    points = np.rint(load_map(table).screen_from_table(found["cut_line_in"])).astype(int)
    inside = ((points > 2) & (points < (1917, 1077))).all(axis=1)
    near = [light[v - 1 : v + 2, u - 1 : u + 2].max() for u, v in points[inside]]
    assert len(near) > 100
    assert min(near) > 0.7


def test_the_lines_of_a_turned_drawing_are_given_on_the_table(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    turned = Alignment(
        **{
            **{name: getattr(an_alignment(), name) for name in Alignment.__slots__},
            "turn_deg": 90.0,
            "shift_in": (2.0, 1.0),
        }
    )
    table = a_table(tmp_path, turned)
    shared = ("cut", PATTERN, "--table", table, "--frame", tmp_path / "f.png", "--json", "--at", "3in,0in")
    for options, turn_deg in (((), 90.0), (("--turn", "10"), 100.0)):
        code, out, _ = result(capsys, *shared, *options)
        assert code == 0
        found = json.loads(out)
        assert found["origin_in"] == pytest.approx([2.0, 4.0])
        assert found["turn_deg"] == pytest.approx(turn_deg)


def test_without_at_the_piece_lies_in_the_middle_and_a_turn_keeps_it_there(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = a_table(tmp_path)
    shared = ("cut", PATTERN, "--table", table, "--frame", tmp_path / "f.png", "--json")
    middles = []
    for options in ((), ("--turn", "90")):
        code, out, _ = result(capsys, *shared, *options)
        assert code == 0
        line = np.array(json.loads(out)["cut_line_in"])
        middles.append((line.min(axis=0) + line.max(axis=0)) / 2)
    assert np.abs(middles[0] - middles[1]).max() < 6
    assert np.abs(middles[0]).max() < 4


def test_an_opened_piece_is_one_outline_on_both_sides_of_its_centre(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = a_table(tmp_path)
    code, out, _ = result(
        capsys,
        "cut",
        PATTERN,
        "--table",
        table,
        "--frame",
        tmp_path / "f.png",
        "--json",
        "--opened",
        "--at",
        "1,5",
    )
    assert code == 0
    line = np.array(json.loads(out)["cut_line_in"])
    assert line[:, 0].max() - 1 == pytest.approx(1 - line[:, 0].min())


def small(folder: Path) -> tuple[str | Path, ...]:
    return ("cut", PATTERN, "--table", a_table(folder), "--window", "1280x720", "--frame", folder / "f.png")


def doubtful(folder: Path) -> tuple[str | Path, ...]:
    return (
        "cut",
        PATTERN,
        "--table",
        a_table(folder, an_alignment(trustworthy=False)),
        "--frame",
        folder / "f.png",
    )


def no_piece(folder: Path) -> tuple[str | Path, ...]:
    return ("cut", PATTERN, "--table", a_table(folder), "--frame", folder / "f.png", "--piece", "collar")


def no_pattern(folder: Path) -> tuple[str | Path, ...]:
    return ("cut", folder / "none.yaml", "--table", a_table(folder), "--frame", folder / "f.png")


def no_table(folder: Path) -> tuple[str | Path, ...]:
    return ("cut", PATTERN, "--table", folder / "none.yaml", "--frame", folder / "f.png")


def no_folder(folder: Path) -> tuple[str | Path, ...]:
    return ("cut", PATTERN, "--table", a_table(folder), "--frame", folder / "nowhere" / "f.png")


def vast(folder: Path) -> tuple[str | Path, ...]:
    table = a_table(folder)
    table.write_text(
        table.read_text(encoding="utf-8").replace("width: 1920", "width: 192000000"), encoding="utf-8"
    )
    return ("cut", PATTERN, "--table", table, "--frame", folder / "f.png")


def no_version(folder: Path) -> tuple[str | Path, ...]:
    return ("cut", PATTERN, "--table", a_table(folder), "--frame", folder / "f.png", "--version", "winter")


@pytest.mark.parametrize(
    ("arrange", "sentence"),
    [
        (
            small,
            "--window is 1280x720, but the table file is for 1920x1080; use 1920x1080, or",
        ),
        (doubtful, "This alignment cannot be trusted, so no cut lines are shown: "),
        (no_piece, 'found no piece "collar"; the pattern has front, back, front facing, back facing'),
        (no_pattern, "none.yaml"),
        (no_table, "none.yaml: cannot be read"),
        (no_folder, "nowhere"),
        (vast, "the table file is for a screen of 192000000x1080, which there is not; align again"),
        (no_version, "winter"),
    ],
)
def test_what_a_person_can_mend_is_one_sentence_and_leaves_nothing(
    arrange: Callable[[Path], tuple[str | Path, ...]],
    sentence: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    check_refusal(capsys, tmp_path, arrange(tmp_path), sentence)


def test_a_piece_without_a_fold_cannot_be_opened(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pattern = tmp_path / "belt.yaml"
    pattern.write_text(
        "pattern: belt\nunit: in\nallowance: {seam: 1/2 in}\npieces:\n  belt:\n    cut: 1\n    edges:\n"
        "      - {name: end, kind: seam, path: [[0, 0], [3, 0]]}\n"
        "      - {name: right, kind: seam, path: [[3, 0], [3, 20]]}\n"
        "      - {name: foot, kind: seam, path: [[3, 20], [0, 20]]}\n"
        "      - {name: left, kind: seam, path: [[0, 20], [0, 0]]}\n",
        encoding="utf-8",
    )
    shared = ("cut", pattern, "--table", a_table(tmp_path), "--frame", tmp_path / "f.png")
    assert result(capsys, *shared)[0] == 0
    code, _, err = result(capsys, *shared, "--opened")
    assert (code, err) == (1, "chalkbeam cut: belt has no fold to open; leave --opened out\n")


def test_without_a_screen_the_window_is_refused_with_what_to_do(tmp_path: Path) -> None:
    table = a_table(tmp_path)
    bare = {"DISPLAY": "", "WAYLAND_DISPLAY": ""}
    for driver, found in (("dummy", 'only the unseen display "dummy"'), ("x11", "no screen")):
        done = ours("cut", PATTERN, "--table", table, env={**bare, "SDL_VIDEODRIVER": driver})
        assert done.returncode == 1
        assert done.stderr.startswith(f"chalkbeam cut: found {found}")
        assert "--frame" in done.stderr
        assert "Traceback" not in done.stderr


def test_a_frame_for_another_screen_has_that_size(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = a_table(tmp_path, an_alignment(a_map(screen_px=(1280, 720))))
    picture = tmp_path / "f.png"
    assert result(capsys, "cut", PATTERN, "--table", table, "--frame", picture)[0] == 0
    frame = cv2.imread(str(picture))
    assert frame is not None
    assert frame.shape == (720, 1280, 3)


def test_a_ruler_test_that_is_missing_is_warned_of_in_the_strip_and_on_standard_error(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = tmp_path / "table.yaml"
    save_alignment(table, an_alignment())
    code, out, err = result(capsys, "cut", PATTERN, "--table", table, "--frame", tmp_path / "f.png", "--json")
    assert code == 0
    assert err == f"{table}, sail loft: no ruler test yet; see chalkbeam check --help\n"
    found = json.loads(out)
    assert found["warnings"] == ["no ruler test yet"]
    assert "no ruler test yet" in found["strip"]
    assert found["setup"] == "sail loft"


def test_what_is_drawn_and_claimed_is_what_is_in_force(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = tmp_path / "table.yaml"
    loop = LoopTest(looked_on=datetime.now().astimezone(), marks=9, rms_in=0.03, p95_in=0.05, most_in=0.06)
    raised = Surface(height_in=0.25, lens_in=(0.0, 0.0, 70.0), corrected=True)
    flat = a_setup(an_alignment(p95_in=0.02))
    places = []
    for setup in (flat, replace(flat.tested(loop), surface=raised)):
        save_table(table, TableFile(setups=(setup,)))
        frame = tmp_path / "f.png"
        _, out, _ = result(
            capsys, "cut", PATTERN, "--table", table, "--frame", frame, "--json", "--at", "9,9"
        )
        picture = cv2.imread(str(frame))
        assert picture is not None
        places.append(picture.astype(int))
        claimed = json.loads(out)["good_to_in"]
    # Twice the loop's, and a little for how well the lens's height is known.
    assert 0.1 < claimed < 0.105
    assert np.abs(places[0] - places[1]).max() > 100


def two_setups(folder: Path, second_px: tuple[int, int]) -> Path:
    table = folder / "table.yaml"
    attic = replace(an_alignment(a_map(screen_px=second_px)), name="attic")
    save_table(table, TableFile(setups=(a_setup(), a_setup(attic))))
    return table


def test_the_set_up_is_chosen_by_its_name_or_the_screen(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = two_setups(tmp_path, (1280, 720))
    shared = ("cut", PATTERN, "--table", table, "--frame", tmp_path / "f.png", "--json")
    for options, name, size in (
        (("--setup", "attic"), "attic", [1280, 720]),
        (("--window", "1280x720"), "attic", [1280, 720]),
        (("--window", "1920x1080"), "sail loft", [1920, 1080]),
    ):
        code, out, _ = result(capsys, *shared, *options)
        assert code == 0
        assert (json.loads(out)["setup"], json.loads(out)["screen_px"]) == (name, size)


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        ((), 'found 2 set-ups that may be meant: "sail loft" (1920x1080), "attic" (1920x1080); name one'),
        (("--window", "1920x1080"), "found 2 set-ups that may be meant"),
        (("--setup", "barn"), 'found no set-up "barn"; there is "sail loft" (1920x1080), "attic"'),
        (("--window", "800x600"), 'the screen is 800x600, but the table file has "sail loft" (1920x1080)'),
        (
            ("--setup", "attic", "--window", "800x600"),
            "--window is 800x600, but the table file is for 1920x1080",
        ),
    ],
)
def test_where_no_one_set_up_is_meant_all_are_listed(
    options: tuple[str, ...], sentence: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = two_setups(tmp_path, (1920, 1080))
    shared: tuple[str | Path, ...] = ("cut", PATTERN, "--table", table, "--frame", tmp_path / "f.png")
    check_refusal(capsys, tmp_path, (*shared, *options), sentence)


def test_once_all_is_drawn_unseen_no_copy_has_to_find_room_for_its_words() -> None:
    alignment = an_alignment(a_map())
    drawn = read_pattern(PATTERN).drafted()
    ground = Ground(pieces=tuple(drawn.pieces.values()), alignment=alignment, lit=lit_area(alignment.map))
    station = CutStation.begun(ground)
    draw_all(station)
    searched = labels._block.cache_info().misses
    for number in station.copies.order:
        for layer in replace(station, shown=number).scene(Controls()):
            layer.draw()
    assert labels._block.cache_info().misses == searched > 0
