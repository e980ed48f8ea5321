"""Where each piece was last laid, kept beside the table file."""

import json
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from patterns.placement import Placement
from projector.errors import ProjectorError
from projector.outputs import write_text

VERSION: Final = 1


def places_path(table: Path) -> Path:
    """The file that goes with a table file."""
    return table.with_name(f"{table.stem}.places.json")


def read_places(path: Path, pattern: str) -> Mapping[str, Placement]:
    """Placements by piece name, none if nothing was kept; ProjectorError if the file is not one of ours."""
    return {name: _placement(path, kept) for name, kept in _read(path).get(pattern, {}).items()}


def write_places(path: Path, pattern: str, placements: Mapping[str, Placement]) -> None:
    """Keep the placements of a pattern's pieces; those of other patterns stay."""
    patterns = {**_read(path), pattern: {name: _kept(placement) for name, placement in placements.items()}}
    write_text(path, json.dumps({"version": VERSION, "patterns": patterns}, indent=1, ensure_ascii=False))


def _read(path: Path) -> dict[str, Any]:
    if not os.path.lexists(path):
        return {}
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
        patterns = kept["patterns"] if kept["version"] == VERSION else None
    except (ValueError, KeyError, TypeError, RecursionError):
        patterns = None
    if not isinstance(patterns, dict) or not all(isinstance(kept, dict) for kept in patterns.values()):
        raise _unreadable(path)
    return patterns


def _kept(placement: Placement) -> dict[str, float | bool]:
    return {
        "x_in": placement.x_in,
        "y_in": placement.y_in,
        "turn_deg": placement.turn_deg,
        "mirrored": placement.mirrored,
        "opened": placement.opened,
    }


def _placement(path: Path, kept: Any) -> Placement:
    try:
        return Placement(
            x_in=float(kept["x_in"]),
            y_in=float(kept["y_in"]),
            turn_deg=float(kept["turn_deg"]),
            mirrored=kept["mirrored"] is True,
            opened=kept["opened"] is True,
        )
    except (ValueError, KeyError, TypeError) as error:
        raise _unreadable(path) from error


def _unreadable(path: Path) -> ProjectorError:
    return ProjectorError(f"{path}: found no places where pieces were laid; delete the file to start afresh")
