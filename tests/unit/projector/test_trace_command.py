"""`trace`: a photo becomes a pattern file that drafts; the file's other pieces are safe."""

import json
from pathlib import Path

import cv2
import numpy as np
import pytest

from patterns import read_pattern
from projector.command_line import main
from tests.unit.projector.commands import check_refusal
from tests.whole.garment_scenes import KINDS, seen

SHEETS = 3
TRACED = 24


@pytest.fixture(scope="module")
def photo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A garment by webcam, as a file."""
    path = tmp_path_factory.mktemp("photo") / "front.png"
    one = seen(TRACED, "webcam", KINDS["light"], SHEETS)
    cv2.imwrite(str(path), one.photo[..., ::-1], [cv2.IMWRITE_PNG_COMPRESSION, 1])
    return path


def test_a_photo_becomes_a_pattern_and_then_another_piece(
    photo: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out, picture = tmp_path / "quay top.yaml", tmp_path / "front.png"
    asked = ["trace", "--photo", str(photo), "--sheets", str(SHEETS), "--out", str(out)]
    assert main([*asked, "--printed-ruler", "8 in", "--picture", str(picture), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["piece"] == "front"
    assert told["edges"] == ["neck", "overarm", "sleeve hem", "side", "hem", "centre front"]
    assert told["fold_straightness_in"] < 1 / 16
    assert 0 < told["expected_error_in"] < 1 / 32
    assert told["size_checked"] is True
    drafted = read_pattern(out).drafted()
    assert set(drafted.pieces) == {"front"}
    assert np.abs(drafted.pieces["front"].cut_line).max() < 40
    shown = cv2.imread(str(picture))
    assert shown is not None
    assert max(shown.shape) > 1000
    _another_piece_is_added_and_none_is_written_over(asked, out, capsys)


def _another_piece_is_added_and_none_is_written_over(
    asked: list[str], out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = out.read_text(encoding="utf-8")
    assert main(asked) == 1
    assert capsys.readouterr().err == (
        f"chalkbeam trace: {out} has a piece front already; trace into another file, or name this one with "
        "--piece; --again takes its outline anew\n"
    )
    assert out.read_text(encoding="utf-8") == before
    out.write_text(f"# for the quay scene\n{before}# and the next\n", encoding="utf-8")
    assert main([*asked, "--piece", "back", "--edges", "neck,top arm,cuff,side,hem"]) == 0
    said = capsys.readouterr().out
    assert f"{out}: back with neck, top arm, cuff, side, hem, centre back" in said
    assert "look: size not checked" in said
    assert [piece.name for piece in read_pattern(out).pieces] == ["front", "back"]
    text = out.read_text(encoding="utf-8")
    assert text.startswith(f"# for the quay scene\n{before}  back:\n")
    assert text.endswith("\n# and the next\n")


def test_what_cannot_be_read_is_said_and_nothing_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "p.yaml"
    assert main(["trace", "--photo", str(tmp_path / "none.jpg"), "--out", str(out)]) == 1
    assert "cannot read the photo" in capsys.readouterr().err
    text = tmp_path / "words.jpg"
    text.write_text("no photo", encoding="utf-8")
    assert main(["trace", "--photo", str(text), "--out", str(out)]) == 1
    assert "is not a photo that can be read; save it as JPEG or PNG" in capsys.readouterr().err
    text.write_bytes(b"")
    assert main(["trace", "--photo", str(text), "--out", str(out)]) == 1
    assert "is empty; copy it from the camera again" in capsys.readouterr().err
    assert not out.exists()


@pytest.mark.parametrize("name", ["", "front/left"])
def test_what_is_no_name_is_told_before_the_photo_is_looked_at(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = ("trace", "--photo", tmp_path / "none.jpg", "--out", tmp_path / "top.yaml", "--piece", name)
    check_refusal(capsys, tmp_path, asked, "wanted a name")


@pytest.mark.parametrize("given", [",neck", "neck,,hem"])
def test_names_without_a_name_are_a_mistake_of_usage(given: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["trace", "--photo", "a.jpg", "--out", "p.yaml", "--edges", given])
    assert ended.value.code == 2
    assert "is not a list of names" in capsys.readouterr().err
