"""The whole job in one window: what is done of each step, what comes next, and the command that each step is."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from calibration.table.setups import TableFile
from calibration.table.table_file import save_table
from patterns import Placement, Unit, example, read_pattern
from patterns.laying.cloth import Cloth
from patterns.laying.folding import Fold, Folding
from patterns.laying.lay import Lay
from patterns.measures import in_words
from patterns.pattern import Version
from projector.actions import Accept, Aim, Cancel, ChangeVersion, Finish, Move, Show, Type, Undo
from projector.aligning.crosses import crosses_path
from projector.bindings import action_of
from projector.command_line import parsed
from projector.cutting.work import CopyWork, CutWork
from projector.errors import ProjectorError
from projector.job.found import PRACTICE, SHEETS, Found, without_folder
from projector.job.lay_questions import BEST, NO, TO_BUY
from projector.job.left import Left
from projector.job.page import page_light
from projector.job.states import PRACTICE_MEASURES
from projector.job.steps import STEPS, next_after, next_step, number_of
from projector.laying.lay_file import lay_path, write_lay
from projector.person import FAR
from projector.places import places_path, write_work
from projector.scene import Controls
from projector.stations.job import JobStation
from projector.verbs.open import learned, understood
from tests.unit.patterns.hand_lays import on_fold
from tests.unit.projector.samples import a_map, a_setup, an_alignment

SCREEN_PX = (1920, 1080)
LIKE_SHOWN = (TO_BUY, BEST, NO, NO)


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


def answered(station: JobStation, answer: str) -> JobStation:
    """After one answer, typed over what is offered."""
    for sign in answer:
        station = station.after(Type(text=sign))
    return station.after(Accept())


def opened(left: Left, name: str, *answers: str) -> list[str]:
    """The command that the step is, once it was answered: with what is offered where nothing else is given."""
    station = JobStation.begun(found(left), SCREEN_PX, number_of(name)).opened()
    for answer in answers:
        station = answered(station, answer)
    while station.question is not None:
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
    assert station.opens is None
    assert station.notice == "not yet: trace first, or copy a pattern file into the folder"


def test_what_needs_a_pattern_points_to_those_that_there_are(drafting: Left) -> None:
    station = JobStation.begun(found(replace(drafting, pattern=None)), SCREEN_PX, number_of("lay")).opened()
    assert station.notice == "not yet: trace first, or choose a garment, left or right"


def test_every_step_is_a_command_that_can_be_typed(drafting: Left) -> None:
    for step in STEPS:
        verb, typed = parsed(opened(drafting, step.name))
        assert verb.complaint(typed) is None


def test_a_step_is_answered_with_a_usual_answer_or_with_what_is_typed(drafting: Left) -> None:
    table = str(drafting.table_path)
    assert opened(drafting, "trace")[:5] == ["trace", "--table", table, "--piece", "sleeve"]
    assert "yoke" in opened(drafting, "trace", "yoke")
    assert opened(drafting, "align", "", "7 31/32 in")[-3:-2] == ["7 31/32 in"]


def test_it_is_aligned_by_sheets_a_mat_or_a_camera_and_each_is_remembered(left: Left) -> None:
    by_mat = opened(left, "align", "mat", "2.5 cm", "90x60 cm")
    assert by_mat[1:6] == ["--by-hand", "--mat-pitch", "2.5 cm", "--mat-size", "90x60 cm"]
    by_camera = opened(left, "align", "camera", "1", "8 in")
    assert by_camera[1:3] == ["--camera", "1"]
    for command in (by_mat, by_camera, opened(left, "align", "sheets")):
        assert opened(learned(left, command), "align") == command


def test_an_answer_that_is_none_of_a_few_is_asked_for_again(left: Left) -> None:
    asked = JobStation.begun(found(left), SCREEN_PX, number_of("print")).opened()
    station = answered(asked, "papyrus")
    assert station.opens is None
    assert station.page(Controls()).said == ("one of these: letter, a4", "on which paper? papyrus_")


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
    with pytest.raises(ProjectorError, match=r'^found "8 ells"'):
        understood(("align", "--by-hand", "--printed-ruler", "8 ells", "--table", "t.yaml"))
    asked = JobStation.begun(found(left), SCREEN_PX, number_of("align")).opened()
    refused = answered(answered(asked, "sheets"), "8 ells")
    assert refused.notice.startswith('found "8 ells"')
    assert refused.answers == ("sheets",)


def test_the_cloth_is_asked_for_one_thing_after_the_other_or_taken_as_it_is_shown(drafting: Left) -> None:
    answers = ("140 cm", "2.5 m", "cross", "y", "3 %, 1 %")
    typed = opened(drafting, "lay", *answers)[-9:]
    words = ["--width", "140 cm", "--length", "2.5 m", "--fold", "crosswise", "--nap", "--shrink", "3 %, 1 %"]
    assert typed == words
    asked = JobStation.begun(found(drafting), SCREEN_PX, number_of("lay")).opened()
    shown = asked.page(Controls())
    assert "how long is it? to be bought" in shown.besides
    assert "page down: all as it is shown" in shown.ways
    assert asked.after(Finish()).opens == tuple(opened(drafting, "lay"))
    by_hand = JobStation.begun(found(drafting), SCREEN_PX, number_of("align")).opened().after(Finish())
    assert by_hand.question is not None  # the printed ruler was not shown yet
    assert by_hand.answers == ("sheets",)
    for station, wrong in ((asked, "60 ells"), (asked.after(Accept()), "nothing")):
        assert wrong in answered(station, wrong).notice
        assert answered(station, wrong).answers == station.answers
    assert answered(asked.after(Accept()).after(Accept()), "s").notice.startswith("one of these")


def test_left_and_right_go_through_the_folders_garments_and_on_to_a_new_one(drafting: Left) -> None:
    Path(drafting.folder, "apron.yaml").write_text("pattern: apron\npieces: {}\n", encoding="utf-8")
    Path(drafting.folder, "shopping.yaml").write_text("chiffon: 2 yd\n", encoding="utf-8")
    seen, left = [], drafting
    for _ in range(4):
        station = JobStation.begun(found(left), SCREEN_PX)
        seen.append((station.page(Controls()).title, station.page(Controls()).aside))
        wanted = station.after(Move(right=1)).wants
        assert wanted is not None
        left = wanted
    assert seen[1:] == [("a new garment", ""), ("apron", "1 of 2: apron.yaml"), seen[0]]
    assert seen[0] == ("Harbour overtop", "2 of 2: overtop.yaml")


def test_a_new_garment_is_named_before_its_first_piece_is_traced(drafting: Left) -> None:
    new = replace(drafting, pattern=None)
    command = opened(new, "trace", "bosun shirt", "back")
    assert command[3:] == ["--piece", "back", "--out", str(Path(new.folder, "bosun shirt.yaml"))]
    begun = learned(new, command)
    Path(new.folder, "bosun shirt.back.trace.json").touch()
    station = JobStation.begun(found(begun), SCREEN_PX)
    assert station.page(Controls()).title == "bosun shirt"
    assert station.page(Controls()).rows[number_of("trace") or 0].state == "back begun"
    assert opened(begun, "trace")[3:5] == ["--piece", "back"]
    assert found(drafting).patterns == ("bosun shirt.yaml", "overtop.yaml")
    Path(new.folder, "garment.yaml").write_text("pattern: garment\n", encoding="utf-8")
    assert str(Path(new.folder, "garment 2.yaml")) in opened(new, "trace")


def test_a_version_can_be_chosen_only_where_there_are_some(drafting: Left) -> None:
    station = JobStation.begun(found(drafting), SCREEN_PX)
    names = [None, *(version.name for version in example_versions())]
    assert "v: another version" in station.page(Controls()).ways
    left = drafting
    for name in (*names[1:], None):
        wanted = JobStation.begun(found(left), SCREEN_PX).after(ChangeVersion()).wants
        assert wanted is not None
        assert wanted.pattern_version == name
        left = wanted
    chosen = replace(drafting, pattern_version=names[1])
    assert opened(chosen, "draft")[-2:] == ["--version", names[1]]
    plain = JobStation.begun(found(replace(drafting, pattern=None)), SCREEN_PX)
    assert "v:" not in plain.page(Controls()).ways
    assert "no versions" in plain.after(ChangeVersion()).notice


def example_versions() -> tuple[Version, ...]:
    """Those of the example."""
    return read_pattern(example("harbour overtop")).versions


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


def test_a_step_that_asks_goes_on_after_a_fall_as_it_was_answered(drafting: Left) -> None:
    for name, *answers in (
        ("align", "mat", "1 in", "36x24 in"),
        ("trace", "yoke"),
        ("lay", "60 in", *LIKE_SHOWN),
    ):
        begun = JobStation.begun(found(drafting), SCREEN_PX, number_of(name))
        command = opened(drafting, name, *answers)
        assert list(begun.again(tuple(answers)).opens or ()) == command
        assert begun.again(()).question is not None


def test_crosses_that_wait_are_said_until_there_is_an_alignment(left: Left) -> None:
    crosses_path(left.table_path).write_text('{"crosses": [{}, {}]}', encoding="utf-8")
    assert STEPS[number_of("align") or 0].done(found(left)) == "2 crosses placed"
    assert not STEPS[number_of("align") or 0].is_over(found(left))


def test_after_a_step_comes_the_next_that_is_not_over_whatever_was_passed_over(drafting: Left) -> None:
    seen = found(drafting)
    assert next_step(seen) < (number_of("trace") or 0)
    assert next_after(seen, number_of("trace") or 0) == number_of("lay")
    assert next_after(seen, number_of("cut") or 0) == number_of("cut")


def test_the_pocket_measures_what_the_page_says(tmp_path: Path) -> None:
    """Hand value: 3 in and a seam of 1/2 in, twice; 1 in of hem, 6 1/2 in, and the slanted seam at the fold."""
    ring = read_pattern(example("practice pocket")).drafted().pieces["pocket"].cut_line
    across, along = np.ptp(np.asarray(ring), axis=0)
    assert f"{2 * across:g} in across, and {in_words(along, 32)} along the fold" == PRACTICE_MEASURES


def test_what_a_step_was_told_is_known_to_the_next(left: Left, aligned: Left) -> None:
    assert learned(left, opened(left, "print", "a4")).paper == "a4"
    traced = learned(aligned, opened(aligned, "trace"))
    assert traced.pattern == "garment.yaml"
