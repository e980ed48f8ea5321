"""Whether a cut line goes round all of its seam line."""

from itertools import groupby
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array
from patterns.shape import Shape, ShapeEdge

_ON_IT_IN: Final = 1e-6  # a point of the seam line this far outside lies on the cut line, but for rounding


def left_out(shape: Shape, cut: shapely.LineString, ring: Array, bare_whole: bool) -> Array | None:
    """(2,) the seam line's point farthest outside its cut line; None where all lie within it or on it.

    The closed (n, 2) `ring` is the cut line, `cut` the same, crossing itself nowhere; `bare_whole` says that all
    points of edges without an allowance are on it.
    """
    if bare_whole and _goes_round(shape, cut, ring):
        return None
    outline = shapely.polygons(ring)
    shapely.prepare(outline)
    not_within = shape.ring[~shapely.contains_xy(outline, shape.ring)]
    seam = shapely.points(not_within)
    if shapely.dwithin(outline, seam, _ON_IT_IN).all():
        return None
    place: Array = not_within[int(np.argmax(shapely.distance(outline, seam)))]
    return place


def _goes_round(shape: Shape, cut: shapely.LineString, ring: Array) -> bool:
    """Whether that is plain, as nearly always: what begins within and meets the cut line nowhere stays within."""
    if shape.fold is not None and not _on_fold(shape.edges[shape.fold], ring):
        return False
    return all(
        _encloses(ring, path[0]) and (len(path) == 1 or cut.disjoint(shapely.linestrings(path)))
        for path in _paths(shape)
        if len(path)
    )


def _paths(shape: Shape) -> list[Array]:
    """The points (n, 2) of the seam line from one edge without an allowance to the next, their ends left out."""
    bare = [number for number, edge in enumerate(shape.edges) if not edge.width_in]
    if not bare:
        return [np.concatenate([shape.ring, shape.ring[:1]])]
    edges = shape.edges[bare[0] :] + shape.edges[: bare[0]]
    return [
        np.concatenate([edge.curve.points[:-1] for edge in group])[1:]
        for widened, group in groupby(edges, lambda edge: edge.width_in > 0)
        if widened
    ]


def _on_fold(fold: ShapeEdge, ring: Array) -> bool:
    """Whether the fold's points lie on the fold of the ring, which runs from its last point to its first."""
    low, high = sorted((float(ring[0, 1]), float(ring[-2, 1])))
    return all(x == 0 and low <= y <= high for x, y in fold.curve.points.tolist())


def _encloses(ring: Array, place: Array) -> bool:
    """Whether a line from (2,) `place` towards larger x crosses the closed (n, 2) ring an odd number of times."""
    x, y = place.tolist()
    after = ring[:, 1] > y
    passed = (after[1:] != after[:-1]).nonzero()[0].tolist()
    crossed = 0
    for number in passed:
        (x0, y0), (x1, y1) = ring[number : number + 2].tolist()
        crossed += x < x0 + (y - y0) / (y1 - y0) * (x1 - x0)
    return crossed % 2 == 1
