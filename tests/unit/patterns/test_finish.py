from pathlib import Path

import pytest

from patterns import example
from patterns.cutting.drafted import DraftedPattern
from patterns.files.reader import read_pattern
from patterns.files.writer import write_pattern
from patterns.measures import Unit
from patterns.paper.card import card
from tests.unit.patterns.build import pattern_of
from tests.unit.patterns.smock import smock_text

OVERTOP = example("harbour overtop").read_text(encoding="utf-8")
GIVEN = next(line for line in OVERTOP.splitlines() if line.startswith("allowance:"))


def finished(folder: Path, lines: str) -> DraftedPattern:
    path = folder / "top.yaml"
    path.write_text(OVERTOP.replace(GIVEN, lines), encoding="utf-8")
    return read_pattern(path).drafted()


@pytest.mark.parametrize(
    ("finish", "side", "hem", "outer"),
    [
        ("{seam: overlocked, hem: single}", 1 / 2, 1 / 2, 0.0),
        ("{seam: overcast, hem: double}", 1 / 2, 1 / 2, 0.0),
        ("{seam: bound}", 1 / 2, 1 / 2, 0.0),
        ("{seam: french, hem: double}", 5 / 8, 1 / 2, 1 / 4),
        ("{}", 1 / 2, 1 / 2, 0.0),
    ],
)
def test_every_allowance_follows_the_finish(
    tmp_path: Path, finish: str, side: float, hem: float, outer: float
) -> None:
    """French: 1/4 + 3/8 in; a double hem: 1/4 + 1/4 in; a faced neck: 1/2 in (all common practice)."""
    pieces = finished(tmp_path, f"finish: {finish}").pieces
    for name in ("front", "back"):
        edges = pieces[name].edges
        assert edges["side"].allowance_in == edges["overarm"].allowance_in == side
        assert edges["hem"].allowance_in == edges["sleeve hem"].allowance_in == hem
        assert edges["neck"].allowance_in == pieces[f"{name} facing"].edges["neck"].allowance_in == 1 / 2
        assert pieces[f"{name} facing"].edges["outer"].allowance_in == outer


@pytest.mark.parametrize("unit", ["mm", "cm"])
def test_a_metric_file_gets_whole_millimetres(tmp_path: Path, unit: str) -> None:
    """12 mm; a French seam of 6 + 9 = 15 mm; a double hem of 6 + 6 mm; 24 mm of bias strip (all common practice)."""
    text = smock_text("", unit=Unit(unit))
    given = next(line for line in text.splitlines() if line.startswith("allowance:"))
    for finish, side_mm, hem_mm, says in (
        ("{}", 12, (12,), "Fold up 1.2 cm" if unit == "cm" else "12 mm from the edge. Overlock"),
        (
            "{seam: french, hem: double}",
            15,
            (6, 6),
            "6 mm from the edge; trim to 3 mm and press. Then right sides together, 9 mm from",
        ),
        ("{seam: bound}", 12, (12,), "2.4 cm wide and" if unit == "cm" else "24 mm wide and"),
    ):
        pattern = pattern_of(tmp_path, text.replace(given, f"finish: {finish}"))
        drafted = pattern.drafted()
        edges = drafted.pieces["front"].edges
        assert edges["side"].allowance_in * 25.4 == pytest.approx(side_mm)
        assert [fold * 25.4 for fold in edges["hem"].folds_in] == pytest.approx(list(hem_mm))
        told = " ".join(s for step in card(drafted, pattern.finish) for s in step.sentences)
        assert says in told


def test_what_is_given_stands_before_the_finish(tmp_path: Path) -> None:
    lines = "finish: {seam: french}\nallowance: {seam: 3/4 in, edge: 3/8 in}"
    pieces = finished(tmp_path, lines).pieces
    assert pieces["front"].edges["side"].allowance_in == pieces["front"].edges["neck"].allowance_in == 3 / 4
    assert pieces["front facing"].edges["outer"].allowance_in == 3 / 8
    assert pieces["front"].edges["hem"].allowance_in == 1 / 2


def test_a_finish_is_written_as_it_was_read(tmp_path: Path) -> None:
    finished(tmp_path, "finish: {seam: french, hem: double}")
    pattern = read_pattern(tmp_path / "top.yaml")
    write_pattern(tmp_path / "again.yaml", pattern)
    assert read_pattern(tmp_path / "again.yaml") == pattern


def test_a_finish_that_there_is_not_is_named(tmp_path: Path) -> None:
    with pytest.raises(Exception, match="french"):
        finished(tmp_path, "finish: {seam: flat felled}")
