"""Crosses kept on disk between runs."""

from pathlib import Path

import pytest

from calibration.hand.by_hand import HandAlignment
from calibration.sheets.sheet import PAPERS
from projector.aligning.crosses import crosses_path, keep_crosses, set_aside, with_kept_crosses

SCREEN_PX = (1920, 1080)
MAT = HandAlignment.over_mat(SCREEN_PX, 1.0, (36.0, 24.0))
SHEETS = HandAlignment.over_sheets(SCREEN_PX, PAPERS["a4"], 3)


def with_some(begun: HandAlignment) -> HandAlignment:
    """Crosses on three marks, the middle one placed twice."""
    for mark, at_px in ((0, (100.5, 900.25)), (2, (1800.0, 90.0)), (2, (1801.0, 91.0)), (7, (300.0, 400.0))):
        begun = begun.with_cross(at_px, begun.marks[mark])
    return begun


@pytest.mark.parametrize("begun", [MAT, SHEETS])
def test_crosses_come_back_mark_by_mark_with_their_past(tmp_path: Path, begun: HandAlignment) -> None:
    path = crosses_path(tmp_path / "table.yaml")
    placed = with_some(begun)
    keep_crosses(path, placed)
    assert with_kept_crosses(path, begun) == placed
    assert set_aside(path, begun) is None
    assert path.exists()


@pytest.mark.parametrize(
    "other",
    [
        SHEETS,
        HandAlignment.over_mat((1280, 800), 1.0, (36.0, 24.0)),
        HandAlignment.over_mat(SCREEN_PX, 1.0, (24.0, 36.0)),
        HandAlignment.over_sheets(SCREEN_PX, PAPERS["a4"], 3, 7.9),
        HandAlignment.over_sheets(SCREEN_PX, PAPERS["letter"], 3),
    ],
)
def test_crosses_of_something_else_are_not_taken_but_set_aside(tmp_path: Path, other: HandAlignment) -> None:
    path = crosses_path(tmp_path / "table.yaml")
    keep_crosses(path, with_some(MAT))
    kept = path.read_bytes()
    assert with_kept_crosses(path, other) == other
    aside = set_aside(path, other)
    assert aside is not None
    assert aside.read_bytes() == kept
    assert not path.exists()


@pytest.mark.parametrize(
    "text",
    ["", "[]", "{", '{"version": 1, "crosses_px": [[1, 2]]}', "null"],
)
def test_older_and_damaged_files_are_set_aside_one_beside_the_other(tmp_path: Path, text: str) -> None:
    path = crosses_path(tmp_path / "table.yaml")
    for _ in range(2):
        path.write_text(text, encoding="utf-8")
        assert with_kept_crosses(path, MAT) == MAT
        set_aside(path, MAT)
    assert sorted(file.name for file in tmp_path.iterdir()) == [
        "table.crosses.json.old1",
        "table.crosses.json.old2",
    ]


def test_a_mark_that_does_not_exist_is_not_made_up(tmp_path: Path) -> None:
    path = crosses_path(tmp_path / "table.yaml")
    keep_crosses(path, with_some(MAT))
    path.write_text(path.read_text(encoding="utf-8").replace("[0.0, 0.0]", "[0.5, 0.0]"), encoding="utf-8")
    assert with_kept_crosses(path, MAT) == MAT


def test_no_file_is_no_crosses(tmp_path: Path) -> None:
    assert with_kept_crosses(tmp_path / "none.json", MAT) == MAT
    assert set_aside(tmp_path / "none.json", MAT) is None
