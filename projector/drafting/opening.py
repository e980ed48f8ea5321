"""A pattern opened at the drafting table although one of its changes cannot be made: there it can be mended."""

from collections.abc import Callable
from dataclasses import replace

from patterns.changes import told
from patterns.changes.change_list import is_on, with_change
from patterns.cutting.drafted import DraftedPattern
from patterns.errors import PatternError
from patterns.pattern import Pattern
from projector.cloth.ground import Ground
from projector.drafting.work import DraftWork


def opened(
    pattern: Pattern, version: str | None, ground: Callable[[DraftedPattern], Ground]
) -> tuple[DraftWork, str]:
    """The work begun, and which change is off and chosen in it because it cannot be made; else no words.

    Raises PatternError where more than one change is at fault, or something else.
    """
    try:
        return DraftWork.begun(pattern, version, ground), ""
    except PatternError as error:
        reason = error
    for number in reversed(range(len(pattern.changes))):  # what comes after the one at fault mends nothing
        change = pattern.changes[number]
        if not is_on(pattern, number, version):
            continue
        without = with_change(pattern, number, replace(change, off=True))
        try:
            work = DraftWork.begun(without, version, ground).with_pattern(without, number)
        except PatternError:
            continue
        why = str(reason).splitlines()[0]
        return work, f"{told(change)} cannot be made: {why}; it is off here: change it, then o switches it on"
    raise reason
