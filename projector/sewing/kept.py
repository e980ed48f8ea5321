"""Which step of a card was shown last, kept beside the table file: by pattern and version."""

import json
import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from projector.errors import ProjectorError
from projector.outputs import write_text

VERSION: Final = 1


def steps_path(table: Path) -> Path:
    """The file that goes with a table file."""
    return table.with_name(f"{table.stem}.card.json")


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptStep:
    """The place in the file at `path` of one garment, by the name on its card."""

    path: Path
    garment: str

    def read(self) -> str:
        """The title of the step that was shown last, empty the first time; ProjectorError if the file is not ours."""
        return _read(self.path).get(self.garment, "")

    def write(self, title: str) -> None:
        """Keep it; other garments' steps stay."""
        titles = {**_read(self.path), self.garment: title}
        content = {"version": VERSION, "steps": titles}
        write_text(self.path, json.dumps(content, indent=1, ensure_ascii=False))


def _read(path: Path) -> Mapping[str, str]:
    if not os.path.lexists(path):
        return {}
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
        titles = kept["steps"] if kept["version"] == VERSION else None
    except (ValueError, KeyError, TypeError, RecursionError):
        titles = None
    if not isinstance(titles, dict) or not all(isinstance(title, str) for title in titles.values()):
        raise ProjectorError(f"{path}: found no steps of sewing cards; delete the file to start afresh")
    return titles
