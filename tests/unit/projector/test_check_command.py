"""`check`: each mode, by the function it calls and by what it prints."""

import json
from argparse import ArgumentParser, Namespace
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from calibration.table.setups import TableFile
from calibration.table.table_file import copy_path, load_table, save_alignment, save_table
from projector.actions import Accept, Type
from projector.command_line import VERBS
from projector.session import Session
from projector.stations.ruler import RulerStation
from tests.unit.projector.commands import a_table, check_refusal, result
from tests.unit.projector.samples import a_map, a_setup, an_alignment

# The lines of the sample table: 52 in across, 26 in away, diagonals of 37 in.
RIGHT = ("52", "26", "37", "37")
SIZE_OFF = ("52 3/16", "26 3/32", "37 1/8", "37 1/8")


def typed(*arguments: str) -> Namespace:
    parser = ArgumentParser()
    VERBS["check"].options(parser)
    return parser.parse_args(("--table", "t.yaml", *arguments))


@pytest.mark.parametrize(
    ("arguments", "function"),
    [
        ((), "check.ruler_test"),
        (("--json", "--setup", "attic"), "check.ruler_test"),
        (("--taped", "36", "24", "33 15/16 in", "86.2 cm", "--json"), "check.taped"),
        (("--restore",), "check.restore"),
        (("--history", "--json"), "history.history"),
        (("--photo", "a.jpg", "b.jpg", "--realign", "--paper", "a4", "--sheets", "3"), "drift.drift"),
        (("--camera", "0", "--realign"), "camera.check_by_camera"),
        (("--camera", "frames/f_%03d.png"), "camera.check_by_camera"),
        (("--by-hand", "--json"), "by_hand.drift_by_hand"),
        (("--loop-frame", "loop.png"), "loop.loop_frame"),
        (("--loop-photo", "a.jpg", "--json"), "loop.loop_photo"),
        (("--loop", "--window", "1920x1080"), "by_hand.loop_by_hand"),
        (("--surface", "1/4 in", "--lens", "2 in, -30 in, 6cm", "--correct"), "surface.surface"),
        (("--surface", "0"), "surface.surface"),
        (("--forecast",), "picture.show_forecast"),
        (("--picture", "forecast.png"), "picture.write_forecast"),
    ],
)
def test_each_mode_has_its_function(arguments: tuple[str, ...], function: str) -> None:
    verb, options = VERBS["check"], typed(*arguments)
    assert verb.complaint(options) is None
    assert verb.runs(options) == f"projector.verbs.{function}"


def test_lengths_are_read_as_people_write_them() -> None:
    options = typed("--taped", "36", "24 1/16", "33 15/16 in", "86.2 cm")
    assert options.taped == [36.0, 24.0625, 33.9375, pytest.approx(33.937, abs=1e-3)]
    options = typed("--surface", "6 mm", "--lens", "2 in, -30 1/2, 6 cm")
    assert options.surface == pytest.approx(6 / 25.4)
    assert options.lens == (2.0, -30.5, pytest.approx(60 / 25.4))


