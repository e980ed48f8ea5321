"""Lays kept beside a pattern."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from patterns.laying.cloth import Cloth
from patterns.laying.folding import Fold, Folding
from patterns.laying.lay import Lay
from patterns.laying.rules import violations
from patterns.measures import Unit
from projector.errors import ProjectorError
from projector.laying.lay_file import is_kept, lay_path, read_lay, write_lay
from tests.unit.patterns.build import HALF_TOP, pattern_of
from tests.unit.patterns.hand_lays import on_fold

FOLDING = Folding(fold=Fold.PARTIAL, cloth=Cloth(bought_width_in=60), right_in=20)


def test_each_version_has_its_own(tmp_path: Path) -> None:
    drafted = pattern_of(tmp_path, HALF_TOP).drafted()
    path = lay_path(tmp_path / "top.yaml")
    assert path.name == "top.lay.json"
    assert not is_kept(path, None)
    for version, start in ((None, 0.0), ("plain", 3.0)):
        placed = on_fold(drafted.pieces["front"], FOLDING.fold_lines[0], start)
        write_lay(path, version, Lay(folding=FOLDING, placed=(placed,)), Unit.IN)
    assert is_kept(path, "plain")
    for version, start in ((None, 0.0), ("plain", 3.0)):
        lay, _ = read_lay(path, version, drafted)
        assert lay.placed[0].outline_in[:, 1].min() == pytest.approx(start)
        assert lay.placed[0].fold_line == FOLDING.fold_lines[0]
    with pytest.raises(ProjectorError, match='found no lay of version "short"; plan one first'):
        read_lay(path, "short", drafted)


@pytest.mark.parametrize(
    "content",
    ["", "[]", '{"version": 1}', '{"version": 2, "lays": {}}', '{"version": 1, "lays": {"": 3}}',
     '{"version": 1, "lays": {"": {"unit": "in"}}}'],
)  # fmt: skip
def test_a_file_that_is_none_is_named(tmp_path: Path, content: str) -> None:
    path = tmp_path / "top.lay.json"
    path.write_text(content)
    drafted = pattern_of(tmp_path, HALF_TOP).drafted()
    with pytest.raises(ProjectorError, match=r"top\.lay\.json: found no lay"):
        read_lay(path, None, drafted)


def test_a_lay_of_a_piece_that_is_drafted_no_more_is_planned_anew(tmp_path: Path) -> None:
    drafted = pattern_of(tmp_path, HALF_TOP).drafted()
    path = tmp_path / "top.lay.json"
    placed = on_fold(drafted.pieces["front"], FOLDING.fold_lines[0], 0.0)
    write_lay(path, None, Lay(folding=FOLDING, placed=(placed,)), Unit.IN)
    kept = json.loads(path.read_text())
    kept["lays"][""]["placed"][0]["piece"] = "yoke"
    path.write_text(json.dumps(kept))
    with pytest.raises(ProjectorError, match="plan it anew with --keep"):
        read_lay(path, None, drafted)


@pytest.mark.parametrize("wrong", [None, "x", [], {}, 1e308, float("nan")])
def test_whatever_stands_in_a_place_of_the_file_is_read_or_refused(tmp_path: Path, wrong: object) -> None:
    drafted = pattern_of(tmp_path, HALF_TOP).drafted()
    path = tmp_path / "top.lay.json"
    placed = on_fold(drafted.pieces["front"], FOLDING.fold_lines[0], 0.0)
    write_lay(path, None, Lay(folding=FOLDING, placed=(placed,), pieces=(placed.piece,)), Unit.IN)
    whole = path.read_text()
    for way in _ways_into(json.loads(whole)):
        kept = json.loads(whole)
        inner = kept
        for key in way[:-1]:
            inner = inner[key]
        inner[way[-1]] = wrong
        path.write_text(json.dumps(kept))
        try:
            lay, _ = read_lay(path, None, drafted)
        except ProjectorError:
            continue
        violations(lay)


def _ways_into(kept: Any) -> Iterator[tuple[Any, ...]]:
    """The way to each value, from the outside in."""
    inner = kept.items() if isinstance(kept, dict) else enumerate(kept) if isinstance(kept, list) else ()
    for key, value in inner:
        yield (key,)
        yield from ((key, *way) for way in _ways_into(value))
