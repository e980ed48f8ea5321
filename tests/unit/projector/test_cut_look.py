"""Looks at the cutting station: asked for on the command line, changed by keys also in a frozen light, kept."""

import json
from dataclasses import replace
from pathlib import Path

import cv2
import numpy as np
import pytest

from patterns import example, read_pattern
from patterns.measures import Unit
from projector.actions import (
    Action,
    ChangeLine,
    ChangeLook,
    ChangeText,
    ChangeTool,
    Freeze,
    Move,
    Show,
    ShowGrid,
    ShowRepeats,
)
from projector.cloth.ground import Ground
from projector.cutting.kept import CutSession, KeptWork
from projector.cutting.progress import progress_rows
from projector.lighting.lit_area import lit_area
from projector.lighting.look import STRIP_ASIDE_HEIGHT_IN
from projector.lighting.looks import LOOKS
from projector.lighting.seeing import Seeing
from projector.outputs import write_picture
from projector.places import read_work
from projector.scene import Controls
from projector.stations.cut import CutStation
from tests.unit.projector.cloth_photos import LIT_ROOM
from tests.unit.projector.commands import a_table, result
from tests.unit.projector.samples import a_map, an_alignment, pieces

PATTERN = example("harbour overtop")
ALIGNMENT = an_alignment()
GROUND = Ground(pieces=tuple(pieces().values()), alignment=ALIGNMENT, lit=lit_area(ALIGNMENT.map))
START = CutStation.begun(GROUND)
ASKED: tuple[Action, ...] = (ChangeLook(), ChangeLine(by=1), ChangeText(by=-1), ShowRepeats(), ShowGrid())


def cut_frame(
    folder: Path, capsys: pytest.CaptureFixture[str], *arguments: str
) -> "tuple[np.ndarray[tuple[int, ...], np.dtype[np.uint8]], dict[str, object]]":
    picture = folder / "frame.png"
    code, out, err = result(
        capsys, "cut", PATTERN, "--table", a_table(folder), "--frame", picture, "--json", *arguments
    )
    assert (code, err) == (0, "")
    read = cv2.imread(str(picture))
    assert read is not None
    return np.asarray(read, dtype=np.uint8), json.loads(out)


def test_a_look_a_line_and_a_size_of_words_are_asked_for_on_the_command_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    usual, told = cut_frame(tmp_path, capsys)
    assert told["look"] == "light"
    asked, told_asked = cut_frame(
        tmp_path, capsys, "--look", "printed", "--line", "1/8in", "--text", "3/8 in"
    )
    assert told_asked["look"] == "printed"
    station = replace(
        START, work=replace(START.work, seeing=Seeing(name="printed", line_in=1 / 8, text_in=3 / 8))
    )
    assert station.look == replace(LOOKS["printed"], line_in=1 / 8, text_in=3 / 8)
    assert (asked > 200).sum() > 1.5 * (usual > 200).sum()
    near = slice(950, 1080)
    assert 0 < (asked[near] > 60).sum() < 0.8 * (usual[near] > 60).sum()
    shiny, _ = cut_frame(tmp_path, capsys, "--look", "shiny")
    assert shiny.max() == pytest.approx(255 * 0.5 ** (1 / 2.2), abs=8)
    assert told["cut_line_in"] == told_asked["cut_line_in"]


