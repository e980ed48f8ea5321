"""Where the job was left: the folder, the light, the pattern and the step, kept for the person, not for a folder."""

import json
from dataclasses import asdict, dataclass, fields
from pathlib import Path
from typing import Any, Final

from platformdirs import user_state_path

from projector.errors import ProjectorError
from projector.outputs import made_folder, write_text

VERSION: Final = 1
TABLE: Final = "table.yaml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """`folder` holds the table file and the patterns, whose names are in it; `step` is the one that was open, after
    those answers.

    The light goes to a display, or, where `window_px` is given, into a window of that size. The person stands at a
    `side` of the table.
    """

    folder: str
    display: int | None = None
    window_px: tuple[int, int] | None = None
    pattern: str | None = None
    pattern_version: str | None = None
    step: str | None = None
    answers: tuple[str, ...] = ()
    paper: str = "letter"
    camera: str | None = None
    mat: tuple[str, str] | None = None
    side: int = 0

    @property
    def table_path(self) -> Path:
        """The table file."""
        return Path(self.folder) / TABLE

    @property
    def pattern_path(self) -> Path | None:
        """The pattern's file, if one is chosen."""
        return None if self.pattern is None else Path(self.folder) / self.pattern


def left_path() -> Path:
    """The file that says so."""
    return user_state_path("chalkbeam") / "left.json"


def read_left(path: Path) -> Left | None:
    """Where it was left; None the first time, and where the file is no longer to be read: nothing is lost by it."""
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
        known = {field.name for field in fields(Left)}
        return None if kept.pop("version") != VERSION or kept.keys() - known else _left(kept)
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return None


def write_left(path: Path, left: Left) -> None:
    """Keep it; ProjectorError where it cannot be."""
    made_folder(path.parent)
    write_text(path, json.dumps({"version": VERSION, **asdict(left)}, indent=1, ensure_ascii=False))


def keep_left(path: Path, left: Left) -> str:
    """Keep it if it can be; else what that means to the person: it is no reason to stop working."""
    try:
        write_left(path, left)
    except ProjectorError:
        return (
            f"Where the job is left cannot be kept in {path}, so that it will not open there the next time; the work "
            "itself is kept."
        )
    return ""


def _left(kept: dict[str, Any]) -> Left:
    for pair in ("window_px", "mat"):
        if kept.get(pair) is not None:
            first, second = kept[pair]
            kept[pair] = (first, second)
    kept["answers"] = tuple(map(str, kept.get("answers", ())))
    return Left(**kept)
