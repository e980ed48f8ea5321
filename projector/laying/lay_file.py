"""The lays that were chosen, kept beside the pattern: one for each version of it."""

import json
import os
from collections.abc import Mapping
from dataclasses import asdict
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

from patterns.cutting.drafted import DraftedPattern
from patterns.cutting.placement import Placement
from patterns.errors import PatternError
from patterns.laying.cloth import Cloth, Flaw, Repeat, Shrinkage
from patterns.laying.folding import Direction, Fold, Folding, FoldLine
from patterns.laying.lay import Lay, PieceOnCloth, Terms
from patterns.measures import LONGEST_IN, Unit
from projector.errors import ProjectorError
from projector.outputs import write_text

VERSION: Final = 1


def lay_path(pattern: Path) -> Path:
    """The file that goes with a pattern file."""
    return pattern.with_name(f"{pattern.stem}.lay.json")


def is_kept(path: Path, version: str | None) -> bool:
    """Whether there is a lay of that version of the pattern; ProjectorError if the file is not one of ours."""
    return _key(version) in _read(path)


def write_lay(path: Path, version: str | None, lay: Lay, unit: Unit) -> None:
    """Keep it as the lay of that version; those of others stay. `unit` is the one that its lengths are said in."""
    kept = {**_read(path), _key(version): {"unit": unit.value, **_kept(lay)}}
    write_text(path, json.dumps({"version": VERSION, "lays": kept}, indent=1, ensure_ascii=False))


def read_lay(path: Path, version: str | None, drafted: DraftedPattern) -> tuple[Lay, Unit]:
    """The kept lay with the pieces as they are drafted now, all of which it is for.

    ProjectorError if there is none of that version, if it has pieces that are not drafted, or is not ours.
    """
    kept = _read(path).get(_key(version))
    if kept is None:
        of = f'of version "{version}"' if version else "of the pattern as it is"
        raise ProjectorError(
            f"{path}: found no lay {of}; plan one first: chalkbeam lay with --width and --keep"
        )
    try:
        return _checked(_lay(kept, drafted)), Unit(kept["unit"])
    except (ValueError, OverflowError, KeyError, TypeError, AttributeError, PatternError) as error:
        raise _unreadable(path) from error


def _checked(lay: Lay) -> Lay:
    """The lay; ValueError where a number in it is of no cloth."""
    lengths = [lay.terms.gap_in, *(abs(part).max() for one in lay.placed for part in one.parts_in)]
    if not lay.placed or not all(length <= LONGEST_IN for length in lengths):
        raise ValueError("not a lay on cloth")
    return lay


def _key(version: str | None) -> str:
    return version or ""


def _read(path: Path) -> Mapping[str, Any]:
    """What is kept of each version."""
    if not os.path.lexists(path):
        return {}
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
        lays = kept["lays"] if kept["version"] == VERSION else None
    except OSError as error:
        raise ProjectorError(
            f"{path}: cannot be read ({error.strerror}); move it away, or mend it"
        ) from error
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        raise _unreadable(path) from error
    if not isinstance(lays, dict) or not all(isinstance(lay, dict) for lay in lays.values()):
        raise _unreadable(path)
    return lays


def _kept(lay: Lay) -> dict[str, Any]:
    folding, terms = lay.folding, lay.terms
    return {
        "cloth": asdict(lay.cloth),
        "folding": {
            "fold": folding.fold.value,
            "left_in": folding.left_in,
            "right_in": folding.right_in,
            "far_in": folding.far_in,
        },
        "terms": {
            "gap_in": terms.gap_in,
            "crosswise_grain": terms.crosswise_grain,
            "match_points": dict(terms.match_points),
            "sold_by": terms.sold_by.value,
        },
        "placed": [
            {
                "piece": one.piece.name,
                "stage": one.stage,
                "placement": asdict(one.placement),
                "fold_line": None if one.fold_line is None else _kept_line(one.fold_line),
            }
            for one in lay.placed
        ],
    }


def _kept_line(line: FoldLine) -> dict[str, Any]:
    return {"direction": line.direction.value, "at_in": line.at_in, "below": line.below}


def _lay(kept: Mapping[str, Any], drafted: DraftedPattern) -> Lay:
    cloth, terms = dict(kept["cloth"]), kept["terms"]
    folding = dict(kept["folding"])
    return Lay(
        folding=Folding(
            **{
                **folding,
                "fold": Fold(folding["fold"]),
                "cloth": Cloth(
                    **{
                        **cloth,
                        "shrinkage": Shrinkage(**cloth["shrinkage"]),
                        "repeat": Repeat(**cloth["repeat"]),
                        "flaws": tuple(Flaw(**flaw) for flaw in cloth["flaws"]),
                    }
                ),
            }
        ),
        placed=tuple(_placed(one, drafted) for one in kept["placed"]),
        terms=Terms(
            gap_in=terms["gap_in"],
            crosswise_grain=terms["crosswise_grain"],
            match_points=MappingProxyType(
                {name: (float(x), float(y)) for name, (x, y) in terms["match_points"].items()}
            ),
            sold_by=Unit(terms["sold_by"]),
        ),
        pieces=tuple(drafted.pieces.values()),
    )


def _line(kept: Mapping[str, Any]) -> FoldLine:
    return FoldLine(
        direction=Direction(kept["direction"]), at_in=float(kept["at_in"]), below=int(kept["below"])
    )


def _placed(kept: Mapping[str, Any], drafted: DraftedPattern) -> PieceOnCloth:
    line = kept["fold_line"]
    return PieceOnCloth(
        piece=drafted.pieces[kept["piece"]],
        placement=Placement(**kept["placement"]),
        fold_line=None if line is None else _line(line),
        stage=int(kept["stage"]),
    )


def _unreadable(path: Path) -> ProjectorError:
    return ProjectorError(f"{path}: found no lay that goes with this pattern; plan it anew with --keep")
