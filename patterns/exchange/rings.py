"""Lines of a drawing to closed outlines: joined where their ends meet, and told apart by what lies in what."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from patterns.curves import Array
from patterns.exchange.drawn import DrawnPath, DrawnPiece, Role, without_repeats

JOINS_IN: Final = 0.005  # ends as near as this meet: 0.1 mm, as the edges of a pattern file do
SMALLEST_IN: Final = 1.0  # across, of a piece; less is a button, a hole or a letter
ON_FOLD_IN: Final = 0.02  # from a fold line, of an outline's ends that close along it: half a millimetre
MARK_NEAR_IN: Final = 0.5  # outside its piece, of a mark: a notch may be drawn beyond the edge
SEAM_PART: Final = 0.5  # of an outline that another within it fills, if that is its seam line
_SLIVER: Final = 0.01  # of an area that may lie beyond what holds it
FRAME_PART: Final = 0.999  # of its box that a page's frame fills
FRAME_FILLED: Final = 0.2  # of a frame at least: buttonholes fill less of a waistband


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Joined:
    """Closed outlines, each with the role of its lines, and those lines that close to none."""

    rings: tuple[DrawnPath, ...]
    open: tuple[DrawnPath, ...]


def joined(paths: Iterable[DrawnPath]) -> Joined:
    """The paths with those laid end to end whose ends meet; a chain goes the way that its first line does.

    Where more than two ends meet nothing is joined, since it could go on either way.
    """
    paths = list(paths)
    rings = [path for path in paths if path.closed and len(path.points) > 2]
    loose = [path for path in paths if not path.closed and len(path.points) > 1]
    ends = _meeting_ends(np.concatenate([path.points[[0, -1]] for path in loose])) if loose else []
    open_paths: list[DrawnPath] = []
    used: set[int] = set()
    for first in range(len(loose)):
        if first in used:
            continue
        chain, closes = _chain(first, ends)
        used |= {line for line, _ in chain}
        path = _laid_out(loose, chain, closed=closes)
        (rings if closes and len(path.points) > 2 else open_paths).append(path)
    return Joined(rings=tuple(rings), open=tuple(open_paths))


def _meeting_ends(places: Array) -> list[int]:
    """For each of (2n, 2) ends, line by line, the number of the one other that it meets; -1 where it meets none.

    Of lines that begin and end at one place, both ends are of one.
    """
    spots = [shapely.Point(place) for place in places]
    one, two = shapely.STRtree(spots).query(spots, predicate="dwithin", distance=JOINS_IN)
    apart = one != two
    one, two = one[apart], two[apart]
    counts = np.bincount(one, minlength=len(places))
    meets = np.full(len(places), -1, dtype=np.intp)
    meets[one] = two
    alone = counts == 1
    return [int(meets[i]) if alone[i] and alone[meets[i]] else -1 for i in range(len(places))]


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


def outlines(paths: Sequence[DrawnPath]) -> Joined:
    """The closed outlines of some lines, role by role; one that ends on a fold is closed along it."""
    folds = [shapely.LineString(path.points) for path in paths if path.role is Role.FOLD and not path.closed]
    rings: list[DrawnPath] = []
    left: list[DrawnPath] = []
    for role in (Role.CUT, Role.SEAM, Role.UNSAID):
        found = joined(path for path in paths if path.role is role)
        for path in found.open:
            ends = shapely.points(path.points[[0, -1]])
            folded = any(shapely.dwithin(fold, ends, ON_FOLD_IN).all() for fold in folds)
            if folded and len(path.points) > 2:
                rings.append(replace(path, closed=True))
            else:
                left.append(path)
        rings += found.rings
    return Joined(rings=tuple(rings), open=tuple(left))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ToldApart:
    """The pieces that loose lines make, and what is to be looked at."""

    pieces: tuple[DrawnPiece, ...]
    notes: tuple[str, ...]


def told_apart(paths: Sequence[DrawnPath]) -> ToldApart:
    """Each outline that lies in no other as a piece, with all that lies in it; a frame round all of them is none."""
    found = outlines(paths)
    notes = []
    rings = [ring for ring in found.rings if float(np.ptp(ring.points, axis=0).max()) >= SMALLEST_IN]
    if small := len(found.rings) - len(rings):
        notes.append(f"{_counted(small, 'outline')} of less than an inch left out")
    if found.open:
        notes.append(f"{_counted(len(found.open), 'line')} that close to no outline left out")
    areas = [shapely.Polygon(ring.points).buffer(0) for ring in rings]
    outer = [i for i in range(len(rings)) if not _holders(i, areas)]
    if len(outer) == 1 and _is_frame(rings[outer[0]], areas, outer[0]):
        del rings[outer[0]], areas[outer[0]]
        outer = [i for i in range(len(rings)) if not _holders(i, areas)]
        notes.append("the frame round everything left out")
    marks = [path for path in paths if path.role in (Role.FOLD, Role.GRAIN, Role.NOTCH)]
    pieces = []
    for i in outer:
        near = areas[i].buffer(MARK_NEAR_IN)
        within = [ring for j, ring in enumerate(rings) if j != i and i in _holders(j, areas)]
        held = [mark for mark in marks if near.covers(shapely.Point(mark.points.mean(axis=0)))]
        pieces.append(DrawnPiece(name=rings[i].name, paths=(rings[i], *within, *held)))
    return ToldApart(pieces=tuple(pieces), notes=tuple(notes))


def _holders(number: int, areas: Sequence[BaseGeometry]) -> list[int]:
    """The numbers of those areas that one lies in, all but a sliver of it."""
    one = areas[number]
    return [
        i
        for i, other in enumerate(areas)
        if i != number
        and (other.area, i) > (one.area, number)
        and one.difference(other).area < _SLIVER * one.area
    ]


def _is_frame(ring: DrawnPath, areas: Sequence[BaseGeometry], number: int) -> bool:
    """Whether it is a rectangle well filled by what lies in it, unless that is one outline like a seam line in it."""
    area = areas[number]
    within = [one for i, one in enumerate(areas) if i != number]
    plain = ring.role is Role.UNSAID and area.area >= FRAME_PART * area.envelope.area
    filled = float(shapely.union_all(within).area) / area.area if within else 0.0
    return plain and filled >= FRAME_FILLED and (len(within) > 1 or filled < SEAM_PART)


def _counted(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"
