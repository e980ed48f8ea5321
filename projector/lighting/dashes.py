"""Dashes, cut along lines on the table in inches: all the runs of all the lines at once."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from calibration.frames import Array
from projector.lighting.strokes import Ends

CORNER_COS = 0.9  # a turn of more than about 25 degrees is a corner
ROUNDING_IN = 1e-9
BETWEEN_IN = 1.0  # from the last point of a path to the first of the next, as if they were one
SOLID = (1e6, 1e6)  # a dash longer than any line


def dashed(points_in: Array, ends: Ends, dash_in: tuple[float, ...]) -> tuple[Array, Ends]:
    """The lit parts of paths that are all dashed alike; paths as `joined` gives them."""
    points, lit_ends, _ = lit_parts(points_in, ends, [dash_in] * len(ends))
    return points, lit_ends


def lit_parts(
    points_in: Array, ends: Ends, dashes_in: Sequence[tuple[float, ...]]
) -> tuple[Array, Ends, Ends]:
    """The lit parts of paths, in order and as `joined` gives them, and how many each path has.

    Each of `dashes_in` alternates lit and dark lengths; a path without any is lit as a whole. Each run between
    corners begins and ends lit, so that corners and ends show; the dashes are stretched a little to fit.
    """
    points, ends = _without_repeats(points_in, ends)
    step = points[1:] - points[:-1]
    length = np.hypot(step[:, 0], step[:, 1])
    length[ends[:-1] - 1] = BETWEEN_IN
    place = np.concatenate([[0.0], np.cumsum(length)])
    solid = np.array([not dash for dash in dashes_in], bool)
    first, last, path = _runs(step / length[:, None], ends, solid)
    starts, stops, counts = _lit(place[first], place[last], path, dashes_in)
    starts, stops = _on_points(starts, place), _on_points(stops, place)
    places = np.unique(np.concatenate([starts, stops, place]))
    at = np.column_stack([np.interp(places, place, points[:, 0]), np.interp(places, place, points[:, 1])])
    index, lit_ends = _spans(np.searchsorted(places, starts), np.searchsorted(places, stops) + 1)
    return at[index], lit_ends, np.bincount(path, counts, len(ends)).astype(np.intp)


def _without_repeats(points: Array, ends: Ends) -> tuple[Array, Ends]:
    """The paths without points that are where the one before them is: such a step has no direction."""
    kept = np.concatenate([[True], (points[1:] != points[:-1]).any(axis=1)])
    kept[ends[:-1]] = True
    return points[kept], np.cumsum(kept)[ends - 1]


def _spans(start: Ends, stop: Ends) -> tuple[Ends, Ends]:
    """All the whole numbers from each start up to its stop, and where each span of them ends."""
    counts = stop - start
    ends = np.cumsum(counts)
    return np.arange(counts.sum()) + np.repeat(start - (ends - counts), counts), ends


def _runs(along: Array, ends: Ends, solid: npt.NDArray[np.bool_]) -> tuple[Ends, Ends, Ends]:
    """The points at which runs start and end, and the path of each: the whole of a solid one, others from corner
    to corner.
    """
    path = np.repeat(np.arange(len(ends)), np.diff(ends, prepend=0))
    corner = ((along[1:] * along[:-1]).sum(axis=1) < CORNER_COS) & ~solid[path[1:-1]]
    starts, stops = np.zeros((2, len(path)), bool)
    starts[1:-1] = stops[1:-1] = corner
    starts[0] = starts[ends[:-1]] = stops[ends - 1] = True
    starts[ends - 1] = stops[0] = stops[ends[:-1]] = False
    first = np.flatnonzero(starts)
    return first, np.flatnonzero(stops), path[first]


def _on_points(along: Array, place: Array) -> Array:
    """Dash ends that miss a point of the path by rounding, on it: twice the same point has no direction."""
    after = np.searchsorted(place, along).clip(1, len(place) - 1)
    low, high = place[after - 1], place[after]
    nearest = np.where(along - low < high - along, low, high)
    return np.where(np.abs(nearest - along) < ROUNDING_IN, nearest, along)


def _lit(
    start: Array, end: Array, path: Ends, dashes_in: Sequence[tuple[float, ...]]
) -> tuple[Array, Array, Ends]:
    """Where each dash starts and stops, of runs that start and end so far along; and how many each run has."""
    patterns = {dash: number for number, dash in enumerate(dict.fromkeys(dashes_in))}
    lit_from, lit_in, period, kinds = _tables([dash or SOLID for dash in patterns])
    pattern = np.array([patterns[dash] for dash in dashes_in])[path]
    first = lit_in[pattern, 0]
    periods = np.rint((end - start - first) / period[pattern]).clip(0.0).astype(np.intp)
    stretch = (end - start) / (periods * period[pattern] + first)
    counts = periods * kinds[pattern] + 1
    number, after = _spans(np.zeros_like(counts), counts)
    of = np.repeat(np.arange(len(counts)), counts)
    turn, kind = np.divmod(number, kinds[pattern][of])
    since = turn * period[pattern][of] + lit_from[pattern[of], kind]
    starts = start[of] + stretch[of] * since
    stops = starts + stretch[of] * lit_in[pattern[of], kind]
    stops[after - 1] = end
    return starts, stops, counts


def _tables(dashes: Sequence[tuple[float, ...]]) -> tuple[Array, Array, Array, Ends]:
    """Of each pattern: where within a period each of its dashes starts and how long it is; the period; how many."""
    most = max(map(len, dashes))
    lengths = np.array([(*dash, *[0.0] * (most - len(dash))) for dash in dashes])
    after = np.cumsum(lengths, axis=1)
    kinds = np.array([len(dash) // 2 for dash in dashes])
    return (after - lengths)[:, ::2], lengths[:, ::2], after[:, -1], kinds
