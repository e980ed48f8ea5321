"""The table file on disk: versioned, checked when read, written whole or not at all, with a copy beside it."""

from datetime import datetime
from pathlib import Path

import yaml

from calibration.errors import AlignmentError
from calibration.projector_map import ProjectorMap
from calibration.table.fields import DamageError, Fields
from calibration.table.older_files import FORMAT, VERSION, Document, migrated
from calibration.table.saved import Alignment
from calibration.table.setup_fields import setup_document, setup_from
from calibration.table.setups import ScreenSize, TableFile
from calibration.whole_files import write_whole

_MOST_BYTES = 1_000_000


def load_map(path: str | Path, name: str | None = None) -> ProjectorMap:
    """The projector's map of a table file's set-up; raises AlignmentError as `load_alignment` does."""
    return load_alignment(path, name).map


def load_alignment(
    path: str | Path, name: str | None = None, screen_px: ScreenSize | None = None
) -> Alignment:
    """What to draw by: the alignment in force of the set-up that is meant (`TableFile.setup`).

    Raises AlignmentError, saying what to do, as `load_table` does, and where no one set-up is meant.
    """
    return load_table(path).setup(name, screen_px).in_force()


def save_alignment(path: str | Path, alignment: Alignment) -> None:
    """Puts the alignment into the file, in the set-up of its name; makes the file where there is none.

    Raises AlignmentError where the folder cannot be written, or the file there is not one to add to.
    """
    path = Path(path)
    table = load_table(path) if path.exists() else TableFile()
    save_table(path, table.with_alignment(alignment))


def load_table(path: str | Path) -> TableFile:
    """The set-ups in a table file.

    Raises AlignmentError, naming the file and what to do, where it is missing, damaged, of another kind or newer.
    """
    path = Path(path)
    try:
        return _table(path)
    except DamageError as damage:
        raise AlignmentError(f"{path}: {damage}; {_copy_offered(path) or damage.mend}") from damage


def save_table(path: str | Path, table: TableFile) -> None:
    """Writes the table file; the one before it becomes the last good copy.

    Raises AlignmentError, with nothing changed, where the folder cannot be written, or where the file there
    does not read: what it holds may still be wanted.
    """
    path = Path(path)
    document = {FORMAT: VERSION, "set-ups": [setup_document(setup) for setup in table.setups]}
    text = yaml.safe_dump(document, sort_keys=False, allow_unicode=True, width=110)
    if path.exists():
        load_table(path)
    _write(path, text.encode("utf-8"), path.read_bytes() if path.exists() else None)


def restore_table(path: str | Path) -> datetime:
    """Puts the last good copy back, and says when its newest alignment was made.

    Where the file itself still reads, the two change places. Raises AlignmentError, with nothing changed,
    where there is no copy that reads, or where the file is of a newer version of the program.
    """
    path = Path(path)
    copy = copy_path(path)
    if not copy.exists():
        raise AlignmentError(
            f"{path}: found no last good copy ({copy.name}) beside it; align the table again"
        )
    newest = _newest(load_table(copy))
    try:
        _table(path)
        before = path.read_bytes()
    except DamageError:
        before = None
    _write(path, _read(copy), before)
    return newest


def copy_path(path: Path) -> Path:
    """Where the last good copy of a table file is."""
    return path.with_name(f"{path.stem}.good{path.suffix}")


def _write(path: Path, content: bytes, before: bytes | None) -> None:
    try:
        if before is not None:
            write_whole(copy_path(path), before)
        write_whole(path, content)
    except OSError as error:
        raise AlignmentError(
            f"{path}: cannot be written ({error.strerror}); choose a folder that exists and is yours to write in"
        ) from error


def _copy_offered(path: Path) -> str:
    """How to get the last good copy back; nothing if there is none that reads."""
    if not path.name:
        return ""
    try:
        newest = _newest(_table(copy_path(path)))
    except (DamageError, AlignmentError):
        return ""
    return (
        f"its last good copy, aligned {newest:%Y-%m-%d %H:%M}, comes back with: "
        f"chalkbeam check --table {path} --restore"
    )


def _newest(table: TableFile) -> datetime:
    return max(setup.alignment.aligned_on for setup in table.setups)


def _table(path: Path) -> TableFile:
    document = _document(path)
    version = Fields(document).whole(FORMAT)
    if version > VERSION:
        raise AlignmentError(
            f"{path}: table file version {version}; this program reads version {VERSION} and older: "
            "update the program, or align into another file"
        )
    if version < 1:
        raise Fields(document).damaged(FORMAT, f"a version from 1 to {VERSION}")
    fields = Fields(migrated(document))
    setups = tuple(setup_from(one) for one in fields.parts("set-ups"))
    if not setups or len({setup.name for setup in setups}) < len(setups):
        raise fields.damaged("set-ups", "one or more, each of its own name")
    return TableFile(setups=setups)


def _document(path: Path) -> Document:
    raw = _read(path)
    if len(raw) > _MOST_BYTES:
        raise DamageError(f"{len(raw)} bytes is no table file", mend="name the file that align wrote")
    try:
        document = yaml.safe_load(raw.decode("utf-8"))
    except (yaml.YAMLError, UnicodeDecodeError, RecursionError, ValueError) as error:
        raise DamageError("damaged, it does not read as YAML") from error
    if not isinstance(document, dict) or FORMAT not in document:
        raise DamageError("not a table file", mend="name the file that align wrote")
    return document


def _read(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise DamageError(
            f"cannot be read ({error.strerror})", mend="align the table first, or name another table file"
        ) from error
