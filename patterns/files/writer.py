"""A `Pattern` -> a new pattern file that reads back equal, every unit and spelling with it.

A file that is there already is changed by `editing.change_pattern`, which keeps its comments.
"""

import os
import tempfile
from pathlib import Path

from patterns.errors import PatternError
from patterns.files.document import document
from patterns.files.yaml_text import lines
from patterns.pattern import Pattern


def write_pattern(path: str | Path, pattern: Pattern) -> None:
    """Write the pattern in place of whatever is there, whole or not at all.

    Raises PatternError if the file cannot be written.
    """
    write_whole(Path(path), ("\n".join(lines(document(pattern))) + "\n").encode("utf-8"))


def write_whole(file: Path, content: bytes) -> None:
    """Write the file so that a reader sees the old one or the new one.

    Raises PatternError if it cannot be written.
    """
    try:
        handle, name = tempfile.mkstemp(prefix=f".{file.name}.", dir=file.parent)
    except OSError as closed:
        raise PatternError(
            f"{file}: cannot be written ({closed.strerror}); choose another folder"
        ) from closed
    beside = Path(name)
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(content)
            out.flush()
            os.fsync(out.fileno())
        beside.chmod(file.stat().st_mode & 0o777 if file.is_file() else 0o644)
        beside.replace(file)
    except OSError as closed:
        raise PatternError(f"{file}: cannot be written ({closed.strerror}); choose another place") from closed
    finally:
        beside.unlink(missing_ok=True)
