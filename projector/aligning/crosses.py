"""Crosses placed by hand, kept beside the table file until the alignment is saved: leaving loses none."""

import json
import os
from dataclasses import replace
from itertools import count
from pathlib import Path
from typing import Any, Final

from calibration.hand.by_hand import HandAlignment
from calibration.hand.marks import HandCross, HandMark
from projector.outputs import write_text

VERSION: Final = 2


def crosses_path(table: Path) -> Path:
    """The file that goes with a table file."""
    return table.with_name(f"{table.stem}.crosses.json")


def set_aside(path: Path, begun: HandAlignment) -> Path | None:
    """Moves crosses kept for another screen, mat or paper, or by another version, out of the way; where to."""
    if not os.path.lexists(path) or with_kept_crosses(path, begun) is not begun:
        return None
    names = (path.with_name(f"{path.name}.old{number}") for number in count(1))
    aside = next(name for name in names if not os.path.lexists(name))
    path.replace(aside)
    return aside


def keep_crosses(path: Path, alignment: HandAlignment) -> None:
    """Write the crosses, each with its mark, and what they belong to."""
    crosses = [
        {"sheet": cross.mark.sheet, "at_in": cross.mark.at_in, "at_px": cross.at_px}
        for cross in alignment.crosses
    ]
    write_text(path, json.dumps({**_belongs(alignment), "crosses": crosses}))


def with_kept_crosses(path: Path, begun: HandAlignment) -> HandAlignment:
    """The alignment with the crosses kept for the same marks and screen, if any; else as it was begun."""
    kept = _read(path) if os.path.lexists(path) else None
    if kept is None or not _same(kept, begun):
        return begun
    marks = {(mark.sheet, mark.at_in): mark for mark in begun.marks}
    try:
        return replace(begun, crosses=_crosses(kept, marks))
    except (ValueError, KeyError, TypeError):
        return begun


def crosses_kept(path: Path) -> int:
    """How many are kept there."""
    kept = _read(path) if os.path.lexists(path) else None
    crosses = [] if kept is None else kept.get("crosses")
    return len(crosses) if isinstance(crosses, list) else 0


def _read(path: Path) -> dict[str, Any] | None:
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
    except (ValueError, RecursionError):
        return None
    return kept if isinstance(kept, dict) else None


def _crosses(
    kept: dict[str, Any], marks: dict[tuple[int, tuple[float, float]], HandMark]
) -> tuple[HandCross, ...]:
    crosses = []
    for row in kept["crosses"]:
        (x, y), (u, v) = row["at_in"], row["at_px"]
        crosses.append(HandCross(mark=marks[row["sheet"], (float(x), float(y))], at_px=(float(u), float(v))))
    return tuple(crosses)


def _same(kept: dict[str, Any] | None, alignment: HandAlignment) -> bool:
    return kept is not None and all(kept.get(name) == value for name, value in _belongs(alignment).items())


def _belongs(alignment: HandAlignment) -> dict[str, Any]:
    return {
        "version": VERSION,
        "screen_px": list(alignment.screen_px),
        "scale": alignment.scale,
        "mat": None if alignment.mat is None else list(alignment.mat),
        "paper": alignment.paper,
        "sheets": max(mark.sheet for mark in alignment.marks),
    }
