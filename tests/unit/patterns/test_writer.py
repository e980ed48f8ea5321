from pathlib import Path

import pytest

from patterns import PatternError, example, example_names, read_pattern, write_pattern
from tests.unit.patterns.build import HALF_TOP, pattern_of


@pytest.mark.parametrize("name", example_names())
def test_the_examples_read_back_equal(tmp_path: Path, name: str) -> None:
    pattern = read_pattern(example(name))
    write_pattern(tmp_path / "copy.yaml", pattern)
    assert read_pattern(tmp_path / "copy.yaml") == pattern


def test_it_writes_as_people_write(tmp_path: Path) -> None:
    text = HALF_TOP.replace("pieces:", "unit: in\npieces:", 1)
    lines = text.splitlines()
    lines[1], lines[2] = lines[2], lines[1]
    expected = "\n".join(lines) + "\n"
    write_pattern(tmp_path / "copy.yaml", pattern_of(tmp_path, expected))
    assert (tmp_path / "copy.yaml").read_text() == expected


@pytest.mark.parametrize("spelling", ['5/8"', "1¼ in", "15mm", "1.5 cm", "1-1/4in", "½", ".5", "0.50 in"])
def test_every_spelling_is_kept(tmp_path: Path, spelling: str) -> None:
    quoted = "'" + spelling + "'"
    pattern = pattern_of(tmp_path, HALF_TOP.replace("hem: 1/2 in", f"hem: {quoted}"))
    write_pattern(tmp_path / "copy.yaml", pattern)
    back = read_pattern(tmp_path / "copy.yaml")
    assert back == pattern
    assert str(back.allowances[1].allowance) == spelling


@pytest.mark.parametrize(
    "name", ["no", "1:30", "null", "~", "- a", "a: b", "a #b", "it's", '"', "{x}", "été", "0x1f"]
)
def test_every_name_is_kept(tmp_path: Path, name: str) -> None:
    quoted = "'" + name.replace("'", "''") + "'"
    text = HALF_TOP.replace("Prompt corner", quoted).replace("front:", f"{quoted}:")
    pattern = pattern_of(tmp_path, text.replace("name: side", f"name: {quoted}"))
    assert pattern.name == pattern.pieces[0].name == pattern.pieces[0].edges[2].name == name
    write_pattern(tmp_path / "copy.yaml", pattern)
    assert read_pattern(tmp_path / "copy.yaml") == pattern


def test_a_failed_write_leaves_the_old_file_and_nothing_beside_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "kept.yaml"
    target.write_text("old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(PatternError, match="cannot be written \\(No space left on device\\)"):
        write_pattern(target, read_pattern(example("harbour overtop")))
    assert target.read_text() == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["kept.yaml"]


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(PatternError, match=r"none/top\.yaml: cannot be written"):
        write_pattern(tmp_path / "none" / "top.yaml", read_pattern(example("harbour overtop")))


def test_an_example_that_is_not_there_is_named() -> None:
    with pytest.raises(PatternError) as refused:
        example("quayside")
    assert str(refused.value) == 'there is no example "quayside"; there are harbour overtop, practice pocket'


def test_a_change_that_is_off_stays_off(tmp_path: Path) -> None:
    text = (
        HALF_TOP + "changes: [{neck: v, piece: front, depth: 6, off: yes}, {raise neck: 1, piece: front}]\n"
    )
    write_pattern(tmp_path / "copy.yaml", pattern_of(tmp_path, text))
    assert [change.off for change in read_pattern(tmp_path / "copy.yaml").changes] == [True, False]
