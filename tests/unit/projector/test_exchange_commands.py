"""`export` and `import` as they are typed."""

import json
from pathlib import Path

import pytest

from patterns import example, read_pattern
from patterns.parts import Kind
from tests.unit.projector.commands import result

POCKET = example("practice pocket")
APRON = """<svg xmlns="http://www.w3.org/2000/svg" width="20in" height="20in" viewBox="0 0 20 20">
<path id="apron" d="M 2 2 h 6 v 9 h -6 z"/><path id="bib" d="M 10 2 h 5 v 4 h -5 z"/></svg>"""
TIGHT = """<svg xmlns="http://www.w3.org/2000/svg" width="20in" height="20in" viewBox="0 0 20 20">
<path id="frog" d="M 2 2 H 8 V 5 A .3 .3 0 0 0 8 5.6 V 9 H 2 Z"/></svg>"""
KEPT = """# cut from the old mainsail
pattern: Galley
unit: cm
allowance: {seam: 1 cm, hem: 2 cm}
pieces:
  cloth:
    cut: 2  # both watches
    edges:
      - {name: top, kind: hem, path: [[0, 0], [30, 0]]}
      - {name: round, kind: seam, path: [[30, 0], [30, 40], [0, 40], [0, 0]]}
"""


def drawing(folder: Path, content: str) -> Path:
    path = folder / "drawing.svg"
    path.write_text(content, encoding="utf-8")
    return path


@pytest.mark.parametrize("kind", ["svg", "dxf", "pdf"])
def test_what_is_exported_is_imported_again(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], kind: str
) -> None:
    out, back = tmp_path / f"pocket.{kind}", tmp_path / "pocket.yaml"
    code, said, _ = result(capsys, "export", POCKET, "--to", kind, "--out", out)
    assert (code, said) == (0, f"{out}: pocket (half, on the fold); 4 13/16 in by 12 in\n")
    code, said, _ = result(capsys, "import", out, "--out", back)
    assert code == 0
    assert said.splitlines() == [
        f"{back}: 1 piece",
        "pocket: cut 1 on fold, 1 notch, grain",
        "  top                  3 in  hem, allowance 1 in",
        "  side             5 1/2 in  seam, allowance 1/2 in",
        "  bottom          3 3/16 in  seam, allowance 1/2 in",
        "  centre           6 1/2 in  fold",
    ]
    before, after = read_pattern(POCKET).drafted(), read_pattern(back).drafted()
    assert after.pieces["pocket"].cut_line == pytest.approx(before.pieces["pocket"].cut_line, abs=1e-9)
    assert after.joins == ()


