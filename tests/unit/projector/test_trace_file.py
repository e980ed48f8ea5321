"""A trace on disk: it reads back as it was, and says when it may lie elsewhere."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from patterns.cutting.placement import Placement
from patterns.tracing.hand_trace import HandTrace
from projector.errors import ProjectorError
from projector.tracing.file import keep_trace, kept_path, read_kept
from tests.unit.patterns.test_hand_trace import walked
from tests.unit.projector.samples import an_alignment

ALIGNMENT = an_alignment()


@pytest.mark.parametrize(
    "lies",
    [
        HandTrace(),
        HandTrace(fold=((0.1, 0.2),)),
        walked(),
        walked().closed_up(),
        walked().without(3).closed_up().named(0, "échancrure"),
        Placement(x_in=1 / 3, y_in=-2.0, turn_deg=91.5, mirrored=True),
    ],
)
def test_it_reads_back_as_it_was(tmp_path: Path, lies: HandTrace | Placement) -> None:
    path = kept_path(tmp_path / "smock.yaml", "front facing")
    keep_trace(path, lies, ALIGNMENT)
    kept = read_kept(path)
    assert kept.lies == lies
    assert (kept.setup, kept.aligned_on) == (ALIGNMENT.name, ALIGNMENT.aligned_on)
    assert [one.name for one in tmp_path.iterdir()] == ["smock.front facing.trace.json"]


def test_another_alignment_is_told_of(tmp_path: Path) -> None:
    path = tmp_path / "a.trace.json"
    keep_trace(path, HandTrace(), ALIGNMENT)
    kept = read_kept(path)
    assert kept.doubt(ALIGNMENT) == ""
    later = replace(ALIGNMENT, aligned_on=ALIGNMENT.aligned_on + timedelta(days=1))
    assert kept.doubt(later) == "aligned again since this was traced: the light may lie beside the garment"
    assert kept.doubt(replace(ALIGNMENT, name="attic")).startswith("traced in the set-up sail loft")


@pytest.mark.parametrize(
    "text",
    [
        "", "{}", "[1]", '{"version": 2}', "\x00",
        '{"version": 1, "setup": "a", "aligned_on": "2026-01-01", "trace": {"fold": [[1]], "points": [], "names": []}}',
        '{"version": 1, "setup": "a", "aligned_on": "2026-01-01", "placement": {"x": 1}}',
    ],
)  # fmt: skip
def test_what_is_no_trace_is_a_sentence(tmp_path: Path, text: str) -> None:
    path = tmp_path / "a.trace.json"
    path.write_text(text)
    with pytest.raises(ProjectorError) as refused:
        read_kept(path)
    assert str(refused.value) == f"{path}: found no trace in it; delete the file to trace anew"


def test_a_folder_that_is_not_there_is_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(ProjectorError, match="cannot be written"):
        keep_trace(tmp_path / "no" / "a.trace.json", HandTrace(), ALIGNMENT)
