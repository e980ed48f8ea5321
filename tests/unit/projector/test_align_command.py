"""`sheet` and `align`: what is printed and projected before a photo."""

import json
from argparse import ArgumentParser
from pathlib import Path

import cv2
import numpy as np
import pytest

from projector.command_line import VERBS
from tests.unit.projector.commands import check_refusal, result


def test_sheets_are_written_with_what_to_do_next(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = result(capsys, "sheet", "--paper", "a4", "--count", "2", "--out", tmp_path / "sheets.pdf")
    assert code == 0
    assert (tmp_path / "sheets.pdf").read_bytes().startswith(b"%PDF")
    assert "--printed-ruler" in out


def test_targets_are_written_with_their_windows(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    picture = tmp_path / "targets.png"
    code, out, _ = result(
        capsys, "align", "--targets", picture, "--screen", "1920x1080", "--sheets", "3", "--json"
    )
    assert code == 0
    windows = np.array(json.loads(out)["windows"])
    assert windows.shape == (3, 4, 2)
    frame = cv2.imread(str(picture), cv2.IMREAD_UNCHANGED)
    assert frame is not None
    assert frame.shape == (1080, 1920)
    for window in windows:
        u, v = np.rint(window.mean(axis=0)).astype(int)
        assert frame[v - 20 : v + 20, u - 20 : u + 20].max() == 255


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("--photo", "none.jpg", "--screen", "1920x1080", "--table", "t.yaml"), "none.jpg"),
        (("--targets", "t.png", "--screen", "400x300"), "the screen is 400x300"),
    ],
)
def test_what_a_person_can_mend_is_one_sentence_and_leaves_nothing(
    arguments: tuple[str, ...],
    sentence: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    check_refusal(capsys, tmp_path, ("align", *arguments), sentence)


def ways(*arguments: str) -> str:
    verb = VERBS["align"]
    parser = ArgumentParser()
    verb.options(parser)
    return verb.runs(parser.parse_args(arguments))


def test_each_way_has_its_function() -> None:
    assert ways("--targets", "t.png") == "projector.verbs.align.write_targets"
    assert ways("--photo", "p.jpg", "--setup", "attic") == "projector.verbs.align.align_photos"
    assert ways("--camera", "0") == "projector.verbs.camera.align_by_camera"
    assert ways("--by-hand") == "projector.verbs.by_hand.by_hand"
