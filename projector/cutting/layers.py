"""Cloth that lies double where copies of a piece are cut: one cut gives two of them, and of a pair both hands."""

from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from projector.stations.cut import CutStation


def layers_changed(station: "CutStation") -> "CutStation":
    """The copies of the lit piece cut two at once instead of one by one, or the other way round; the first lit."""
    name, copies = station.piece.name, station.work.copies
    mine = [number for number, copy in enumerate(copies) if copy.piece == name]
    if len(mine) == 1:
        return station.refusing(f"only one is cut of {name}")
    if any(copies[number].ticked for number in mine):
        return station.refusing(f"some of {name} is cut already")
    double = all(copies[number].gives == 1 for number in mine)
    gives = dict(zip(mine, _two_at_once(len(mine)) if double else [1] * len(mine), strict=True))
    changed = tuple(replace(copy, gives=gives.get(number, copy.gives)) for number, copy in enumerate(copies))
    work = replace(station.work, copies=changed)
    return replace(
        station, work=work, shown=mine[0], notice="through both layers" if double else "one by one"
    )


def _two_at_once(count: int) -> list[int]:
    """How many come of each of so many copies: two of the first half, one of an odd one, the rest with the first."""
    return [2] * (count // 2) + [1] * (count % 2) + [0] * (count // 2)
