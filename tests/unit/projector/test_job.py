"""The whole job in one window: what is done of each step, what comes next, and the command that each step is."""

from dataclasses import replace
from pathlib import Path

import pytest

from calibration.table.setups import TableFile
from calibration.table.table_file import save_table
from patterns import Placement, Unit, example
from patterns.laying.cloth import Cloth
from patterns.laying.folding import Fold, Folding
from patterns.laying.lay import Lay
from projector.actions import Accept, Cancel, Move, Show, Type, Undo
from projector.command_line import parsed
from projector.cutting.work import CopyWork, CutWork
from projector.errors import ProjectorError
from projector.job.found import PRACTICE, SHEETS, Found
from projector.job.left import Left, read_left, write_left
from projector.job.steps import STEPS, next_step, number_of
from projector.laying.lay_file import lay_path, write_lay
from projector.places import places_path, write_work
from projector.scene import Controls
from projector.stations.job import JobStation
from projector.verbs.open import _understood, learned
from tests.unit.projector.samples import a_map, a_setup, an_alignment

SCREEN_PX = (1920, 1080)


def found(left: Left) -> Found:
    return Found.of(left, SCREEN_PX)


@pytest.fixture
def left(tmp_path: Path) -> Left:
    return Left(folder=str(tmp_path))


@pytest.fixture
def aligned(left: Left) -> Left:
    save_table(left.table_path, TableFile(setups=(a_setup(an_alignment(a_map())),)))
    return left


@pytest.fixture
def drafting(aligned: Left) -> Left:
    (Path(aligned.folder) / "overtop.yaml").write_bytes(example("harbour overtop").read_bytes())
    return replace(aligned, pattern="overtop.yaml")


def opened(left: Left, name: str, answer: str = "") -> list[str]:
    """The command that the step is, once it was answered."""
    station = JobStation.begun(found(left), SCREEN_PX, number_of(name)).opened()
    if station.question is not None and answer:
        for _ in station.question.text:
            station = station.after(Undo())
        for sign in answer:
            station = station.after(Type(text=sign))
    if station.question is not None:
        station = station.after(Accept())
    assert station.opens is not None, station.notice
    return list(station.opens)


def test_an_empty_folder_begins_with_the_sheets_and_then_the_alignment(left: Left) -> None:
    assert next_step(found(left)) == number_of("print")
    Path(left.folder, SHEETS).touch()
    assert next_step(found(left)) == number_of("align")


def test_after_the_alignment_come_the_ruler_test_and_the_practice_piece(aligned: Left) -> None:
    seen = found(aligned)
    ruled = STEPS[number_of("ruler") or 0].done(seen) != ""
    assert next_step(seen) == number_of("practise" if ruled else "ruler")
    Path(aligned.folder, PRACTICE).touch()
    assert STEPS[number_of("practise") or 0].done(found(aligned)) == "laid out"


def test_what_needs_a_map_says_so_before_there_is_one(left: Left) -> None:
    station = JobStation.begun(found(left), SCREEN_PX).after(Show(number=(number_of("cut") or 0) + 1))
    assert station.opens is None
    assert station.notice == "not yet: align first"


def test_what_needs_a_pattern_says_so_before_there_is_one(aligned: Left) -> None:
    station = JobStation.begun(found(aligned), SCREEN_PX).after(Show(number=(number_of("draft") or 0) + 1))
    assert (station.opens, station.notice) == (None, "not yet: trace first, or choose a pattern")


def test_every_step_is_a_command_that_can_be_typed(drafting: Left) -> None:
    for step in STEPS:
        verb, typed = parsed(opened(drafting, step.name))
        assert verb.complaint(typed) is None


def test_a_step_is_answered_with_a_usual_answer_or_with_what_is_typed(drafting: Left) -> None:
    assert opened(drafting, "trace")[:5] == [
        "trace",
        "--table",
        str(drafting.table_path),
        "--piece",
        "sleeve",
    ]
    assert "yoke" in opened(drafting, "trace", "yoke")
    assert opened(drafting, "align", "7 31/32 in")[-3:-2] == ["7 31/32 in"]


