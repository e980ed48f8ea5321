"""Files are written whole; a pipe, a terminal and a link are what they were."""

import os
import threading
from pathlib import Path

import pytest

from projector.errors import ProjectorError
from projector.outputs import write_bytes


def test_a_file_is_replaced_whole_and_leaves_nothing_beside_it(tmp_path: Path) -> None:
    path = tmp_path / "card.pdf"
    for content in (b"old, and longer", b"new"):
        write_bytes(path, content)
    assert path.read_bytes() == b"new"
    assert list(tmp_path.iterdir()) == [path]


def test_a_link_stays_a_link_to_what_is_written(tmp_path: Path) -> None:
    path, link = tmp_path / "card.pdf", tmp_path / "latest.pdf"
    link.symlink_to(path)
    write_bytes(link, b"card")
    assert link.is_symlink()
    assert path.read_bytes() == b"card"


def test_a_pipe_is_written_into(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    read: list[bytes] = []
    reader = threading.Thread(target=lambda: read.append(pipe.read_bytes()), daemon=True)
    reader.start()
    write_bytes(pipe, b"card")
    reader.join(timeout=5)
    assert read == [b"card"]
    assert pipe.is_fifo()
    assert list(tmp_path.iterdir()) == [pipe]


def test_what_cannot_be_written_is_said_and_leaves_nothing(tmp_path: Path) -> None:
    with pytest.raises(ProjectorError, match="found a folder where a file is to be written"):
        write_bytes(tmp_path, b"card")
    with pytest.raises(
        ProjectorError, match=r"gone/card.pdf: cannot be written \(No such file or directory\)"
    ):
        write_bytes(tmp_path / "gone" / "card.pdf", b"card")
    assert list(tmp_path.iterdir()) == []
