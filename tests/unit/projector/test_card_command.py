import json
from pathlib import Path

import pypdfium2
import pytest

from patterns import example
from patterns.sewing.step import Step
from projector.command_line import main
from projector.pictures.card_page import card_page
from tests.unit.projector.commands import check_refusal, result

OVERTOP = example("harbour overtop")
PAGE_PT = {"letter": (612, 792), "a4": (595.28, 841.89)}  # 1/72 in (ISO 32000): 8.5 x 11 in; 210 x 297 mm


def read_back(content: bytes) -> tuple[str, list[tuple[float, float]]]:
    document = pypdfium2.PdfDocument(content)
    pages = list(document)
    text = " ".join(page.get_textpage().get_text_bounded() for page in pages)
    return " ".join(text.split()), [page.get_size() for page in pages]


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_printed_card_says_what_the_card_says(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], paper: str
) -> None:
    out = tmp_path / "card.pdf"
    code, said, _ = result(capsys, "card", OVERTOP, "--out", out, "--paper", paper, "--json")
    told = json.loads(said)
    assert code == 0
    text, sizes = read_back(out.read_bytes())
    assert sizes == [pytest.approx(PAGE_PT[paper], abs=0.5)]
    for step in told["steps"]:
        assert step["title"] in text
        assert all(sentence in text for sentence in step["says"])
    assert all(caution in text for caution in told["cautions"])


def test_without_a_file_the_card_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    code, said, _ = result(capsys, "card", OVERTOP, "--version", "round neck")
    assert code == 0
    assert said.startswith("Harbour overtop, round neck\n 1  Set the machine\n")
    assert "Do not look into the projector's lens" in said


def test_a_long_card_goes_on_over_pages_and_a_step_is_not_torn_from_its_title() -> None:
    steps = [Step(title=f"Coil rope {number}", says=("Round and round.",) * 4) for number in range(30)]
    content = card_page("Ōban crêpe", steps, "a4")
    text, sizes = read_back(content)
    assert len(sizes) > 1
    assert text.startswith("Oban crêpe")
    for page in pypdfium2.PdfDocument(content):
        words = page.get_textpage().get_text_bounded().split()
        assert words[-1] in ("round.", "table.")


def test_a_version_that_there_is_not_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "card.pdf"
    arguments = ("card", OVERTOP, "--version", "matinee", "--out", out)
    check_refusal(capsys, tmp_path, arguments, 'has no version "matinee"')


def test_the_pattern_is_never_overwritten_by_its_card(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pattern = tmp_path / "top.yaml"
    pattern.write_bytes(OVERTOP.read_bytes())
    with pytest.raises(SystemExit) as left:
        main(["card", str(pattern), "--out", str(tmp_path / "." / "top.yaml")])
    assert left.value.code == 2
    assert "is the pattern itself" in capsys.readouterr().err
    assert pattern.read_bytes() == OVERTOP.read_bytes()


def test_a_card_that_cannot_be_written_says_where(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    asked = ("card", OVERTOP, "--out")
    check_refusal(capsys, tmp_path, (*asked, tmp_path), f"{tmp_path}: found a folder where a file is to be")
    check_refusal(
        capsys, tmp_path, (*asked, "."), "found a folder where a file is to be written; name a file"
    )
    gone = tmp_path / "gone" / "card.pdf"
    check_refusal(capsys, tmp_path, (*asked, gone), f"{gone}: cannot be written (No such file or directory)")
