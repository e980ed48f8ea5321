import json
from pathlib import Path

import pytest

from calibration.table.table_file import save_alignment
from patterns import example, read_pattern
from projector.command_line import main
from tests.unit.projector.commands import check_refusal, ours, result
from tests.unit.projector.samples import an_alignment

OVERTOP = example("harbour overtop")


def test_the_report_has_lengths_joins_neck_and_ease(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = result(capsys, "draft", OVERTOP, "--measure", "bust 38 in at 12 in")
    assert code == 0
    assert "  neck             8 3/4 in  seam, allowance 1/2 in, traced" in out
    assert "front/side to back/side: equal" in out
    assert "neck 25 9/16 in round, 3 1/8 in more than a head of 22 7/16 in" in out
    assert "bust: garment 43 1/8 in round, body 38 in, ease 5 1/8 in" in out
    assert "look:" not in out
    assert "25 in below the high shoulder point: 44 13/16 in round" in out


def test_each_piece_is_drawn_in_the_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "pieces" / "first"
    code, out, _ = result(capsys, "draft", OVERTOP, "--out", folder, "--json")
    told = json.loads(out)
    assert code == 0
    names = ["front.svg", "back.svg", "front-facing.svg", "back-facing.svg", "joined.svg"]
    assert told["drawings"] == [str(folder / name) for name in names]
    assert sorted(path.name for path in folder.iterdir()) == sorted(names)


def test_pieces_whose_names_would_share_a_file_are_both_drawn(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = OVERTOP.read_text(encoding="utf-8")
    path = tmp_path / "top.yaml"
    bare = text[: text.index("joins:")].replace("  front:", "  rope deck:").replace("  back:", "  Rope-deck:")
    path.write_text(bare, encoding="utf-8")
    code, out, _ = result(capsys, "draft", path, "--out", tmp_path / "pieces", "--json")
    assert code == 0
    assert [Path(drawn).name for drawn in json.loads(out)["drawings"]] == ["rope-deck.svg", "Rope-deck-2.svg"]


def test_a_name_that_the_terminal_cannot_spell_is_told_with_marks(tmp_path: Path) -> None:
    path = tmp_path / "top.yaml"
    path.write_text(
        OVERTOP.read_text(encoding="utf-8").replace(
            "Harbour overtop", "H\N{LATIN SMALL LETTER O WITH STROKE}st"
        ),
        encoding="utf-8",
    )
    told = ours("draft", path, env={"PYTHONIOENCODING": "ascii"})
    assert (told.returncode, told.stderr) == (0, "")
    assert told.stdout.startswith("H?st\n")


def test_a_neck_that_is_too_small_is_less_than_the_head(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = result(capsys, "draft", OVERTOP, "--version", "round neck")
    (told,) = (line for line in out.splitlines() if line.startswith("neck ") and "round," in line)
    assert " less than a head of 22 7/16 in" in told
    assert "-" not in told


def test_a_version_a_small_neck_and_a_tight_bust_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    version = read_pattern(OVERTOP).drafted("round neck")
    asked = ["draft", str(OVERTOP), "--version", "round neck", "--measure", "bust 50 in at 12 in", "--json"]
    assert main(asked) == 0
    told = json.loads(capsys.readouterr().out)
    necks = 2 * sum(version.pieces[name].edges["neck"].length_in for name in ("front", "back"))
    assert told["neck_in"] == pytest.approx(necks)
    assert told["head"]["passed"] is False
    assert any("does not go over a head" in warning for warning in told["warnings"])
    assert any("less than the body; widen it" in warning for warning in told["warnings"])
    for name, piece in version.pieces.items():
        assert told["pieces"][name]["area_in2"] == piece.area_in2
        assert told["pieces"][name]["edges"] == {edge.name: edge.length_in for edge in piece.edges.values()}


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("--version", "second act"), 'has no version "second act"'),
        (
            ("--measure", "bust 38 in at 3 in"),
            "give a level below the underarm and the neck, and above the hem",
        ),
    ],
)
def test_what_cannot_be_done_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], sentence: str
) -> None:
    check_refusal(capsys, tmp_path, ("draft", OVERTOP, "--out", tmp_path / "pieces", *arguments), sentence)


