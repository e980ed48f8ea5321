from pathlib import Path

import pytest

from patterns import example
from patterns.cutting.drafted import DraftedPattern
from patterns.files.reader import read_pattern
from patterns.files.writer import write_pattern

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