def test_the_numbers_of_an_export(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "top.pdf"
    code, said, _ = result(
        capsys, "export", example("harbour overtop"), "--version", "round neck", "--piece", "back facing", "--opened",
        "--paper", "a4", "--out", out, "--json",
    )  # fmt: skip
    told = json.loads(said)
    assert code == 0
    assert (told["format"], told["pattern"]) == ("pdf", "Harbour overtop, round neck")
    assert [(one["piece"], one["state"]) for one in told["pieces"]] == [("back facing", "opened full")]
    assert told["sheets"] == ["A1", "A2"]
    assert out.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("arguments", "code", "sentence"),
    [
        (
            ["--to", "pdf", "--out", "x.svg"],
            2,
            "--to is pdf, but --out ends in .svg; leave --to out, or name the file .pdf",
        ),
        (["--out", "x.txt"], 2, "--to is needed, or an --out that ends in .svg, .dxf, .pdf; found x.txt"),
        (["--out", "x.svg", "--paper", "a4"], 2, "--paper is of a pdf; the svg is one large sheet"),
        (["--to", "svg", "--out", str(POCKET)], 2, "is the pattern itself, which the export would overwrite"),
        (["--out", "x.svg", "--piece", "pokcet"], 1, "Practice pocket has no piece pokcet; it has pocket"),
        (["--out", "x.svg", "--version", "large"], 1, 'has no version "large"'),
        (["--out", "nowhere/x.svg"], 1, "cannot be written"),
    ],
)
def test_an_export_that_cannot_be_made_is_told_why(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    arguments: list[str],
    code: int,
    sentence: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    try:
        found, _, said = result(capsys, "export", POCKET, *arguments)
    except SystemExit as left:
        found, said = int(str(left.code)), capsys.readouterr().err
    assert (found, sentence in said) == (code, True)
    assert list(tmp_path.iterdir()) == []


def test_pieces_are_added_to_a_pattern_in_its_own_unit_and_its_comments_stay(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "galley.yaml"
    out.write_text(KEPT, encoding="utf-8")
    code, said, _ = result(
        capsys, "import", drawing(tmp_path, APRON), "--out", out, "--piece", "skirt", "bib", "--fold", "skirt: left",
        "--edges", "bib: top,right,hem,left", "--json",
    )  # fmt: skip
    told = json.loads(said)
    assert code == 0
    assert told["unit"] == "cm"
    assert told["pieces"]["skirt"]["fold"] == "centre"
    assert told["pieces"]["skirt"]["edges"]["edge 1"] == pytest.approx(6.0)
    assert told["pieces"]["bib"]["edges"] == pytest.approx(
        {"top": 5.0, "right": 4.0, "hem": 5.0, "left": 4.0}, abs=1e-3
    )
    assert told["warnings"] == ["skirt: its edges are numbered; --edges names them"]
    assert out.read_text(encoding="utf-8").startswith(KEPT)
    pattern = read_pattern(out)
    assert [piece.name for piece in pattern.pieces] == ["cloth", "skirt", "bib"]
    assert pattern.pieces[2].edges[2].kind is Kind.HEM
    assert str(pattern.pieces[2].edges[1].path[1].y) == "10.16"
    assert pattern.drafted().pieces["bib"].edges["hem"].allowance_in == pytest.approx(2 / 2.54)


def test_a_piece_that_the_usual_allowance_does_not_fit_has_none_and_it_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "frogs.yaml"
    code, said, _ = result(capsys, "import", drawing(tmp_path, TIGHT), "--out", out)
    assert code == 0
    assert "look: frog: the pattern's allowances do not fit it all round, so it has none" in said
    assert all(edge.allowance_in == 0 for edge in read_pattern(out).drafted().pieces["frog"].edges.values())


def test_what_could_not_be_cut_is_not_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    drawn, out = tmp_path / "pocket.svg", tmp_path / "pocket.yaml"
    assert result(capsys, "export", POCKET, "--out", drawn)[0] == 0
    text = drawn.read_text(encoding="utf-8")
    drawn.write_text(text.replace('data-allowance="0.5 in"', 'data-allowance="9 in"'), encoding="utf-8")
    code, _, said = result(capsys, "import", drawn, "--out", out)
    assert code == 1
    assert "an allowance of 9 in is more than" in said
    assert not out.exists()


@pytest.mark.parametrize(
    ("arguments", "code", "sentence"),
    [
        (["--fold", "west"], 2, '"west" names no side; say one of left, right, top, bottom, none'),
        (["--fold", "left", "--fold", "none"], 2, "--fold is given twice for every piece"),
        (["--edges", "bib: a,,b"], 2, "is not a list of names"),
        (["--allowance=-1/2 in"], 2, '"-1/2 in" is no allowance; it is nothing or more'),
        (["--scale", "1mm", "--across", "9in"], 2, "not allowed with argument"),
        (["--piece", "a", "a"], 2, "--piece names two pieces a"),
        (["--unit", "in"], 1, "is in cm, and --unit is in; leave --unit out"),
        (
            ["--piece", "cloth", "bib"],
            1,
            "has a piece cloth already; import into another file, or name the pieces",
        ),
        (["--edges", "top,side"], 1, "--edges is for one piece of 2; say which"),
    ],
)
def test_an_import_that_cannot_be_made_is_told_why_and_nothing_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], arguments: list[str], code: int, sentence: str
) -> None:
    out = tmp_path / "galley.yaml"
    out.write_text(KEPT, encoding="utf-8")
    source = drawing(tmp_path, APRON)
    try:
        found, _, said = result(capsys, "import", source, "--out", out, *arguments)
    except SystemExit as left:
        found, said = int(str(left.code)), capsys.readouterr().err
    assert (found, sentence in said) == (code, True), said
    assert out.read_text(encoding="utf-8") == KEPT
    assert sorted(path.name for path in tmp_path.iterdir()) == ["drawing.svg", "galley.yaml"]
