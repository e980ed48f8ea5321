"""The page of the whole job: what it says of each step, and what was kept."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from patterns import Placement, Unit, example, read_pattern
from patterns.laying.cloth import Cloth
from patterns.laying.folding import Fold, Folding
from patterns.laying.lay import Lay
from patterns.measures import in_words
from projector.actions import Accept, Aim, Show
from projector.aligning.crosses import crosses_path
from projector.bindings import action_of
from projector.cutting.work import CopyWork, CutWork
from projector.job.found import without_folder
from projector.job.left import Left
from projector.job.page import page_light
from projector.job.states import PRACTICE_MEASURES
from projector.job.steps import STEPS, next_step, number_of
from projector.laying.lay_file import lay_path, write_lay
from projector.person import FAR
from projector.places import places_path, write_work
from projector.scene import Controls
from projector.stations.job import JobStation
from tests.unit.patterns.hand_lays import on_fold
from tests.unit.projector.jobs import LIKE_SHOWN, SCREEN_PX, found, opened


def test_a_pattern_that_cannot_be_read_is_told_on_the_page(drafting: Left) -> None:
    Path(drafting.folder, "overtop.yaml").write_text("pattern: [", encoding="utf-8")
    station = JobStation.begun(found(drafting), SCREEN_PX)
    assert station.found.pattern is None
    assert any("overtop.yaml" in text for text in station.page(Controls()).said)


def test_a_pattern_or_a_folder_that_is_gone_is_told_with_what_to_do(drafting: Left) -> None:
    Path(drafting.folder, "overtop.yaml").unlink()
    no_file = "There is no overtop.yaml: trace its first piece, 5, or choose another garment, left or right."
    assert found(drafting).unread == (no_file,)
    begun = Path(drafting.folder, "overtop.front.trace.json")
    begun.touch()
    assert found(drafting).unread == ()
    nowhere = replace(drafting, folder=str(Path(drafting.folder, "gone")), pattern=None)
    (said,) = JobStation.begun(found(nowhere), SCREEN_PX).page(Controls()).said
    assert said.startswith(f"The folder {nowhere.folder} is gone, so nothing is kept: leave, q,")


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
    assert not STEPS[number_of("cut") or 0].is_over(found(drafting))


def test_a_lay_that_is_kept_is_said_and_opened_as_it_was_planned(drafting: Left) -> None:
    assert opened(drafting, "lay")[-2:] == ["--width", "45 in"]
    seen = found(drafting)
    assert seen.drafted is not None
    assert drafting.pattern_path is not None
    folding = Folding(fold=Fold.PARTIAL, cloth=Cloth(bought_width_in=60), right_in=20)
    placed = on_fold(seen.drafted.pieces["front"], folding.fold_lines[0], 0.0)
    write_lay(lay_path(drafting.pattern_path), None, Lay(folding=folding, placed=(placed,)), Unit.IN)
    assert STEPS[number_of("lay") or 0].done(found(drafting)) == "60 in wide, 7/8 yd"
    assert opened(drafting, "lay")[-1] == str(drafting.table_path)
    fallen = JobStation.begun(found(drafting), SCREEN_PX, number_of("lay")).again(("45 in", *LIKE_SHOWN))
    assert "--width" not in (fallen.opens or ())
    wrong = "Kept in overtop.lay.json, but back is cut not at all; 1 is wanted."
    assert STEPS[number_of("lay") or 0].kept(found(drafting)) == wrong
    lay_path(drafting.pattern_path).write_text("[]", encoding="utf-8")
    assert STEPS[number_of("lay") or 0].done(found(drafting)) == "for other pieces: lay anew"


def test_what_is_said_on_the_page_names_the_folders_files_only(drafting: Left) -> None:
    said = f"{drafting.table_path}: nothing is kept of it"
    assert without_folder(said, drafting) == "table.yaml: nothing is kept of it"


def test_leaving_a_step_says_what_was_kept(drafting: Left) -> None:
    said = {step.name: step.kept(found(drafting)) for step in STEPS}
    assert said["draft"] == "Kept in overtop.yaml."
    assert said["trace"].startswith("Kept in overtop.yaml.")
    assert said["align"].startswith("Kept in table.yaml:")
    assert (said["lay"], said["practise"]) == ("", "")


def test_the_first_page_shows_the_cautions_and_a_notice_comes_before_what_the_step_wants(left: Left) -> None:
    station = JobStation.begun(found(left), SCREEN_PX)
    first, cautions = station.page(Controls()).said
    assert "lens" in cautions
    refused = station.after(Show(number=9)).page(Controls())
    assert refused.said == ("not yet: align first",)
    assert refused.besides == (STEPS[8].hint,)
    assert station.page(Controls()).besides == ()
    assert first == STEPS[0].hint


def test_the_page_does_not_jump_when_more_is_said(drafting: Left) -> None:
    station = JobStation.begun(found(drafting), SCREEN_PX, number_of("draft"))
    pages = [station, replace(station, notice="not yet: align first"), station.after(Show(number=5))]
    rows = [page_light(page.page(Controls()), SCREEN_PX, upside_down=False)[2] for page in pages]
    for row in rows[1:]:
        np.testing.assert_array_equal(row.points, rows[0].points)


@pytest.mark.parametrize("side", [0, FAR])
def test_the_mouse_frames_the_step_that_it_points_at_and_its_button_opens_it(
    drafting: Left, side: int
) -> None:
    begun = replace(JobStation.begun(found(drafting), SCREEN_PX), side=side).after(Aim(at_px=(900.0, 500.0)))
    assert begun.chosen == begun.after(Aim(at_px=(910.0, 510.0))).chosen == next_step(found(drafting))
    for chosen in range(len(STEPS)):
        framed = replace(begun, chosen=chosen).page(Controls())
        x, y = page_light(framed, SCREEN_PX, upside_down=side == FAR)[-1].points[:4].mean(axis=0).tolist()
        pointed = begun.after(Aim(at_px=(x, y)))
        assert pointed.chosen == chosen
        assert pointed.after(Aim(at_px=(0.0, 0.0))) is pointed
    button = action_of(begun.bindings, "left button", shift=False)
    assert button == Accept()


def test_crosses_that_wait_are_said_until_there_is_an_alignment(left: Left) -> None:
    crosses_path(left.table_path).write_text('{"crosses": [{}, {}]}', encoding="utf-8")
    assert STEPS[number_of("align") or 0].done(found(left)) == "2 crosses placed"
    assert not STEPS[number_of("align") or 0].is_over(found(left))


def test_the_pocket_measures_what_the_page_says(tmp_path: Path) -> None:
    """Hand value: 3 in and a seam of 1/2 in, twice; 1 in of hem, 6 1/2 in, and the slanted seam at the fold."""
    ring = read_pattern(example("practice pocket")).drafted().pieces["pocket"].cut_line
    across, along = np.ptp(np.asarray(ring), axis=0)
    assert f"{2 * across:g} in across, and {in_words(along, 32)} along the fold" == PRACTICE_MEASURES