def test_a_folder_that_is_a_file_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    taken = tmp_path / "pieces"
    taken.write_text("a list of ropes")
    check_refusal(capsys, tmp_path, ("draft", OVERTOP, "--out", taken), "cannot be made a folder")


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        (("--piece", "back"), "--piece goes with --table"),
        (("--window", "1920x1080"), "--window goes with --table"),
        (
            ("--head", "57"),
            '"57" is not round a head, which is 12 to 36 in, or 30 to 91 cm; a bare number is in',
        ),
        (("--head", "22 mm"), '"22 mm" is not round a head'),
        (("--table", "t.yaml", "--json"), "--json is of the report; leave --table out"),
        (("--table", "t.yaml", "--out", "pieces"), "--out is of the report; leave --table out"),
    ],
)
def test_options_of_the_table_and_of_the_report_do_not_go_together(
    options: tuple[str, ...], sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as left:
        main(["draft", str(OVERTOP), *options])
    assert left.value.code == 2
    assert sentence in capsys.readouterr().err


def test_the_table_asks_for_what_it_needs(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = tmp_path / "table.yaml"
    save_alignment(table, an_alignment(trustworthy=False))
    asked = ("draft", OVERTOP, "--table", table, "--window", "1920x1080")
    check_refusal(capsys, tmp_path, asked, "cannot be trusted to draft by")
    save_alignment(table, an_alignment())
    check_refusal(
        capsys, tmp_path, (*asked, "--piece", "yoke"), 'found no piece "yoke"; the pattern has front, back'
    )
    check_refusal(capsys, tmp_path, (*asked, "--version", "third act"), 'has no version "third act"')
    check_refusal(capsys, tmp_path, (*asked[:-1], "640x480"), "the table file is for 1920x1080")


@pytest.mark.parametrize("typed", ["bust", "38 in at 12 in", "bust 38 in", "bust 38 yards at 12 in"])
def test_a_measure_that_is_none_is_a_mistake_of_usage(typed: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main(["draft", str(OVERTOP), "--measure", typed])
    assert left.value.code == 2
    assert "--measure" in capsys.readouterr().err


def test_changes_say_what_they_keep_and_strips_how_they_are_cut(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "top.yaml"
    text = OVERTOP.read_text(encoding="utf-8")
    path.write_text(text.replace("versions:", "  - {hem band: 3 in}\nversions:"), encoding="utf-8")
    code, out, _ = result(capsys, "draft", path)
    assert code == 0
    assert "neck v, piece front, depth 8 in: keeps the neck-shoulder point where it is" in out
    assert "hem band: cut 3 1/2 in wide, 45 1/4 in long" in out
    _, low, _ = result(capsys, "draft", path, "--version", "round neck")
    assert "neck v" not in low


def test_the_drawing_of_a_version_says_which(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = result(capsys, "draft", OVERTOP, "--version", "low back", "--out", tmp_path)
    assert out.startswith("Harbour overtop, low back\n")
    assert ">Harbour overtop, low back</text>" in (tmp_path / "front.svg").read_text(encoding="utf-8")


def test_the_report_says_how_the_pattern_is_finished(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "top.yaml"
    text = OVERTOP.read_text(encoding="utf-8")
    path.write_text(
        text.replace("unit: in", "unit: in\nfinish: {seam: french, hem: double}"), encoding="utf-8"
    )
    _, out, _ = result(capsys, "draft", path)
    told = "seams french, hems double; allowances given: seam 1/2 in, hem 1/2 in, edge 0"
    assert out.splitlines()[:2] == ["Harbour overtop", told]
    _, out, _ = result(capsys, "draft", path, "--json")
    assert json.loads(out)["finish"] == {"seam": "french", "hem": "double"}
    _, out, _ = result(capsys, "draft", OVERTOP, "--json")
    assert json.loads(out)["finish"] is None
