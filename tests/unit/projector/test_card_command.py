import json
from pathlib import Path

import cv2
import pypdfium2
import pytest

from calibration.table.setups import TableFile
from calibration.table.table_file import save_table
from patterns import example
from patterns.sewing.step import Step
from projector.command_line import main
from projector.errors import ProjectorError
from projector.pictures.card_page import card_page
from projector.sewing.kept import KeptStep, steps_path
from tests.unit.projector.commands import check_refusal, result
from tests.unit.projector.samples import a_setup, an_alignment

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


@pytest.fixture
def table(tmp_path: Path) -> Path:
    path = tmp_path / "table.yaml"
    save_table(path, TableFile(setups=(a_setup(an_alignment()),)))
    return path


def test_a_frame_shows_the_step_that_is_asked_for(
    tmp_path: Path, table: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "card.png"
    code, said, _ = result(capsys, "card", OVERTOP, "--table", table, "--step", "7", "--frame", out)
    assert (code, said) == (0, f"{out}: step 7 of 9, Harbour overtop, Sew the side\n")
    picture = cv2.imread(str(out))
    assert picture is not None
    assert picture.shape == (1080, 1920, 3)
    assert picture.any()
    asked = ("card", OVERTOP, "--version", "round neck", "--table", table, "--frame", out)
    assert "Harbour overtop, round neck" in result(capsys, *asked)[1]


def test_a_step_that_there_is_not_is_said(
    tmp_path: Path, table: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = ("card", OVERTOP, "--table", table, "--step", "12", "--frame", tmp_path / "no.png")
    check_refusal(capsys, tmp_path, asked, "there is no step 12; the card has 9")


@pytest.mark.parametrize(
    ("typed", "complaint"),
    [
        (("--step", "2"), "--step goes with --table"),
        (("--frame", "f.png"), "--frame goes with --table"),
        (("--window", "800x600"), "--window goes with --table"),
        (("--table", "t.yaml", "--out", "c.pdf"), "--out is of the card on paper; leave --table out"),
        (("--table", "t.yaml", "--json"), "--json is of the card on paper; leave --table out"),
        (("--table", "t.yaml", "--step", "0"), "found 0; steps are numbered from 1"),
    ],
)
def test_what_does_not_go_together_is_said(
    capsys: pytest.CaptureFixture[str], typed: tuple[str, ...], complaint: str
) -> None:
    with pytest.raises(SystemExit) as left:
        main(["card", str(OVERTOP), *typed])
    assert left.value.code == 2
    assert complaint in capsys.readouterr().err


def test_the_step_is_kept_by_garment(tmp_path: Path) -> None:
    path = steps_path(tmp_path / "table.yaml")
    assert path.name == "table.card.json"
    one, two = (KeptStep(path=path, garment=name) for name in ("Overtop", "Overtop, round neck"))
    assert one.read() == ""
    one.write("Sew the side")
    two.write("Sew the overarm")
    assert (one.read(), two.read()) == ("Sew the side", "Sew the overarm")


@pytest.mark.parametrize(
    "content", ["", "[]", '{"version": 2, "steps": {}}', '{"version": 1, "steps": {"a": 1}}']
)
def test_a_file_that_is_not_one_of_ours_is_not_overwritten(tmp_path: Path, content: str) -> None:
    path = tmp_path / "table.card.json"
    path.write_text(content, encoding="utf-8")
    with pytest.raises(ProjectorError, match="found no steps of sewing cards; delete the file"):
        KeptStep(path=path, garment="Overtop").write("Sew the side")
    assert path.read_text(encoding="utf-8") == content
