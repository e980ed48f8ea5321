"""The ordered list of a pattern's changes, edited; the versions, which know changes by their numbers, follow."""

from collections.abc import Callable
from dataclasses import replace

from patterns.changes import Change, Join
from patterns.pattern import Pattern, Version


def with_change(pattern: Pattern, number: int, change: Change) -> Pattern:
    """The pattern with another change in the place of one, and without the joins of a piece that it alone made."""
    changes = (*pattern.changes[:number], change, *pattern.changes[number + 1 :])
    return replace(pattern, changes=changes, joins=_joins_left(pattern, changes))


def with_change_added(pattern: Pattern, number: int, change: Change) -> Pattern:
    """The pattern with one change more, which gets that number and is in all versions."""
    changes = (*pattern.changes[:number], change, *pattern.changes[number:])
    return _renumbered(pattern, changes, lambda old: old if old < number else old + 1)


def without_change(pattern: Pattern, number: int) -> Pattern:
    """The pattern with one change fewer, and without the joins of a piece that it alone made."""
    changes = (*pattern.changes[:number], *pattern.changes[number + 1 :])
    left = replace(pattern, joins=_joins_left(pattern, changes))
    return _renumbered(left, changes, lambda old: None if old == number else old if old < number else old - 1)


def with_change_moved(pattern: Pattern, number: int, to: int) -> Pattern:
    """The pattern with a change in another place of the list, the others in the order that they had."""
    order = [i for i in range(len(pattern.changes)) if i != number]
    order.insert(to, number)
    return _renumbered(pattern, tuple(pattern.changes[i] for i in order), order.index)


def with_change_switched(pattern: Pattern, number: int, version: str | None = None) -> Pattern:
    """The pattern with a change off that was on, or on that was off: everywhere, or in that version alone.

    Raises PatternError if there is no such version.
    """
    change, chosen = pattern.changes[number], pattern.version(version)
    if chosen is None or change.off:
        pattern = with_change(pattern, number, replace(change, off=not change.off))
    if chosen is None or (change.off and number not in chosen.without):
        return pattern
    left_out = set(chosen.without) ^ {number}
    switched = replace(chosen, without=tuple(sorted(left_out)))
    return replace(pattern, versions=tuple(switched if one is chosen else one for one in pattern.versions))


def is_on(pattern: Pattern, number: int, version: str | None = None) -> bool:
    """Whether a change is made in that version; PatternError if there is no such version."""
    chosen = pattern.version(version)
    return not pattern.changes[number].off and (chosen is None or number not in chosen.without)


def _joins_left(pattern: Pattern, changes: tuple[Change, ...]) -> tuple[Join, ...]:
    """The joins whose pieces are there once these are the changes."""
    edges = {piece.name: tuple(edge.name for edge in piece.edges) for piece in pattern.pieces}
    for change in changes:
        edges |= change.makes(edges)
    return tuple(join for join in pattern.joins if {join.first.piece, join.second.piece} <= edges.keys())


def _renumbered(pattern: Pattern, changes: tuple[Change, ...], new: Callable[[int], int | None]) -> Pattern:
    versions = []
    for version in pattern.versions:
        numbers = (new(number) for number in version.without)
        without = tuple(sorted(number for number in numbers if number is not None))
        versions.append(Version(name=version.name, without=without))
    return replace(pattern, changes=changes, versions=tuple(versions))
