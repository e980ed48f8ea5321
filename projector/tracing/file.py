"""A trace on disk, beside its pattern file: the outline while it grows, and then where the garment lies.

Once the piece is in the pattern file, that file alone says what it is; what is kept here is its place on the
table, without which it could not be shown on the garment again.
"""

import json
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Final

from calibration.table.saved import Alignment
from calibration.whole_files import write_whole
from patterns.cutting.placement import Placement
from patterns.errors import PatternError
from patterns.tracing.hand_trace import HandTrace, TracedPoint, Way
from projector.errors import ProjectorError

VERSION: Final = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptTrace:
    """`lies` is the outline as far as it has grown, or where the finished piece lies, in a set-up's table inches.

    `aligned_on` says which alignment of the set-up those are.
    """

    setup: str
    aligned_on: datetime
    lies: HandTrace | Placement

    def doubt(self, alignment: Alignment) -> str:
        """Why it may not lie there any more, in words for the table; nothing if there is no reason."""
        if self.setup != alignment.name:
            return f"traced in the set-up {self.setup}: the light may lie beside the garment"
        if self.aligned_on != alignment.aligned_on:
            return "aligned again since this was traced: the light may lie beside the garment"
        return ""


def kept_path(pattern: Path, piece: str) -> Path:
    """The file that goes with a piece of a pattern file."""
    return pattern.with_name(f"{pattern.stem}.{piece}.trace.json")


def keep_trace(path: Path, lies: HandTrace | Placement, alignment: Alignment) -> None:
    """Write it, whole or not at all; raises ProjectorError if it cannot be written."""
    document: dict[str, Any] = {
        "version": VERSION,
        "setup": alignment.name,
        "aligned_on": alignment.aligned_on.isoformat(),
    }
    if isinstance(lies, HandTrace):
        document["trace"] = {
            "fold": lies.fold,
            "points": [[*point.at_in, point.way.value] for point in lies.points],
            "names": lies.names,
        }
    else:
        document["placement"] = asdict(lies)
    try:
        write_whole(path, json.dumps(document, ensure_ascii=False).encode("utf-8"))
    except OSError as error:
        raise ProjectorError(
            f"{path}: cannot be written ({error.strerror}); choose a folder that exists and is yours to write in"
        ) from error


def read_kept(path: Path) -> KeptTrace:
    """What was kept; ProjectorError if the file is not one of ours."""
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
        if kept["version"] != VERSION:
            raise ValueError
        return KeptTrace(
            setup=str(kept["setup"]), aligned_on=datetime.fromisoformat(kept["aligned_on"]), lies=_lies(kept)
        )
    except (ValueError, KeyError, TypeError, RecursionError, PatternError) as error:
        raise ProjectorError(f"{path}: found no trace in it; delete the file to trace anew") from error


def _lies(kept: dict[str, Any]) -> HandTrace | Placement:
    if "placement" in kept:
        return Placement(**kept["placement"])
    trace = kept["trace"]
    return HandTrace(
        fold=tuple((float(x), float(y)) for x, y in trace["fold"]),
        points=tuple(TracedPoint(at_in=(float(x), float(y)), way=Way(way)) for x, y, way in trace["points"]),
        names=tuple(map(str, trace["names"])),
    )
