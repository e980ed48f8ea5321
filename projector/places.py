"""Where each piece was last laid, kept beside the table file: by set-up, since each has its own inches."""

import json
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final, TypeGuard

from patterns.cutting.placement import Placement
from projector.errors import ProjectorError
from projector.outputs import write_text

VERSION: Final = 2
ONLY_SETUP: Final = "table"  # what a table file held before set-ups had names


def places_path(table: Path) -> Path:
    """The file that goes with a table file."""
    return table.with_name(f"{table.stem}.places.json")


def read_places(path: Path, setup: str, pattern: str) -> Mapping[str, Placement]:
    """Placements by piece name, none if nothing was kept; ProjectorError if the file is not one of ours."""
    return {
        name: _placement(path, kept) for name, kept in _read(path).get(setup, {}).get(pattern, {}).items()
    }


def write_places(path: Path, setup: str, pattern: str, placements: Mapping[str, Placement]) -> None:
    """Keep the placements of a pattern's pieces in a set-up; those of others stay."""
    setups = _read(path)
    patterns = {
        **setups.get(setup, {}),
        pattern: {name: _kept(placement) for name, placement in placements.items()},
    }
    content = {"version": VERSION, "setups": {**setups, setup: patterns}}
    write_text(path, json.dumps(content, indent=1, ensure_ascii=False))


def _read(path: Path) -> dict[str, dict[str, Any]]:
    """Patterns by set-up."""
    if not os.path.lexists(path):
        return {}
    setups: Any = None
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
        match kept["version"]:
            case 1:
                setups = {ONLY_SETUP: kept["patterns"]}
            case 2:
                setups = kept["setups"]
    except (ValueError, KeyError, TypeError, RecursionError):
        setups = None
    if not _is_nested(setups, depth=3):
        raise _unreadable(path)
    return setups


def _is_nested(kept: Any, depth: int) -> TypeGuard[dict[str, Any]]:
    """Whether it is groups of groups, so many deep."""
    if depth == 0:
        return True
    return isinstance(kept, dict) and all(_is_nested(one, depth - 1) for one in kept.values())


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
