"""Where pieces lay is kept beside the table file."""

from pathlib import Path

import pytest

from patterns.cutting.placement import Placement
from projector.errors import ProjectorError
from projector.places import places_path, read_places, write_places

LAID = {
    "front": Placement(x_in=1.5, y_in=-2.25, turn_deg=12.0, mirrored=True),
    "écharpe": Placement(opened=True),
}


def test_places_come_back_and_patterns_do_not_disturb_each_other(tmp_path: Path) -> None:
    path = places_path(tmp_path / "table.yaml")
    assert read_places(path, "table", "blouse") == {}
    write_places(path, "table", "blouse", LAID)
    write_places(path, "table", "apron", {"front": Placement()})
    write_places(path, "attic", "blouse", {"front": Placement()})
    assert read_places(path, "table", "blouse") == LAID
    assert read_places(path, "attic", "blouse") == {"front": Placement()}
    assert read_places(path, "attic", "apron") == {}
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
    assert read_places(path, "table", "blouse") == {"front": laid}
    assert read_places(path, "attic", "blouse") == {}
    write_places(path, "attic", "blouse", {"front": Placement()})
    assert read_places(path, "table", "blouse") == {"front": laid}


FAR_OFF = '{"x_in": 1e999, "y_in": 0, "turn_deg": 0, "mirrored": false, "opened": false}'


@pytest.mark.parametrize(
    "content",
    [
        "",
        "[]",
        "{}",
        '{"version": 3, "setups": {}}',
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
        read_places(path, "table", "blouse")
