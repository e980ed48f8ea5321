"""Files are written whole or not at all."""

import os
import tempfile
from pathlib import Path


def write_whole(path: Path, content: bytes) -> None:
    """Write a file so that a reader, or the next start after a power cut, finds the old or the new one.

    Raises OSError, with the old file untouched and no part left behind.
    """
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        part.chmod(0o666 & ~_umask())
        part.replace(path)
    except BaseException:
        part.unlink(missing_ok=True)
        raise


def _umask() -> int:
    """What the person's other new files may not allow; it can only be read by setting it."""
    umask = os.umask(0)
    os.umask(umask)
    return umask
