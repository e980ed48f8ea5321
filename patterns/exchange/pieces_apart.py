"""Loose lines of a drawing told apart as pieces, by what lies in what."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from patterns.errors import PatternError
from patterns.exchange.drawn import DrawnPath, DrawnPiece, Role, counted
from patterns.exchange.drawn_outlines import could_be_seam, outlines

SMALLEST_IN: Final = 1.0  # across, of a piece; less is a button, a hole or a letter
MOST_OUTLINES: Final = 1000  # of pieces and what is marked in them
MARK_NEAR_IN: Final = 0.5  # outside its piece, of a mark: a notch may be drawn beyond the edge
FRAME_PART: Final = 0.999  # of its box that a page's frame fills
FRAME_FILLED: Final = 0.2  # of a frame at least: buttonholes fill less of a waistband
_SLIVER: Final = 0.01  # of an area that may lie beyond what holds it
_TWICE: Final = 0.001  # of an area, by which two outlines differ that are one drawn twice


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ToldApart:
    """The pieces that loose lines make, and what is to be looked at."""

    pieces: tuple[DrawnPiece, ...]
    notes: tuple[str, ...]


def told_apart(paths: Sequence[DrawnPath]) -> ToldApart:
    """Each outline that lies in no other as a piece, with all that lies in it; a frame round all of them is none."""
    found = outlines(paths)
    notes = []
    large = [ring for ring in found.rings if float(np.ptp(ring.points, axis=0).max()) >= SMALLEST_IN]
    if small := len(found.rings) - len(large):
        notes.append(f"{counted(small, 'outline')} of less than an inch left out")
    if found.open:
        notes.append(f"{counted(len(found.open), 'line')} that close to no outline left out")
    if len(large) > MOST_OUTLINES:
        raise PatternError(
            f"{len(large)} closed outlines are no pattern; export the outlines of the pieces alone"
        )
    rings, areas = _once(large)
    holders = [_holders(i, areas) for i in range(len(rings))]
    outer = [i for i, held_by in enumerate(holders) if not held_by]
    if len(outer) == 1 and _is_frame(outer[0], rings, areas):
        del rings[outer[0]], areas[outer[0]]
        holders = [_holders(i, areas) for i in range(len(rings))]
        outer = [i for i, held_by in enumerate(holders) if not held_by]
        notes.append("the frame round everything left out")
    marks = [path for path in paths if path.role in (Role.GRAIN, Role.NOTCH)]
    marks += [DrawnPath(points=fold, role=Role.FOLD) for fold in found.folds]
    pieces = []
    for i in outer:
        near = areas[i].buffer(MARK_NEAR_IN)
        within = [ring for ring, held_by in zip(rings, holders, strict=True) if i in held_by]
        held = [mark for mark in marks if near.covers(shapely.Point(mark.points.mean(axis=0)))]
        pieces.append(DrawnPiece(name=rings[i].name, paths=(rings[i], *within, *held)))
    return ToldApart(pieces=tuple(pieces), notes=tuple(notes))


def _once(rings: Sequence[DrawnPath]) -> tuple[list[DrawnPath], list[BaseGeometry]]:
    """The outlines with their areas, each once: a shape that is filled and then lined is drawn twice."""
    kept: list[DrawnPath] = []
    areas: list[BaseGeometry] = []
    for ring in rings:
        area: BaseGeometry = shapely.Polygon(ring.points).buffer(0)
        again = any(
            one.role is ring.role and area.symmetric_difference(other).area <= _TWICE * area.area
            for one, other in zip(kept, areas, strict=True)
            if abs(other.area - area.area) <= _TWICE * area.area
        )
        if not again:
            kept.append(ring)
            areas.append(area)
    return kept, areas


def _holders(number: int, areas: Sequence[BaseGeometry]) -> list[int]:
    """The numbers of those areas that one lies in, all but a sliver of it."""
    one = areas[number]
    left, top, right, bottom = one.bounds
    slack = _SLIVER * max(right - left, bottom - top)
    low, high = np.array([left, top]) + slack, np.array([right, bottom]) - slack
    bounds = shapely.bounds(areas)
    near = np.flatnonzero((bounds[:, :2] <= low).all(axis=1) & (bounds[:, 2:] >= high).all(axis=1))
    return [
        i
        for i in near.tolist()
        if i != number
        and (areas[i].area, i) > (one.area, number)
        and one.difference(areas[i]).area < _SLIVER * one.area
    ]


def _is_frame(number: int, rings: Sequence[DrawnPath], areas: Sequence[BaseGeometry]) -> bool:
    """Whether it is a rectangle well filled by what lies in it, unless that is one outline like a seam line in it."""
    frame, area = rings[number], areas[number]
    within = [i for i in range(len(rings)) if i != number]
    plain = frame.role is Role.UNSAID and area.area >= FRAME_PART * area.envelope.area
    filled = float(shapely.union_all([areas[i] for i in within]).area) / area.area if within else 0.0
    seam = len(within) == 1 and could_be_seam(rings[within[0]].points, frame.points)
    return plain and filled >= FRAME_FILLED and not seam
