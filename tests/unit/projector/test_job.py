"""The whole job in one window: what comes next, and the command that each step is."""

from dataclasses import replace
from pathlib import Path

import pytest

from patterns import example, read_pattern
from patterns.pattern import Version
from projector.actions import Accept, Cancel, ChangeVersion, Finish, Move, Show, Undo
from projector.command_line import parsed
from projector.errors import ProjectorError
from projector.job.found import PRACTICE, SHEETS
from projector.job.left import Left
from projector.job.steps import STEPS, next_after, next_step, number_of
from projector.scene import Controls
from projector.stations.job import JobStation
from projector.verbs.open import learned, understood
from tests.unit.projector.jobs import LIKE_SHOWN, SCREEN_PX, answered, found, opened


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


def test_after_a_step_comes_the_next_that_is_not_over_whatever_was_passed_over(drafting: Left) -> None:
    seen = found(drafting)
    assert next_step(seen) < (number_of("trace") or 0)
    assert next_after(seen, number_of("trace") or 0) == number_of("lay")
    assert next_after(seen, number_of("cut") or 0) == number_of("cut")


def test_what_a_step_was_told_is_known_to_the_next(left: Left, aligned: Left) -> None:
    assert learned(left, opened(left, "print", "a4")).paper == "a4"
    traced = learned(aligned, opened(aligned, "trace"))
    assert traced.pattern == "garment.yaml"
