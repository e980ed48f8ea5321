"""Lines of a drawing laid end to end where their ends meet, so that they close to outlines."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely

from patterns.exchange.drawn import DrawnPath, without_repeats

JOINS_IN: Final = 0.005  # ends as near as this meet: 0.1 mm, as the edges of a pattern file do

Numbers = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Joined:
    """Closed outlines, each with the role of its lines, and those lines that close to none."""

    rings: tuple[DrawnPath, ...]
    open: tuple[DrawnPath, ...]


def joined(paths: Iterable[DrawnPath]) -> Joined:
    """The paths with those laid end to end whose ends meet; a chain goes the way that its first line does.

    A line that only touches an outline with one end, such as a clip at its corner, is no part of it. Where more than
    two others meet nothing is joined, since it could go on either way.
    """
    paths = list(paths)
    rings = [path for path in paths if path.closed and len(path.points) > 2]
    loose = [path for path in paths if not path.closed and len(path.points) > 1]
    touching = _touching(loose)
    open_paths = [path for path, touches in zip(loose, touching, strict=True) if touches]
    loose = [path for path, touches in zip(loose, touching, strict=True) if not touches]
    meets = _meeting_ends(loose)
    used: set[int] = set()
    for first in range(len(loose)):
        if first in used:
            continue
        chain, closes = _chain(first, meets)
        used |= {line for line, _ in chain}
        path = _laid_out(loose, chain, closed=closes)
        (rings if closes and len(path.points) > 2 else open_paths).append(path)
    return Joined(rings=tuple(rings), open=tuple(open_paths))


def _touching(lines: Sequence[DrawnPath]) -> list[bool]:
    """Which lines meet two others or more with one end, and nothing with the other."""
    counts = np.bincount(_pairs(lines)[0], minlength=2 * len(lines)).reshape(-1, 2)
    return [bool(one.min() == 0 and one.max() > 1) for one in counts]


def _pairs(lines: Sequence[DrawnPath]) -> tuple[Numbers, Numbers]:
    """The numbers of ends that meet, both ways, those of line i being 2i and 2i + 1."""
    if not lines:
        return np.zeros(0, dtype=np.intp), np.zeros(0, dtype=np.intp)
    spots = [shapely.Point(place) for line in lines for place in line.points[[0, -1]]]
    one, two = shapely.STRtree(spots).query(spots, predicate="dwithin", distance=JOINS_IN)
    apart = one != two
    return one[apart], two[apart]


def _meeting_ends(lines: Sequence[DrawnPath]) -> list[int]:
    """For each end the number of the one other that it meets; -1 where it meets none, or several."""
    one, two = _pairs(lines)
    ends = 2 * len(lines)
    counts = np.bincount(one, minlength=ends)
    meets = np.full(ends, -1, dtype=np.intp)
    meets[one] = two
    alone = counts == 1
    return [int(meets[i]) if alone[i] and alone[meets[i]] else -1 for i in range(ends)]


def _chain(first: int, meets: Sequence[int]) -> tuple[list[tuple[int, bool]], bool]:
    """The lines laid end to end with the first, each with whether it is walked backwards; and whether they close."""
    chain = [(first, False)]
    end = 2 * first + 1
    while (following := meets[end]) != -1:
        line, backwards = following // 2, bool(following % 2)
        if line == first:
            return chain, not backwards
        chain.append((line, backwards))
        end = 2 * line + (0 if backwards else 1)
    start = 2 * first
    while (before := meets[start]) != -1:
        line, forwards = before // 2, bool(before % 2)
        chain.insert(0, (line, not forwards))
        start = 2 * line + (0 if forwards else 1)
    return chain, False


def _laid_out(lines: Sequence[DrawnPath], chain: Sequence[tuple[int, bool]], *, closed: bool) -> DrawnPath:
    parts = [lines[line].points[::-1] if backwards else lines[line].points for line, backwards in chain]
    kept = [parts[0], *(part[1:] for part in parts[1:])]
    points = np.concatenate(kept)
    if closed:
        points = points[:-1]
    first = lines[chain[0][0]]
    return replace(first, points=without_repeats(points, closed=closed), closed=closed, edge=None)
