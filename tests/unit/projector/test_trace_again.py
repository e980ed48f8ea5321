"""`trace`: a piece of the file taken anew, touched up, and held against a tape."""

import json
from pathlib import Path

import pytest

from patterns import read_pattern
from patterns.changes import ShoulderForward
from patterns.checks.half_measures import captured_in
from patterns.parts import Bend
from patterns.piece import Piece
from projector.command_line import main
from tests.unit.projector.fake_photos import (
    COMMENT,
    FLIPPED,
    FRONT,
    GARMENT,
    WIDER,
    TakePhotos,
    front_of,
    said,
)


def test_a_piece_taken_anew_keeps_what_was_authored(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photos = take({"one.png": FRONT, "two.png": WIDER})
    out = tmp_path / "top.yaml"
    assert main(["trace", "--photo", str(photos["one.png"]), "--out", str(out)]) == 0
    text = out.read_text(encoding="utf-8")
    for old, new in (
        ("{name: hem, kind: hem,", f"{{name: hem, allowance: 1 in, kind: hem,  {COMMENT}\n         "),
        ("finish: {seam", "changes: [{neck: v, piece: front, depth: 8 in}]\nfinish: {seam"),
    ):
        assert old in text
        text = text.replace(old, new)
    text += "    notches: [{edge: side, at: 5 in, from: end}]\n"
    out.write_text(text, encoding="utf-8")
    before = read_pattern(out)
    assert main(["trace", "--photo", str(photos["two.png"]), "--out", str(out)]) == 1
    assert "--again takes its outline anew" in capsys.readouterr().err
    assert out.read_text(encoding="utf-8") == text
    assert main(["trace", "--photo", str(photos["two.png"]), "--out", str(out), "--again"]) == 0
    after = read_pattern(out)
    assert COMMENT in out.read_text(encoding="utf-8")
    assert after.changes == before.changes
    assert after.pieces[0].notches == before.pieces[0].notches
    assert [edge.allowance for edge in after.pieces[0].edges] == [
        edge.allowance for edge in before.pieces[0].edges
    ]
    assert captured_in(after.pieces[0], "centre to sleeve hem") == pytest.approx(
        1.03 * captured_in(before.pieces[0], "centre to sleeve hem"), abs=0.03
    )


def test_names_of_its_own_stay_when_a_piece_is_taken_anew(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photos = take({"one.png": FRONT, "two.png": WIDER})
    out = tmp_path / "top.yaml"
    own = "neckline,top arm,cuff,side,lower hem,centre front"
    assert main(["trace", "--photo", str(photos["one.png"]), "--out", str(out), "--edges", own]) == 0
    assert main(["trace", "--photo", str(photos["two.png"]), "--out", str(out), "--again"]) == 0
    assert [edge.name for edge in front_of(out).edges] == own.split(",")


def test_what_is_not_there_cannot_be_taken_anew(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (photo,) = take({"one.png": FRONT}).values()
    out = tmp_path / "top.yaml"
    assert main(["trace", "--photo", str(photo), "--out", str(out), "--again"]) == 1
    assert said(capsys) == "top.yaml: found no such file; wanted the path of a pattern file"
    assert main(["trace", "--photo", str(photo), "--out", str(out)]) == 0
    capsys.readouterr()
    assert main(["trace", "--photo", str(photo), "--out", str(out), "--again", "--piece", "back"]) == 1
    assert said(capsys) == f"{out} has no piece back; it has front: name one with --piece"


def bent(piece: Piece, name: str) -> tuple[Bend, int]:
    edge = next(edge for edge in piece.edges if edge.name == name)
    return edge.bend, len(edge.path)


def test_edges_are_touched_up_as_they_are_traced(take: TakePhotos, tmp_path: Path) -> None:
    (photo,) = take({"one.png": FRONT}).values()
    plain, out = tmp_path / "plain.yaml", tmp_path / "top.yaml"
    assert main(["trace", "--photo", str(photo), "--out", str(plain)]) == 0
    touches = ["--straighten", "overarm", "--smooth", "side", "--folded-away", "hem: 1/2 in"]
    assert main(["trace", "--photo", str(photo), "--out", str(out), *touches]) == 0
    before, after = front_of(plain), front_of(out)
    assert bent(after, "overarm") == (Bend.STRAIGHT, 2)
    assert bent(after, "side")[1] <= bent(before, "side")[1]
    longer = captured_in(after, "centre length") - captured_in(before, "centre length")
    assert longer == pytest.approx(0.5, abs=0.02)


def test_a_piece_in_its_file_is_touched_up_without_a_photo(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (photo,) = take({"one.png": FRONT}).values()
    out = tmp_path / "top.yaml"
    assert main(["trace", "--photo", str(photo), "--out", str(out)]) == 0
    text = f"{COMMENT}\n{out.read_text(encoding='utf-8')}"
    out.write_text(text, encoding="utf-8")
    capsys.readouterr()
    assert main(["trace", "--out", str(out), "--straighten", "overarm", "--left-off", "hem: 1 in"]) == 0
    assert capsys.readouterr().out == f"{out}: front with overarm straightened, hem moved in\n"
    assert bent(front_of(out), "overarm") == (Bend.STRAIGHT, 2)
    after = out.read_text(encoding="utf-8")
    assert after.startswith(f"{COMMENT}\n")
    assert main(["trace", "--out", str(out), "--smooth", "sleeve"]) == 1
    assert said(capsys) == (
        'front has no edge "sleeve"; its edges are neck, overarm, sleeve hem, side, hem, centre front'
    )
    assert out.read_text(encoding="utf-8") == after


def test_the_shoulder_comes_forward_between_front_and_back(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photos = take({"front.png": FRONT, "back.png": FLIPPED})
    out = tmp_path / "top.yaml"
    forward = ["--out", str(out), "--shoulder-forward", "3/8 in"]
    assert main(["trace", "--photo", str(photos["front.png"]), *forward]) == 1
    assert said(capsys) == (
        f"--shoulder-forward takes from the front what it gives to the back, and {out} has no back yet; trace "
        "that first, and say it with the second of the two"
    )
    assert main(["trace", "--photo", str(photos["front.png"]), "--out", str(out)]) == 0
    text = out.read_text(encoding="utf-8")
    out.write_text(
        text
        + f"changes:\n  - {{neck: v, piece: front, depth: 8 in}}  {COMMENT}\nversions: {{plain: {{without: [0]}}}}\n",
        encoding="utf-8",
    )
    assert main(["trace", "--photo", str(photos["back.png"]), "--piece", "back", *forward]) == 0
    pattern = read_pattern(out)
    assert isinstance(pattern.changes[0], ShoulderForward)
    assert pattern.changes[0].by.spelling == "3/8 in"
    assert pattern.versions[0].without == (1,)
    assert f"\n  - {{shoulder forward: 3/8 in}}\n  - {{neck: v, piece: front, depth: 8 in}}  {COMMENT}\n" in (
        out.read_text(encoding="utf-8")
    )
    capsys.readouterr()
    assert main(["trace", *forward]) == 1
    assert said(capsys) == f"{out} brings the shoulder forward by 3/8 in already; change it there"
    assert main(["trace", *forward, "--piece", "cuff"]) == 1
    assert said(capsys) == f"{out} has no piece cuff; it has front, back: name one with --piece"


def test_what_the_tape_says_is_told_with_the_trace(
    take: TakePhotos, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photos = take({"front.png": FRONT, "back.png": FLIPPED})
    out = tmp_path / "top.yaml"
    asked = ["trace", "--photo", str(photos["front.png"]), "--out", str(out)]
    assert main([*asked, "--taped", "girth 40 in at 16 in"]) == 1
    assert said(capsys).startswith("a girth goes round front and back, and there is front alone")
    assert not out.exists()
    reach = float(GARMENT.ring[:, 0].max())
    taped = ["--taped", f"centre to sleeve hem {reach:.2f} in", "--taped", "neck width 1 in"]
    assert main([*asked, *taped]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[3].endswith(f"{reach:.2f} in   agrees")
    assert lines[5].startswith("look: neck width: captured ")
    back = ["trace", "--photo", str(photos["back.png"]), "--out", str(out), "--piece", "back", "--json"]
    assert main([*back, "--taped", "girth 1 in at 16 in"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["taped"][0]["what"] == "girth at 16 in"
    assert any(warning.startswith("girth at 16 in: captured") for warning in told["warnings"])
