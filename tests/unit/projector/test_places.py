"""Where pieces lay is kept beside the table file."""

from pathlib import Path

import pytest

from patterns.cutting.placement import Placement
from projector.cloth.cloth_place import ClothPlace
from projector.cutting.work import CopyWork, CutWork
from projector.errors import ProjectorError
from projector.places import places_path, read_work, write_work

WORK = CutWork(
    copies=(
        CopyWork(
            piece="front", number=1, place=Placement(x_in=1.5, turn_deg=12.0, mirrored=True), ticked=("cut",)
        ),
        CopyWork(piece="écharpe", number=2, place=Placement(y_in=-2.25, opened=True)),
    ),
    cloth=ClothPlace(x_in=0.5, y_in=0.25, turn_deg=-3.0),
    begun=True,
    at=1,
)
BEGUN = CutWork(copies=(CopyWork(piece="front", number=1, place=Placement()),))


def test_work_comes_back_and_patterns_do_not_disturb_each_other(tmp_path: Path) -> None:
    path = places_path(tmp_path / "table.yaml")
    assert read_work(path, "table", "blouse") is None
    write_work(path, "table", "blouse", WORK)
    write_work(path, "table", "apron", BEGUN)
    write_work(path, "attic", "blouse", BEGUN)
    assert read_work(path, "table", "blouse") == WORK
    assert read_work(path, "attic", "blouse") == BEGUN
    assert read_work(path, "attic", "apron") is None
    assert path.name == "table.places.json"
    assert [file.name for file in tmp_path.iterdir()] == ["table.places.json"]


VERSION_1 = """\
{"version": 1,
 "patterns": {"blouse": {"front": {"x_in": 1.5, "y_in": -2, "turn_deg": 90, "mirrored": true, "opened": false}}}}
"""


def test_places_of_an_older_file_are_those_of_its_only_set_up(tmp_path: Path) -> None:
    path = tmp_path / "table.places.json"
    path.write_text(VERSION_1, encoding="utf-8")
    laid = Placement(x_in=1.5, y_in=-2.0, turn_deg=90.0, mirrored=True)
    work = CutWork(copies=(CopyWork(piece="front", number=1, place=laid),))
    assert read_work(path, "table", "blouse") == work
    assert read_work(path, "attic", "blouse") is None
    write_work(path, "attic", "blouse", BEGUN)
    assert read_work(path, "table", "blouse") == work


FAR_OFF = '{"x_in": 1e999, "y_in": 0, "turn_deg": 0, "mirrored": false, "opened": false}'


@pytest.mark.parametrize(
    "content",
    [
        "",
        "[]",
        "{}",
        '{"version": 4, "setups": {}}',
        '{"version": 3, "setups": {"table": {"blouse": {"begun": false, "at": 0}}}}',
        '{"version": 3, "setups": {"table": {"blouse": []}}}',
        '{"version": 2, "patterns": {}}',
        '{"version": 2, "setups": {"table": {"blouse": 3}}}',
        f'{{"version": 2, "setups": {{"table": {{"blouse": {{"front": {FAR_OFF}}}}}}}}}',
        '{"version": 1, "patterns": {"blouse": 3}}',
        '{"version": 1, "patterns": {"blouse": {"front": {"x_in": "far"}}}}',
        f'{{"version": 1, "patterns": {{"blouse": {{"front": {FAR_OFF}}}}}}}',
    ],
)
def test_a_file_of_something_else_is_refused_with_what_to_do(tmp_path: Path, content: str) -> None:
    path = tmp_path / "table.places.json"
    path.write_text(content, encoding="utf-8")
    with pytest.raises(ProjectorError, match=r"table\.places\.json: found no places .* delete the file"):
        read_work(path, "table", "blouse")
