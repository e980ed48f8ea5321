"""What a metric sewist reads on the terminal and on the table: no inch, and the numbers of the inch file."""

from pathlib import Path

import pytest

from patterns import Unit
from patterns.files.reader import pattern_in
from projector.actions import Accept, Action, ChangeStep, ChangeTool, Flip, Move, TakeUp
from projector.command_line import main
from projector.drafting.checks import warnings
from projector.drafting.light import v_points
from projector.drafting.words import strip_words
from projector.scene import Controls
from projector.stations.draft import DraftStation
from tests.unit.patterns.own_unit import INCH, METRIC, check_alike, unsaid
from tests.unit.patterns.smock import smock_text
from tests.unit.patterns.test_own_unit import CHANGES, in_unit
from tests.unit.projector.drafts import GROUND, after, at, begun

OWN_STEPS = ("a V in", "below the high shoulder point: ")  # told at whole steps of each tape


def saved(folder: Path, unit: Unit) -> Path:
    path = folder / f"smock_{unit.value}.yaml"
    path.write_text(smock_text(in_unit(CHANGES, unit), unit=unit), encoding="utf-8")
    return path


def test_the_report(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """But for the depth of a V that would do, and the usual girths, which are told in whole steps of each tape."""
    told: dict[Unit, list[str]] = {}
    for unit in Unit:
        asked = ["--measure", "bust 44 in at 12 in", "--head", "70cm"]
        assert main(["draft", str(saved(tmp_path, unit)), *asked]) == 0
        lines = capsys.readouterr().out.splitlines()
        told[unit] = [" ".join(line.split()) for line in lines if not any(map(line.__contains__, OWN_STEPS))]
    assert any("ease" in line for line in told[Unit.IN])
    check_alike(told)


def test_the_pdf_and_the_said_card(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for unit in (Unit.CM, Unit.MM):
        assert main(["card", str(saved(tmp_path, unit))]) == 0
        said = capsys.readouterr().out
        assert not INCH.search(said)
        assert METRIC.search(said)


def station(unit: Unit) -> DraftStation:
    text = smock_text(in_unit(CHANGES, unit), unit=unit)
    return begun(pattern_in(text, Path("smock.yaml")))


TO_A_POINT: tuple[Action, ...] = (ChangeTool(), ChangeStep())


def said(now: DraftStation) -> list[str]:
    words = strip_words(now, Controls())
    return [*words.first, *words.aside, *warnings(now.work.drafted, GROUND.wearer)]


def test_the_strip_of_the_drafting_table() -> None:
    """Each tape has its own steps and its own roundest depth of a V."""
    told: dict[Unit, list[str]] = {}
    for unit in Unit:
        drafting = station(unit)
        pointing = after(drafting, *TO_A_POINT)
        corner = (10.75, 13.0)
        held = after(pointing, at(pointing, corner), TakeUp(), Move(right=1))
        lines = [*said(drafting), *said(pointing), *said(held), *said(after(held, Accept(), Flip(by=1)))]
        told[unit] = [line for line in lines if "steps" not in line and "a V in front" not in line]
        steps = [line for line in lines if "steps" in line]
        assert steps
        assert all(bool(INCH.search(line)) is (unit is Unit.IN) for line in steps)
    assert [unsaid(line) for line in told[Unit.CM]] == [unsaid(line) for line in told[Unit.IN]]
    for unit in (Unit.CM, Unit.MM):
        assert not [line for line in told[unit] if INCH.search(line)]
        assert any(METRIC.search(line) for line in told[unit])


def test_the_points_of_a_v() -> None:
    words = []
    for unit in Unit:
        drafting = station(unit)
        points = v_points(drafting.work.piece)
        assert points is not None
        words.append(points.words(drafting.work.drafted.say))
    assert words == [
        "stitched 8 in, cut 6 3/4 in deep",
        "stitched 20.3 cm, cut 17.2 cm deep",
        "stitched 203 mm, cut 172 mm deep",
    ]
