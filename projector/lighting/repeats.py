"""Short repeats of the cut line outside the piece, for where a hand or its shadow lies on the line itself.

Each runs along the line and never across it, half an inch out: what stands across the cut edge is a notch.
"""

from functools import lru_cache
from itertools import pairwise
from typing import Final

import numpy as np
import shapely

from calibration.frames import Array
from patterns.cutting.drafted import DraftedPiece
from patterns.cutting.marks import LineKind, lines_of
from patterns.cutting.placement import Placement
from projector.lighting.light import Chalk, chalk_light, followed
from projector.lighting.lit_area import LitArea
from projector.lighting.look import LineStyle
from projector.lighting.looks import USUAL, Look
from projector.lighting.strokes import Drawing

OUTSIDE_IN: Final = 1 / 2
EVERY_IN: Final = 2.0
LONG_IN: Final = 3 / 8
CLEAR_IN: Final = 3 / 8  # from any other part of the piece, and from the fold
MARK_CLEAR_IN: Final = (
    5 / 8
)  # from where a notch begins on the cut edge: its light reaches out as far as a repeat
REACH_IN: Final = 5 / 8  # from a repeat to the nearest point of the line that it repeats
REPEAT: Final = LineStyle(width_in=1 / 24, light=0.5)
CORNER_COS: Final = 0.9  # as for dashes: a turn of more than about 25 degrees
SAMPLES: Final = 7


def repeats_light(
    piece: DraftedPiece,
    placement: Placement,
    lit: LitArea,
    look: Look = USUAL,
    shown_in: Array | None = None,
) -> Drawing:
    """The repeats of the piece's cut line as it lies.

    Where only a part of the line is shown, (n, 2) table inches close to one another, only those beside that part.
    """
    found = repeats(piece, placement.opened and piece.fold is not None)
    paths = placement.placed(found.reshape(-1, 2)).reshape(found.shape)
    if shown_in is not None:
        away = shown_in - paths[:, SAMPLES // 2, None]
        paths = paths[np.hypot(away[..., 0], away[..., 1]).min(axis=1) < REACH_IN]
    if not len(paths):
        return ()
    points, ends = followed(list(paths), lit.span_in)
    return look.seen(chalk_light(Chalk(points_in=points, ends=ends, styles=((REPEAT, len(paths)),)), lit))


@lru_cache(maxsize=64)
def repeats(piece: DraftedPiece, opened: bool) -> Array:
    """(n, SAMPLES, 2) piece inches: paths about `EVERY_IN` apart along the cut line, none near a corner or a mark."""
    lines = lines_of(piece, Placement(opened=opened))
    flip = np.array([1.0, -1.0])  # placed at the origin, y is up
    (cut,) = (line for line in lines if line.kind is LineKind.CUT)
    path = cut.points * flip
    path = np.vstack([path, path[:1]]) if cut.closed else path
    across = [line.points * flip for line in lines if line.kind in (LineKind.NOTCH, LineKind.CLIP)]
    marks = shapely.MultiLineString(across)
    area = shapely.Polygon(path)
    shapely.prepare(area)
    found = [_beside(run, at, area) for run in _runs(path) for at in _places(run)]
    half = piece.fold is not None and not opened
    clear = [one for one in found if _clear(one, area, marks, half=half)]
    return np.array(clear).reshape(-1, SAMPLES, 2)


def _runs(path: Array) -> list[Array]:
    """The path between its corners."""
    step = np.diff(path, axis=0)
    length = np.hypot(step[:, 0], step[:, 1])
    path, step, length = np.vstack([path[:1], path[1:][length > 0]]), step[length > 0], length[length > 0]
    along = step / length[:, None]
    corners = np.flatnonzero((along[1:] * along[:-1]).sum(axis=1) < CORNER_COS) + 1
    bounds = [0, *corners.tolist(), len(path) - 1]
    return [path[a : b + 1] for a, b in pairwise(bounds)]


def _places(run: Array) -> list[float]:
    """How far along the run the middles are: evenly, half a gap from its ends."""
    length = float(np.hypot(*np.diff(run, axis=0).T).sum())
    count = round(length / EVERY_IN) or int(length >= EVERY_IN / 2)
    return [length * (number + 0.5) / count for number in range(count)]


def _beside(run: Array, at: float, area: shapely.Polygon) -> Array:
    """The repeat about a place along the run, on the side where the piece is not."""
    place = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(run, axis=0).T))])
    along = np.clip(at + LONG_IN * np.linspace(-0.5, 0.5, SAMPLES), 0.0, place[-1])
    points = np.column_stack([np.interp(along, place, run[:, axis]) for axis in (0, 1)])
    way = np.gradient(points, axis=0)
    left = np.column_stack([-way[:, 1], way[:, 0]]) / np.hypot(*way.T)[:, None]
    middle = points[SAMPLES // 2] + left[SAMPLES // 2] * OUTSIDE_IN / 50
    side = -1.0 if shapely.contains_xy(area, *middle) else 1.0
    beside: Array = points + side * OUTSIDE_IN * left
    return beside


def _clear(path: Array, area: shapely.Polygon, marks: shapely.MultiLineString, *, half: bool) -> bool:
    """Whether a repeat lies clear of the piece, of marks across its line, and of what is beyond a fold."""
    line = shapely.LineString(path)
    beyond_fold = half and path[:, 0].min() < CLEAR_IN
    off_marks = marks.is_empty or shapely.distance(line, marks) >= MARK_CLEAR_IN
    return bool(off_marks and not beyond_fold and shapely.distance(line, area) >= CLEAR_IN)
