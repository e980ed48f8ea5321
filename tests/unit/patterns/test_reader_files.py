"""Files that are no patterns, and patterns saved by other programs."""

import os
from pathlib import Path

import pytest

from patterns import PatternError, read_pattern
from patterns.files.yaml_tree import MOST_BYTES
from tests.unit.patterns.build import HALF_TOP, pattern_of

FILES = [
    (b"", "found an empty file; wanted a pattern: its name, and its pieces"),
    (b"# nothing\n", "found an empty file; wanted a pattern: its name, and its pieces"),
    (b"{}", "line 1: found a pattern without pattern and pieces; wanted a pattern with pattern and pieces"),
    (
        b"hello",
        (
            'line 1: found "hello" for a pattern; wanted key: value, with pattern, unit, '
            "finish, allowance, pieces, joins, changes or versions"
        ),
    ),
    (
        b"[1, 2]",
        (
            "line 1: found a list of 2 for a pattern; wanted key: value, with pattern, unit, "
            "finish, allowance, pieces, joins, changes or versions"
        ),
    ),
    (b"pattern: x\npieces: {}\n", "line 2: found no pieces; wanted at least one piece"),
    (b"pattern: x\npieces: 3\n", 'line 2: found "3" for pieces; wanted key: value, with names'),
    (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "found a binary file; wanted a pattern file, which is text"),
    (b"pattern: caf\xe9\n", "line 1: found text that is not UTF-8; wanted a file saved as UTF-8"),
    (b"a: \x07\n", "line 1: found a letter that YAML does not allow; wanted plain text"),
    (b"#" * (MOST_BYTES + 1), "found more than 500 kB; wanted a pattern file, which is far smaller"),
    (b"[" * 5000, "line 1: found values nested more than 12 deep; wanted a pattern file"),
    (b"a: &x [1]\nb: *x\n", "line 1: found an anchor (&x); wanted the value itself, written out"),
    (b"a: *x\n", "line 1: found an alias (*); wanted the value itself, written out"),
    (b"a: !!python/none x\n", 'line 1: found a tag, "tag:yaml.org,2002:python/none"; wanted a plain value'),
    (b"? [a]\n: 1\n", "line 1: found a list as a key; wanted a key in plain words"),
    (b"a: 1\n---\nb: 2\n", "line 3: found a second document after ---; wanted one pattern a file"),
    (
        b"a: [1, 2\nb: 3\n",
        (
            "line 2: found a slip of YAML: expected ',' or ']', but got ':'; wanted "
            "well-formed YAML; look at brackets, colons and indents on this line and the one "
            "above"
        ),
    ),
    (
        b"\ta: 1\n",
        (
            "line 1: found a slip of YAML: found character '\\t' that cannot start any "
            "token; wanted well-formed YAML; look at brackets, colons and indents on this "
            "line and the one above"
        ),
    ),
]


@pytest.mark.parametrize(("data", "sentence"), FILES)
def test_a_file_that_is_no_pattern_is_refused(tmp_path: Path, data: bytes, sentence: str) -> None:
    path = tmp_path / "top.yaml"
    path.write_bytes(data)
    with pytest.raises(PatternError) as refused:
        read_pattern(path)
    gap = ", " if sentence.startswith("line") else ": "
    assert str(refused.value) == f"top.yaml{gap}{sentence}"


def test_a_folder_a_missing_file_and_a_pipe_are_refused(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    for name, sentence in [
        ("", f"{tmp_path.name}: found a folder; wanted a pattern file"),
        ("none.yaml", "none.yaml: found no such file; wanted the path of a pattern file"),
        ("pipe", "pipe: found something that is not a file; wanted a pattern file"),
    ]:
        with pytest.raises(PatternError) as refused:
            read_pattern(tmp_path / name)
        assert str(refused.value) == sentence


def test_a_byte_order_mark_and_windows_line_ends_are_no_fault(tmp_path: Path) -> None:
    plain = pattern_of(tmp_path, HALF_TOP)
    path = tmp_path / "windows.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + HALF_TOP.replace("\n", "\r\n").encode())
    assert read_pattern(path) == plain
