"""The work at the cutting table, kept beside the table file: by set-up, since each has its own inches, and pattern."""

import json
import os
from collections.abc import Mapping
from dataclasses import asdict
from pathlib import Path
from typing import Any, Final, TypeGuard

from patterns.cutting.placement import Placement
from projector.cloth.cloth_marks import Marks
from projector.cloth.cloth_place import ClothPlace
from projector.cloth.reaches import Reach, ReachCrosses, Reaches
from projector.cutting.work import CopyWork, CutWork
from projector.errors import ProjectorError
from projector.lighting.seeing import Seeing, seeing_of
from projector.outputs import write_text

VERSION: Final = 3
ONLY_SETUP: Final = "table"  # what a table file held before set-ups had names


def places_path(table: Path) -> Path:
    """The file that goes with a table file."""
    return table.with_name(f"{table.stem}.places.json")


def known_as(pattern: str, version: str | None) -> str:
    """The name that a version's work is kept by: each version has its own.

    >>> known_as("Harbour overtop", "round neck"), known_as("Harbour overtop", None)
    ('Harbour overtop (round neck)', 'Harbour overtop')
    """
    return pattern if version is None else f"{pattern} ({version})"


def read_work(path: Path, setup: str, pattern: str) -> CutWork | None:
    """The work that was kept of a pattern in a set-up, None if there was none.

    Raises ProjectorError if the file is not one of ours.
    """
    kept = _read(path).get(setup, {}).get(pattern)
    if kept is None:
        return None
    try:
        return _work(kept)
    except (ValueError, OverflowError, KeyError, TypeError) as error:
        raise _unreadable(path) from error


def write_work(path: Path, setup: str, pattern: str, work: CutWork) -> None:
    """Keep the work of a pattern in a set-up; that of others stays."""
    setups = _read(path)
    patterns = {**setups.get(setup, {}), pattern: _document(work)}
    content = {"version": VERSION, "setups": {**setups, setup: patterns}}
    write_text(path, json.dumps(content, ensure_ascii=False))


def _read(path: Path) -> dict[str, dict[str, Any]]:
    """Patterns by set-up, in the newest version's form."""
    if not os.path.lexists(path):
        return {}
    setups: Any = None
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
        match kept["version"]:
            case 1:
                setups = _without_work({ONLY_SETUP: kept["patterns"]})
            case 2:
                setups = _without_work(kept["setups"])
            case 3:
                setups = kept["setups"]
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        setups = None
    if not _is_nested(setups, depth=3):
        raise _unreadable(path)
    return setups


def _is_nested(kept: Any, depth: int) -> TypeGuard[dict[str, Any]]:
    """Whether it is groups of groups, so many deep."""
    if depth == 0:
        return True
    return isinstance(kept, dict) and all(_is_nested(one, depth - 1) for one in kept.values())


def _without_work(setups: Mapping[str, Any]) -> dict[str, Any]:
    """Where pieces lay, as older files have it, as work at which nothing is done."""
    return {
        setup: {
            pattern: {
                "begun": False,
                "at": 0,
                "drawn": "",
                "aligned": "",
                "cloth": _cloth_document(ClothPlace()),
                "copies": [
                    {"piece": name, "number": 1, "place": place, "ticked": []}
                    for name, place in places.items()
                ],
            }
            for pattern, places in patterns.items()
        }
        for setup, patterns in setups.items()
    }


def _document(work: CutWork) -> dict[str, Any]:
    return {
        "begun": work.begun,
        "at": work.at,
        "drawn": work.drawn,
        "aligned": work.aligned,
        "cloth": _cloth_document(work.cloth),
        "crosses_in": work.crosses_in,
        "is_lay": work.is_lay,
        "seeing": work.seeing.kept,
        "copies": [
            {
                "piece": copy.piece,
                "number": copy.number,
                "place": _place_document(copy.place),
                "ticked": list(copy.ticked),
                "gives": copy.gives,
                "reaches": None if copy.reaches is None else asdict(copy.reaches),
            }
            for copy in work.copies
        ],
    }


def _cloth_document(cloth: ClothPlace) -> dict[str, float]:
    return {"x_in": cloth.x_in, "y_in": cloth.y_in, "turn_deg": cloth.turn_deg}


def _place_document(place: Placement) -> dict[str, float | bool]:
    return {
        "x_in": place.x_in,
        "y_in": place.y_in,
        "turn_deg": place.turn_deg,
        "mirrored": place.mirrored,
        "opened": place.opened,
    }


def _work(kept: Mapping[str, Any]) -> CutWork:
    """Inverse of `_document`; ValueError, KeyError or TypeError for what is none."""
    return CutWork(
        begun=kept["begun"] is True,
        at=int(kept["at"]),
        drawn=str(kept["drawn"]),
        aligned=str(kept["aligned"]),
        cloth=ClothPlace(
            x_in=float(kept["cloth"]["x_in"]),
            y_in=float(kept["cloth"]["y_in"]),
            turn_deg=float(kept["cloth"]["turn_deg"]),
        ),
        crosses_in=_marks(kept.get("crosses_in")),
        is_lay=kept.get("is_lay") is True,
        seeing=seeing_of(kept["seeing"]) if "seeing" in kept else Seeing(),
        copies=tuple(
            CopyWork(
                piece=str(copy["piece"]),
                number=int(copy["number"]),
                place=_place(copy["place"]),
                ticked=tuple(str(step) for step in copy["ticked"]),
                gives=int(copy.get("gives", 1)),
                reaches=_reaches(copy.get("reaches")),
            )
            for copy in kept["copies"]
        ),
    )


def _marks(kept: Any) -> Marks | None:
    if kept is None:
        return None
    (a, b), (c, d) = kept
    return (float(a), float(b)), (float(c), float(d))


def _reaches(kept: Any) -> Reaches | None:
    if kept is None:
        return None
    x, y = kept["along"]
    return Reaches(along=(float(x), float(y)), reaches=tuple(_reach(reach) for reach in kept["reaches"]))


def _reach(kept: Mapping[str, Any]) -> Reach:
    (x, y), crosses = kept["slide_in"], kept["crosses"]
    return Reach(
        start_in=float(kept["start_in"]),
        end_in=float(kept["end_in"]),
        slide_in=(float(x), float(y)),
        crosses=None if crosses is None else _reach_crosses(crosses),
        across_in=_span(kept.get("across_in")),
    )


def _span(kept: Any) -> tuple[float, float] | None:
    if kept is None:
        return None
    low, high = kept
    return float(low), float(high)


def _reach_crosses(kept: Mapping[str, Any]) -> ReachCrosses:
    marks = _marks(kept["marks_in"])
    if marks is None:
        raise ValueError("crosses without marks")
    return ReachCrosses(
        marks_in=marks, at_join_in=float(kept["at_join_in"]), at_most_in=float(kept["at_most_in"])
    )


def _place(kept: Mapping[str, Any]) -> Placement:
    return Placement(
        x_in=float(kept["x_in"]),
        y_in=float(kept["y_in"]),
        turn_deg=float(kept["turn_deg"]),
        mirrored=kept["mirrored"] is True,
        opened=kept["opened"] is True,
    )


def _unreadable(path: Path) -> ProjectorError:
    return ProjectorError(f"{path}: found no places where pieces were laid; delete the file to start afresh")
