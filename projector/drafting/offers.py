"""The changes that may be added, each said with lengths to begin from, for the piece that is shown."""

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from typing import Final

from patterns.alterations.necks import NECK
from patterns.changes import KINDS, Change, EdgeRef, Key, NotchSeam, keys_of, spelled
from patterns.changes.change import OfPieces
from patterns.changes.change_list import with_change_added
from patterns.changes.said_change import said_change
from patterns.changes.truings import SAME_IN, TRUABLE_IN, Truing
from patterns.checks.joins import JoinReport
from patterns.errors import PatternError
from patterns.measures import Length, said_in
from patterns.pattern import Pattern
from patterns.stepping import STEPS
from projector.drafting.work import DraftWork

USUAL_IN: Final = {
    "raise neck": 1 / 2, "lower neck": 1 / 2, "widen neck": 1 / 4, "narrow neck": 1 / 4, "lengthen sleeve": 1.0,
    "sleeve opening": 6.0, "widen": 1 / 4, "narrow": 1 / 4, "hem band": 2.0, "facing": 2.5, "binding": 1 / 4,
    "shoulder forward": 3 / 8,
}  # fmt: skip
BEGINS_IN: Final = 1.0  # a length that is not among them
OF_JOINS: Final = (Truing, NotchSeam)  # offered for each join of the shown piece
USUAL_WORDS: Final = {"at": "side"}


def offers(work: DraftWork, at: int) -> tuple[str, ...]:
    """Each kind of change that this pattern could have at that place of its list."""
    said = dict.fromkeys(_said(work))
    return tuple(text for text in said if _may_be(work.pattern, text, at))


def _said(work: DraftWork) -> Iterator[str]:
    names = [piece.name for piece in work.pattern.pieces]
    shown = work.piece.name if work.piece.name in names else names[0]
    for kind in KINDS:
        if kind in OF_JOINS:
            joins = [report for report in work.drafted.joins if kind is NotchSeam or _is_truable(report)]
            yield from (f"{kind.opens} {' and '.join(one.edges)}" for one in joins if _is_of(one, shown))
            continue
        parts = [f"{kind.opens} {kind.says}"] if kind.says else []
        needed = (key for key in keys_of(kind) if key.field and key.is_needed)
        parts += [f"{key.name} {_usual(kind, key, work, shown)}" for key in needed]
        if issubclass(kind, OfPieces) and not {"front", "back"} <= set(names):
            parts.append(f"pieces {shown}")
        yield ", ".join(parts)


def _is_of(report: JoinReport, piece: str) -> bool:
    return piece in (report.join.first.piece, report.join.second.piece)


def _is_truable(report: JoinReport) -> bool:
    return report.join.ease is None and SAME_IN < abs(report.difference_in) <= TRUABLE_IN


def _usual(kind: type[Change], key: Key, work: DraftWork, shown: str) -> str:
    if key.holds is Length:
        return said_in(_begins_in(kind, work, shown), work.pattern.unit)
    if key.holds is EdgeRef:
        return f"{shown}/{NECK}"
    if kind.opens == "average":
        names = (piece.name for piece in work.pattern.pieces)
        return " and ".join((shown, *(name for name in names if name.startswith(f"{shown} "))))
    return USUAL_WORDS.get(key.name, shown)


def _begins_in(kind: type[Change], work: DraftWork, shown: str) -> float:
    """Inches to begin from, in whole steps of the unit: of a neck drawn anew, the depth that it has."""
    step_in = float(STEPS[work.pattern.unit][0] * work.pattern.unit.inches)
    neck = work.drafted.pieces[shown].edges.get(NECK) if shown in work.drafted.pieces else None
    if kind.opens == NECK and neck is not None:
        return math.ceil(float(neck.points[:, 1].max()) / step_in - 1e-9) * step_in
    return round(USUAL_IN.get(kind.opens, BEGINS_IN) / step_in) * step_in


def _may_be(pattern: Pattern, text: str, at: int) -> bool:
    try:
        with_change_added(pattern, at, said_change(text, pattern.unit))
    except PatternError:
        return False
    return True


@lru_cache(maxsize=256)  # each line of the list, as often as it is lit
def said(change: Change) -> str:
    """The change on one line, whether it is on or off."""
    return spelled(replace(change, off=False))
