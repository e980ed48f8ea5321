"""The whole job in one real window: from step to step by real keys, left and found again where it was left."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from calibration.table.setups import TableFile
from calibration.table.table_file import load_table, save_table
from patterns import example, read_pattern
from patterns.errors import PatternError
from patterns.laying.rules import violations
from patterns.measures import Unit
from patterns.saying import Say
from projector.job.found import PRACTICE, SHEETS, Found
from projector.job.left import Left, read_left
from projector.job.steps import STEPS, next_after, number_of
from projector.laying.ground import LayGround
from projector.laying.lay_file import lay_path, read_lay
from projector.lighting.canvas import frame
from projector.lighting.lit_area import lit_area
from projector.person import FAR
from projector.scene import Controls
from projector.stations.job import JobStation
from projector.stations.planning import PlanningStation
from tests.unit.projector.samples import a_map, a_setup, an_alignment
from tests.window.desk import Desk, Pixels
from tests.window.pictures import wait_for_picture

SCREEN_PX = (1920, 1080)
FILE = "overtop.yaml"


def key_of(step: str) -> str:
    number = number_of(step)
    assert number is not None
    return str(number + 1)


def page(left: Left, chosen: str | None = None, left_step: str | None = None) -> Pixels:
    """What the page of the job must look like; `left_step` is the step that was left just now."""
    found = Found.of(left, SCREEN_PX)
    number, said = number_of(chosen), ""
    if left_step is not None:
        step = number_of(left_step) or 0
        number, said = next_after(found, step), STEPS[step].kept(found)
    station = replace(JobStation.begun(found, SCREEN_PX, number, said), side=left.side)
    return frame((layer.draw() for layer in station.scene(Controls())), SCREEN_PX)


@pytest.fixture
def state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return tmp_path / "state" / "chalkbeam" / "left.json"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    path = tmp_path / "chorus"
    path.mkdir()
    return path


@pytest.fixture
def aligned(folder: Path) -> Path:
    save_table(folder / "table.yaml", TableFile(setups=(a_setup(an_alignment(a_map(sigma=0.2))),)))
    (folder / FILE).write_bytes(example("harbour overtop").read_bytes())
    return folder


def test_the_first_time_it_leads_from_the_sheets_to_the_first_mark(
    desk: Desk, folder: Path, state: Path
) -> None:
    left = Left(folder=str(folder))
    with desk.program("open", folder, "--display", "0") as program:
        first = wait_for_picture(desk, page(left, "print"), "first-page")
        program.focus()
        desk.keys("Return", "Return")
        desk.wait_for(lambda _: (folder / SHEETS).exists(), "sheets on disk")
        desk.wait_for(lambda pixels: not np.array_equal(pixels, first), "the page after printing")
        desk.keys("Return", "Return", "Return")  # align, by sheets; their ruler is as long as it should be
        desk.wait_for(
            lambda _: (
                (kept := read_left(state)) is not None
                and (kept.step, kept.answers) == ("align", ("sheets", "8 in"))
            ),
            "aligning",
        )
        desk.keys("q", "q")
        code, _, errors = program.end()
    assert (code, errors) == (0, "")


def test_a_step_keeps_its_undo_while_others_are_looked_at(desk: Desk, aligned: Path, state: Path) -> None:
    left = Left(folder=str(aligned), pattern=FILE)
    file, before = aligned / FILE, (aligned / FILE).read_bytes()
    with desk.program("open", aligned, "--display", "0") as program:
        wait_for_picture(desk, page(left), "page")
        program.focus()
        desk.keys(key_of("draft"), "Right")
        desk.wait_for(lambda _: file.read_bytes() != before, "a deeper neck in the file")
        desk.keys("q", key_of("practise"), "q", key_of("draft"), "BackSpace")
        desk.wait_for(lambda _: file.read_bytes() == before, "the file as it was, by undo")
        assert (aligned / PRACTICE).exists()
        desk.keys("q")
        wait_for_picture(desk, page(left, left_step="draft"), "page-after")
        desk.keys("q")
        code, _, errors = program.end()
    assert (code, errors) == (0, "")


def test_it_opens_where_it_was_killed_and_from_the_side_where_the_person_stood(
    desk: Desk, aligned: Path, state: Path
) -> None:
    file = aligned / FILE
    before = read_pattern(file)
    with desk.program("open", aligned, "--display", "0") as program:
        wait_for_picture(desk, page(Left(folder=str(aligned), pattern=FILE)), "page")
        program.focus()
        desk.keys(key_of("draft"), "t", "t", "Right")
        desk.wait_for(lambda _: read_pattern(file) != before, "a deeper neck in the file")
        desk.wait_for(lambda _: (kept := read_left(state)) is not None and kept.side == FAR, "the side kept")
        program.process.kill()
    changed = read_pattern(file)
    with desk.program() as program:
        program.focus()
        desk.wait_for(lambda pixels: bool(pixels.any()), "the drafting table")
        desk.keys("Left")
        desk.wait_for(lambda _: read_pattern(file) != changed, "the neck taken back, at once")
        desk.keys("q")
        wait_for_picture(
            desk, page(Left(folder=str(aligned), pattern=FILE, side=FAR), left_step="draft"), "page"
        )
        desk.keys("q")
        program.end()
    kept = read_left(state)
    assert kept is not None
    assert (kept.pattern, kept.step) == (FILE, None)


def test_a_trace_that_was_left_is_said_on_the_page_and_nothing_ends(
    desk: Desk, aligned: Path, state: Path
) -> None:
    with desk.program("open", aligned, "--display", "0") as program:
        wait_for_picture(desk, page(Left(folder=str(aligned), pattern=FILE)), "page")
        program.focus()
        desk.keys(key_of("trace"), "Return", "q")
        desk.wait_for(
            lambda _: (kept := read_left(state)) is not None and kept.step is None, "the page again"
        )
        desk.keys("q")
        code, _, errors = program.end()
    assert (code, errors) == (0, "")


def test_another_garment_and_another_version_are_chosen_and_remembered(
    desk: Desk, aligned: Path, state: Path
) -> None:
    left = Left(folder=str(aligned), pattern=FILE)
    version = read_pattern(aligned / FILE).versions[0].name
    with desk.program("open", aligned, "--display", "0") as program:
        wait_for_picture(desk, page(left), "page")
        program.focus()
        desk.keys("Right")
        wait_for_picture(desk, page(replace(left, pattern=None)), "page-of-a-new-garment")
        desk.keys("Left", "v")
        wait_for_picture(desk, page(replace(left, pattern_version=version)), "page-of-a-version")
        desk.keys("q")
        program.end()
    kept = read_left(state)
    assert kept is not None
    assert (kept.pattern, kept.pattern_version) == (FILE, version)


def test_a_step_that_cannot_be_opened_says_why_and_stays_framed(
    desk: Desk, aligned: Path, state: Path
) -> None:
    file = aligned / FILE
    file.write_text(file.read_text(encoding="utf-8").replace("depth: 8 in", "depth: 30 in"), encoding="utf-8")
    with pytest.raises(PatternError) as told:
        read_pattern(file).drafted()
    left = Left(folder=str(aligned), pattern=FILE)
    with desk.program("open", aligned, "--display", "0") as program:
        wait_for_picture(desk, page(left), "page")
        program.focus()
        desk.keys(key_of("cut"))
        station = JobStation.begun(Found.of(left, SCREEN_PX), SCREEN_PX, number_of("cut"), str(told.value))
        refused = frame((layer.draw() for layer in station.scene(Controls())), SCREEN_PX)
        wait_for_picture(desk, refused, "page-that-says-why")
        desk.keys("q")
        program.end()


def test_every_step_has_a_number_that_is_a_key() -> None:
    assert len(STEPS) <= 9


def test_planning_a_lay_is_told_in_light_and_ended_by_a_key_with_the_best_so_far(
    desk: Desk, aligned: Path, state: Path
) -> None:
    table = load_table(aligned / "table.yaml").setup(None, SCREEN_PX, "")
    alignment = table.in_force()
    ground = LayGround(alignment=alignment, lit=lit_area(alignment.map), say=Say(Unit.IN))
    first = PlanningStation(ground=ground, told="selvedges fold, 1 of 7").scene(Controls())
    with desk.program("open", aligned, "--display", "0") as program:
        wait_for_picture(desk, page(Left(folder=str(aligned), pattern=FILE)), "page")
        program.focus()
        desk.keys(key_of("lay"), "6", "0", "Next")
        begun = wait_for_picture(desk, frame((layer.draw() for layer in first), SCREEN_PX), "planning")
        desk.wait_for(lambda pixels: not np.array_equal(pixels, begun), "the best so far, told")
        desk.keys("q")
        desk.wait_for(lambda _: lay_path(aligned / FILE).exists(), "the lay on disk")
        desk.keys("q", "q")
        code, _, errors = program.end()
    lay, unit = read_lay(lay_path(aligned / FILE), None, read_pattern(aligned / FILE).drafted())
    assert (code, errors, unit) == (0, "", Unit.IN)
    assert not violations(lay)
