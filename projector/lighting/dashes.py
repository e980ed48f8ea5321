"""Dashes, cut along lines on the table in inches: all the runs of all the lines at once."""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from calibration.frames import Array
from projector.lighting.strokes import Ends, Plane, in_plane, in_rows

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
    points, ends = _without_repeats(in_plane(points_in), ends)
    step = points[1:] - points[:-1]
    length = np.abs(step)
    length[ends[:-1] - 1] = BETWEEN_IN
    place = np.concatenate([[0.0], length.cumsum()])
    solid = np.array([not dash for dash in dashes_in])
    first, last, path = _runs(step / length, ends, solid)
    starts, stops, counts = _lit(place[first], place[last], path, dashes_in)
    at, lit_ends = _with_points_between(starts, stops, place)
    return (
        in_rows(np.interp(at, place, points)),
        lit_ends,
        np.bincount(path, counts, len(ends)).astype(np.intp),
    )


def _without_repeats(points: Plane, ends: Ends) -> tuple[Plane, Ends]:
    """The paths without points that are where the one before them is: such a step has no direction."""
    kept = np.concatenate([[True], points[1:] != points[:-1]])
    kept[ends[:-1]] = True
    return points[kept], kept.cumsum()[ends - 1]


def _runs(along: Plane, ends: Ends, solid: npt.NDArray[np.bool_]) -> tuple[Ends, Ends, Ends]:
    """The points at which runs start and end, and the path of each: the whole of a solid one, others from corner
    to corner.
    """
    begins, last = _begins(ends), ends - 1
    path = np.arange(len(ends)).repeat(ends - begins)
    starts = np.zeros(len(path), bool)
    starts[1:-1] = _turns(along) & ~solid[path[1:-1]]
    starts[begins] = starts[last] = False
    stops = starts.copy()
    starts[begins] = stops[last] = True
    first = starts.nonzero()[0]
    return first, stops.nonzero()[0], path[first]


def _begins(ends: Ends) -> Ends:
    """The index of each path's first point."""
    begins = np.zeros_like(ends)
    begins[1:] = ends[:-1]
    return begins


def corners(path: Plane) -> npt.NDArray[np.bool_]:
    """(n,) at which of a path's points dashes begin anew: both its ends, and where it turns."""
    step = path[1:] - path[:-1]
    corner = np.ones(len(path), bool)
    corner[1:-1] = _turns(step / np.abs(step))
    return corner


def _turns(along: Plane) -> npt.NDArray[np.bool_]:
    return (along[1:] * along[:-1].conj()).real < CORNER_COS


def _lit(
    start: Array, end: Array, path: Ends, dashes_in: Sequence[tuple[float, ...]]
) -> tuple[Array, Array, Ends]:
    """Where along the paths each dash starts and stops, of runs from start to end; and how many each run has."""
    patterns = {dash: number for number, dash in enumerate(dict.fromkeys(dashes_in))}
    lit_from, lit_in, periods_in, kinds = _tables(tuple(patterns))
    pattern = np.array([patterns[dash] for dash in dashes_in])[path]
    first, period, kind_count = lit_in[pattern, 0], periods_in[pattern], kinds[pattern]
    periods = np.maximum(np.rint((end - start - first) / period), 0.0)
    stretch = (end - start) / (periods * period + first)
    counts = periods.astype(np.intp) * kind_count + 1
    number, after = _spans(np.zeros_like(counts), counts)
    of = np.arange(len(counts)).repeat(counts)
    turn, kind = np.divmod(number, kind_count[of])
    starts = start[of] + stretch[of] * (turn * period[of] + lit_from[pattern[of], kind])
    stops = starts + stretch[of] * lit_in[pattern[of], kind]
    stops[after - 1] = end
    return starts, stops, counts


@lru_cache(maxsize=64)
def _tables(dashes: tuple[tuple[float, ...], ...]) -> tuple[Array, Array, Array, Ends]:
    """Of each pattern: where within a period each of its dashes starts and how long it is; the period; how many."""
    patterns = [dash or SOLID for dash in dashes]
    most = max(map(len, patterns))
    lengths = np.array([(*dash, *[0.0] * (most - len(dash))) for dash in patterns])
    after = lengths.cumsum(axis=1)
    kinds = np.array([len(dash) // 2 for dash in patterns])
    return (after - lengths)[:, ::2], lengths[:, ::2], after[:, -1], kinds


def _with_points_between(starts: Array, stops: Array, place: Array) -> tuple[Array, Ends]:
    """Where along the paths the points of each dash are, and where they end: its start, points between, its stop.

    Points that are at its start or stop but for rounding are left out: twice the same point has no direction.
    """
    after = np.searchsorted(place, starts + ROUNDING_IN)
    between, between_ends = _spans(after, np.maximum(np.searchsorted(place, stops - ROUNDING_IN), after))
    number = np.arange(1, len(starts) + 1)
    ends = between_ends + 2 * number
    at = np.empty(ends[-1] if len(ends) else 0)
    inner = np.ones(len(at), bool)
    first, last = _begins(ends), ends - 1
    inner[first] = inner[last] = False
    at[inner], at[last], at[first] = place[between], stops, starts
    return at, ends


def _spans(start: Ends, stop: Ends) -> tuple[Ends, Ends]:
    """All the whole numbers from each start up to its stop, and where each span of them ends."""
    counts = stop - start
    ends = counts.cumsum()
    return np.arange(ends[-1] if len(ends) else 0) + (start - ends + counts).repeat(counts), ends