def test_what_the_tape_said_is_judged_and_kept_with_its_date(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = a_table(tmp_path)
    before = datetime.now(UTC).replace(microsecond=0)
    code, out, err = result(capsys, "check", "--table", table, "--taped", *SIZE_OFF, "--json")
    assert (code, err) == (0, "")
    found = json.loads(out)
    assert found["setup"] == "sail loft"
    assert not found["passed"]
    assert found["lengths"] == [
        {"shown_in": 52.0, "taped_in": 52.1875},
        {"shown_in": 26.0, "taped_in": 26.09375},
    ]
    assert [line["shown_in"] for line in found["diagonals"]] == [37.0, 37.0]
    assert (found["worst_in"], found["diagonals_apart_in"]) == (0.1875, 0.0)
    assert found["words"].startswith("Ruler test FAILED: every line is 0.4 % too long, 3/16 in on 52 in.")
    newest, older = load_table(table).setup().ruler_tests
    assert older.passed
    assert not newest.passed
    assert before <= newest.tested_on <= datetime.now(UTC)
    assert newest.tested_on == datetime.fromisoformat(found["tested_on"])


def test_without_json_it_is_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = a_table(tmp_path)
    code, out, _ = result(capsys, "check", "--table", table, "--taped", *RIGHT)
    assert code == 0
    assert out.startswith(f"{table}: Ruler test passed: the tape agrees with every line to 1/64 in, and")


def test_a_misread_tape_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ("check", "--table", a_table(tmp_path), "--taped", "52 cm", *RIGHT[1:])
    sentence = "line 1 is 52 in of light, but the tape is said to read 20.4724 in; measure again"
    check_refusal(capsys, tmp_path, arguments, sentence)


def two_setups(folder: Path) -> Path:
    path = folder / "table.yaml"
    other = an_alignment(a_map(screen_px=(1280, 720)))
    setups = (a_setup(), a_setup(replace(other, name="attic")))
    save_table(path, TableFile(setups=setups))
    return path


def test_a_test_goes_to_the_set_up_that_was_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = two_setups(tmp_path)
    shared = ("check", "--table", table, "--taped", *RIGHT)
    check_refusal(
        capsys, tmp_path, shared, 'found 2 set-ups that may be meant: "sail loft" (1920x1080), "attic"'
    )
    check_refusal(
        capsys, tmp_path, (*shared, "--setup", "barn"), 'found no set-up "barn"; there is "sail loft"'
    )
    code, _, _ = result(capsys, *shared, "--setup", "attic")
    assert code == 0
    assert [len(setup.ruler_tests) for setup in load_table(table).setups] == [1, 2]


def test_a_damaged_table_file_names_its_copy_and_restore_puts_it_back(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = a_table(tmp_path)
    good = load_table(table)
    assert result(capsys, "check", "--table", table, "--taped", *RIGHT)[0] == 0
    table.write_text(table.read_text(encoding="utf-8")[:400], encoding="utf-8")
    arguments = ("check", "--table", table, "--taped", *RIGHT)
    offer = f"comes back with: chalkbeam check --table {table} --restore"
    check_refusal(capsys, tmp_path, arguments, offer)
    code, out, err = result(capsys, "check", "--table", table, "--restore")
    assert (code, err) == (0, "")
    assert out == f"{table}: the copy is back; its newest alignment is of 2026-03-04 09:30\n"
    assert [setup.alignment for setup in load_table(table).setups] == [s.alignment for s in good.setups]
    copy_path(table).unlink()
    check_refusal(capsys, tmp_path, ("check", "--table", table, "--restore"), "found no last good copy")


def test_a_preview_is_not_true_to_size_so_its_result_is_not_kept(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """With the window itself left out: someone types what is right and leaves."""

    def typed_right(session: Session[RulerStation], *_: object) -> None:
        for length in RIGHT:
            for sign in length:
                session.take(Type(text=sign))
            session.take(Accept())

    monkeypatch.setattr("projector.window.run", typed_right)
    monkeypatch.setattr("projector.window.display_sizes", lambda: [(1920, 1080)])
    monkeypatch.setattr("projector.verbs.where.display_name", lambda _: "")
    table = a_table(tmp_path)
    for options, tests in ((("--window", "1920x1080"), 1), (("--display", "0"), 2)):
        code, out, _ = result(capsys, "check", "--table", table, *options, "--json")
        assert code == 0
        assert json.loads(out)["passed"]
        assert len(load_table(table).setup().ruler_tests) == tests


def test_the_history_names_the_set_ups_their_tests_and_what_was_before(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = two_setups(tmp_path)
    save_alignment(table, replace(an_alignment(p95_in=0.05), aligned_on=datetime(2026, 6, 1, tzinfo=UTC)))
    code, out, _ = result(capsys, "check", "--table", table, "--history")
    today = f"{datetime.now():%Y-%m-%d}"
    assert code == 0
    assert out.splitlines() == [
        "sail loft (1920x1080): aligned 2026-06-01, good to 1/16 in",
        "  now: no ruler test yet",
        "  before: aligned 2026-03-04, good to 1/32 in",
        "attic (1280x720): aligned 2026-03-04, good to 1/32 in",
        f"  {today}  Ruler test passed: the tape agrees with every line to 1/64 in, and the diagonals with each "
        "other to 1/64 in.",
    ]
    _, out, _ = result(capsys, "check", "--table", table, "--history", "--setup", "sail loft", "--json")
    (found,) = json.loads(out)["setups"]
    assert (found["name"], found["screen_px"], found["p95_in"]) == ("sail loft", [1920, 1080], 0.05)
    assert found["past"] == [{"aligned_on": "2026-03-04T09:30:00+00:00", "p95_in": 0.02}]
    assert found["warnings"] == ["no ruler test yet"]


def test_a_folder_is_no_table_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for folder in (tmp_path, Path()):
        asked = ("check", "--history", "--table", folder)
        check_refusal(
            capsys, tmp_path, asked, "cannot be read (Is a directory); align the table first, or name"
        )