def test_a_piece_that_is_there_is_traced_again(drafting: Left) -> None:
    assert opened(drafting, "trace", "front")[-1] == "--again"


def test_a_question_can_be_left_and_an_empty_answer_is_none(drafting: Left) -> None:
    asked = JobStation.begun(found(drafting), SCREEN_PX, number_of("trace")).opened()
    assert asked.question is not None
    assert asked.after(Cancel()).question is None
    empty = asked
    for _ in asked.question.text:
        empty = empty.after(Undo())
    assert empty.after(Accept()).opens is None


def test_an_answer_that_makes_no_command_is_told_in_the_parsers_words(left: Left) -> None:
    with pytest.raises(ProjectorError, match="papyrus"):
        _understood(opened(left, "print", "papyrus"))


def test_left_and_right_look_at_the_folders_other_patterns(drafting: Left) -> None:
    Path(drafting.folder, "apron.yaml").touch()
    station = JobStation.begun(found(drafting), SCREEN_PX)
    assert station.after(Move(right=1)).wants == "apron.yaml"
    assert JobStation.begun(found(replace(drafting, pattern=None)), SCREEN_PX).after(Move(right=1)).wants


def test_a_pattern_that_cannot_be_read_is_told_on_the_page(drafting: Left) -> None:
    Path(drafting.folder, "overtop.yaml").write_text("pattern: [", encoding="utf-8")
    station = JobStation.begun(found(drafting), SCREEN_PX)
    assert station.found.pattern is None
    assert any("overtop.yaml" in text for text in station.page(Controls()).said)


def test_the_page_says_what_is_done(drafting: Left) -> None:
    rows = JobStation.begun(found(drafting), SCREEN_PX).page(Controls()).rows
    states = {step.name: row.state for step, row in zip(STEPS, rows, strict=True)}
    assert states["trace"] == "front, back"
    assert states["draft"] == "4 changes"
    assert "good to" in states["align"]


def test_the_page_counts_what_is_cut(drafting: Left) -> None:
    seen = found(drafting)
    assert seen.setup is not None
    assert seen.pattern is not None
    copies = tuple(
        CopyWork(piece=name, number=1, place=Placement(), ticked=ticked)
        for name, ticked in (("front", ("cut", "notches")), ("back", ("cut",)), ("front facing", ()))
    )
    work = CutWork(copies=copies, begun=True, at=2)
    write_work(places_path(drafting.table_path), seen.setup.name, seen.pattern.name, work)
    assert STEPS[number_of("cut") or 0].done(found(drafting)) == "2 of 3 cut"


def test_a_lay_that_is_kept_is_said_and_opened_as_it_was_planned(drafting: Left) -> None:
    assert opened(drafting, "lay")[-2:] == ["--width", "45 in"]
    seen = found(drafting)
    assert seen.drafted is not None
    assert drafting.pattern_path is not None
    folding = Folding(fold=Fold.SINGLE, cloth=Cloth(bought_width_in=60))
    write_lay(lay_path(drafting.pattern_path), None, Lay(folding=folding, placed=()), Unit.IN)
    assert STEPS[number_of("lay") or 0].done(found(drafting)) == "in a single layer, 60 in wide"
    assert opened(drafting, "lay")[-1] == str(drafting.table_path)


def test_what_a_step_was_told_is_known_to_the_next(left: Left, aligned: Left) -> None:
    assert learned(left, opened(left, "print", "a4")).paper == "a4"
    traced = learned(aligned, opened(aligned, "trace"))
    assert traced.pattern == "garment.yaml"


def test_where_it_was_left_is_read_back(tmp_path: Path) -> None:
    path = tmp_path / "state" / "left.json"
    left = Left(folder=str(tmp_path), window_px=(1280, 720), step="cut", mat=("1in", "36x24in"))
    write_left(path, left)
    assert read_left(path) == left


@pytest.mark.parametrize("content", ["", "[]", "{}", '{"version": 99, "folder": "x"}', '{"version": 1}'])
def test_a_file_that_does_not_say_where_it_was_left_is_as_none(tmp_path: Path, content: str) -> None:
    path = tmp_path / "left.json"
    assert read_left(path) is None
    path.write_text(content, encoding="utf-8")
    assert read_left(path) is None
