"""Where the edges of a drawn piece begin and end, and what they are called: told, read from its shape, or numbered."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import shapely

from patterns.curves import Array
from patterns.errors import PatternError
from patterns.exchange.drawn import SaidEdge, counted
from patterns.exchange.piece_frame import Frame, frame_of, turned_over
from patterns.exchange.seam_outline import SeamOutline, nearest
from patterns.exchange.shape_names import named_by_shape
from patterns.exchange.turns import corners
from patterns.saying import Say
from patterns.shape import signed_area
from patterns.tracing.edge_names import NAMES, fold_name
from patterns.tracing.traced_edges import kind_of


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class EdgedWalk:
    """`points` (n, 2) piece inches once round but for the fold, a closed walk's last point being its first again.

    Each of `edges` goes from one of the numbers in `ends` to the next. `fold` is the fold's name, empty without one.
    """

    frame: Frame
    points: Array
    ends: tuple[int, ...]
    edges: tuple[SaidEdge, ...]
    fold: str = ""
    note: str = ""


def edged_walk(outline: SeamOutline, piece: str, names: Sequence[str] | None, say: Say) -> EdgedWalk:
    """The walk round a piece with its edges called `names`, from the fold's top or from the corner at the top left.

    Without names they are the drawing's own, or the usual ones where its shape tells them; or they are numbered.
    Raises PatternError where there are not as many names as edges.
    """
    fold = ""
    if outline.walk.folded:
        fold = outline.fold.name if outline.fold else fold_name(piece)
    told = _told(outline, fold) if names is None else None
    if told is not None:
        return told
    plain = _by_corners(outline, fold)
    count = len(plain.edges)
    if names is None:
        return (_by_shape(outline, plain) if fold else None) or replace(
            plain, note="its edges are numbered; --edges names them"
        )
    named = tuple(names)
    if fold and len(named) == count + 1:
        *first, fold = named
        named = tuple(first)
    if len(named) != count:
        raise PatternError(
            f"{counted(len(named), 'name')} for {counted(count, 'edge')}, which are, clockwise from "
            f"{'the top of the fold' if fold else 'the corner at the top left'}: {_lengths(plain, say)}"
        )
    return replace(plain, edges=tuple(map(_plain, named)), fold=fold)


def _told(outline: SeamOutline, fold: str) -> EdgedWalk | None:
    """The edges that the drawing names, None where it does not, or not where its line goes any more."""
    if outline.fold is not None and not fold:
        return None
    frame = frame_of(outline.walk, outline.drawn.origin)
    points = _laid(outline, frame)
    moved = frame.origin is not outline.drawn.origin
    if fold and moved and points[0, 1] > points[-1, 1]:  # edges are named from the fold's top on
        frame = turned_over(frame, outline.walk.points)
        points = _laid(outline, frame)
    numbers = [nearest(outline.walk.points, place) for _, place in outline.starts]
    if len(numbers) < 2 - bool(fold) or None in numbers:
        return None
    ends = [number for number in numbers if number is not None]
    if not fold:
        points = np.roll(points, -ends[0], axis=0)
        ends = [(end - ends[0]) % len(points) for end in ends]
        points = np.concatenate([points, points[:1]])
    whole = (*ends, len(points) - 1)
    if whole[0] != 0 or any(after <= before for before, after in pairwise(whole)):
        return None
    edges = tuple(edge for edge, _ in outline.starts)
    return EdgedWalk(frame=frame, points=points, ends=whole, edges=edges, fold=fold)


def _by_corners(outline: SeamOutline, fold: str) -> EdgedWalk:
    """An edge from each corner to the next, numbered: clockwise, from the fold's top or the corner at the top left."""
    frame = frame_of(outline.walk, None)
    points = _clockwise(_laid(outline, frame))
    turning = corners(points)
    if fold:
        last = len(points) - 1
        ends = (0, *(i for i in turning if 0 < i < last), last)
    else:
        turning = turning if len(turning) > 1 else _top_and_bottom(points, turning)
        first = min(turning, key=lambda i: float(points[i].sum()))
        points = np.roll(points, -first, axis=0)
        count = len(points)
        ends = (*sorted((i - first) % count for i in turning), count)
        points = np.concatenate([points, points[:1]])
    edges = tuple(_plain(f"edge {number}") for number in range(1, len(ends)))
    return EdgedWalk(frame=frame, points=points, ends=ends, edges=edges, fold=fold)


def _by_shape(outline: SeamOutline, plain: EdgedWalk) -> EdgedWalk | None:
    """The half of a garment with cut-on sleeves with its usual names, y from its shoulder point; None if it is none."""
    read = named_by_shape(plain.points, plain.ends[1:-1])
    if read is None:
        return None
    frame, ends = plain.frame, read.ends
    if read.upside_down:
        frame = turned_over(frame, outline.walk.points)
        ends = tuple(len(plain.points) - 1 - end for end in ends)
    shoulder = float(_clockwise(_laid(outline, frame))[ends[1], 1])
    frame = replace(frame, origin=frame.origin + frame.axes[1] * shoulder)
    points = _clockwise(_laid(outline, frame))
    edges = tuple(map(_plain, NAMES))
    return EdgedWalk(frame=frame, points=points, ends=ends, edges=edges, fold=plain.fold)


def _laid(outline: SeamOutline, frame: Frame) -> Array:
    """(n, 2) piece inches round it; what is folded ends on x = 0 and is nowhere beyond."""
    points = frame.lifted(outline.walk.points)
    if outline.walk.folded:
        points[:, 0] = np.maximum(points[:, 0], 0.0)
        points[[0, -1], 0] = 0.0
    return points


def _clockwise(points: Array) -> Array:
    """The points walked clockwise as a person sees them, y being down."""
    return points if signed_area(points) > 0 else points[::-1]


def _top_and_bottom(points: Array, turning: Sequence[int]) -> list[int]:
    """Two ends for an outline with one corner or none: the corner or the highest point, and the one half way round."""
    ring = np.concatenate([points, points[:1]])
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(ring, axis=0).T))])
    first = turning[0] if turning else int(np.argmin(points[:, 1]))
    half = (along[first] + along[-1] / 2) % along[-1]
    return sorted({first, int(np.argmin(np.abs(along[:-1] - half)))})


def _plain(name: str) -> SaidEdge:
    return SaidEdge(name=name, kind=kind_of(name))


def _lengths(walk: EdgedWalk, say: Say) -> str:
    parts = (walk.points[start : end + 1] for start, end in pairwise(walk.ends))
    return ", ".join(say(float(shapely.LineString(part).length)) for part in parts)
