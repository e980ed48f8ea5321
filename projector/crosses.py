"""Crosses placed by hand, kept beside the table file until the alignment is saved: leaving loses none."""

import json
import os
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

from calibration.by_hand import HandAlignment
from projector.outputs import write_text

VERSION: Final = 1


def crosses_path(table: Path) -> Path:
    """The file that goes with a table file."""
    return table.with_name(f"{table.stem}.crosses.json")


def keep_crosses(path: Path, alignment: HandAlignment) -> None:
    """Write the crosses with the marks and the screen that they belong to."""
    write_text(path, json.dumps({**_belongs(alignment), "crosses_px": alignment.crosses_px}))


def with_kept_crosses(path: Path, begun: HandAlignment) -> HandAlignment:
    """The alignment with the crosses kept for the same marks and screen, if any; else as it was begun."""
    if not os.path.lexists(path):
        return begun
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
        crosses = tuple((float(x), float(y)) for x, y in kept["crosses_px"])
        same = all(kept[name] == value for name, value in _belongs(begun).items())
    except (ValueError, KeyError, TypeError, RecursionError):
        return begun
    return replace(begun, crosses_px=crosses) if same and len(crosses) <= len(begun.marks) else begun


def _belongs(alignment: HandAlignment) -> dict[str, Any]:
    return {
        "version": VERSION,
        "screen_px": list(alignment.screen_px),
        "scale": alignment.scale,
        "marks_in": [list(mark.at_in) for mark in alignment.marks],
    }