def test_a_photo_of_the_cloth_tells_the_look_and_warns(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photo, picture = tmp_path / "cloth.jpg", tmp_path / "frame.png"
    write_picture(photo, LIT_ROOM.photo())
    table = a_table(tmp_path)
    code, out, err = result(
        capsys, "cut", PATTERN, "--table", table, "--frame", picture, "--json", "--cloth", photo
    )
    assert code == 0
    assert json.loads(out)["look"] == "dark"
    assert "dim the room to about 1/2 of its light" in err


@pytest.mark.parametrize(
    ("arguments", "complaint"),
    [
        (("--line", "1/2 in"), 'found "1/2 in"; a line is 1/32 in (0.8 mm) to 1/4 in (6.3 mm) wide'),
        (("--text", "5 mm"), 'found "5 mm"; words are 3/8 in (1 cm) to 2 in (5 cm) high'),
        (("--line", "broad"), '"broad"'),
        (("--look", "velvet"), "choose from"),
        (("--look=dark", "--cloth=a.jpg"), "not allowed with"),
    ],
)
def test_what_cannot_be_is_a_sentence(
    arguments: tuple[str, str], complaint: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        result(capsys, "cut", PATTERN, "--table", "t.yaml", *arguments)
    assert ended.value.code == 2
    assert complaint in capsys.readouterr().err


def test_keys_change_how_it_is_seen_and_say_so_while_pieces_are_laid_and_while_they_are_cut(
    tmp_path: Path,
) -> None:
    kept = KeptWork(path=tmp_path / "t.places.json", setup="sail loft", pattern="overtop")
    laying: tuple[Action, ...] = ()
    for held in (laying, (Freeze(),)):
        session = CutSession(START, kept)
        for action in held:
            session.take(action)
        lies = session.station.lies
        for action in ASKED:
            session.take(action)
            assert session.station.notice in session.station.strip_words(Controls()).aside
        seeing = session.station.work.seeing
        assert seeing == Seeing(name="dark", line_in=3 / 16, text_in=3 / 4, repeats=True, grid=Unit.IN)
        assert session.station.lies == lies
        assert {"repeats", "grid"} <= {layer.name for layer in session.scene()}
        work = read_work(kept.path, kept.setup, kept.pattern)
        assert work is not None
        assert work.seeing == seeing
        assert kept.resumed(START).look == seeing.look


@pytest.mark.parametrize(
    ("name", "edge"),
    [
        ("light", "solid line"),
        ("shiny", "dark between the two lines"),
        ("printed", "dashes between the two lines"),
    ],
)
def test_what_to_cut_along_is_said_as_it_is_drawn(name: str, edge: str) -> None:
    station = replace(START, work=replace(START.work, seeing=Seeing(name=name))).after(Freeze())
    assert f"cut along the {edge}" in station.strip_words(Controls()).first
    assert f"cut along the {edge}" in [row.text for row in progress_rows(station)]


def test_every_layer_that_a_look_changes_is_drawn_anew_and_no_other() -> None:
    full = replace(START, work=replace(START.work, seeing=Seeing(repeats=True, grid=Unit.CM)))
    before = {layer.name: layer.key for layer in full.scene(Controls())}
    after = {layer.name: layer.key for layer in full.after(ChangeLook()).scene(Controls())}
    assert before.keys() == after.keys()
    assert all(before[name] != after[name] for name in before)
    moved = {layer.name: layer.key for layer in full.after(Move(right=1)).scene(Controls())}
    assert moved["grid"] == before["grid"], (
        "a grid that goes with the cloth stands still while a piece is moved"
    )


@pytest.mark.parametrize("name", LOOKS)
def test_the_same_is_lit_in_every_look(name: str) -> None:
    station = replace(START, work=replace(START.work, seeing=Seeing(name=name)))
    assert [layer.name for layer in station.scene(Controls())] == [
        layer.name for layer in START.scene(Controls())
    ]


@pytest.mark.parametrize("width_in", [64.0, 56.0, 40.0])
def test_the_keys_are_read_standing_whatever_piece_is_lit_and_whatever_tool_is_used(width_in: float) -> None:
    """No smaller than the strip's words aside may become."""
    right, far = width_in / 2, width_in * 9 / 32
    seen = a_map(
        screen_px=(1280, 720), corners_in=((-right, far), (right, far), (right, -far), (-right, -far))
    )
    drawn, lit = read_pattern(example("harbour overtop")).drafted(), lit_area(seen)
    ground = Ground(pieces=tuple(drawn.pieces.values()), alignment=an_alignment(seen), lit=lit)
    station = CutStation.begun(ground)
    for number in range(len(ground.pieces)):
        shown = station.after(Show(number=number + 1))
        for _ in range(4):
            (key,) = (layer.key for layer in shown.scene(Controls(helping=True)) if layer.name == "help")
            assert isinstance(key, tuple)
            assert key[0].letter_in >= (0.5 if width_in > 50 else STRIP_ASIDE_HEIGHT_IN / 2)
            shown = shown.after(ChangeTool())
