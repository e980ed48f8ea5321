"""Dashes, cut along lines on the table in inches: all the runs of all the lines at once."""

import numpy as np

from calibration.frames import Array
from projector.lighting.strokes import Ends

CORNER_COS = 0.9  # a turn of more than about 25 degrees is a corner
ROUNDING_IN = 1e-9
BETWEEN_IN = 1.0  # from the last point of a path to the first of the next, as if they were one


def dashed(points_in: Array, ends: Ends, dash_in: tuple[float, ...]) -> tuple[Array, Ends]:
    """The lit parts of paths as `joined` gives them, in order, and in the same form.

    `dash_in` alternates lit and dark lengths. Each run between corners begins and ends lit, so that corners
    and ends show; the dashes are stretched a little to fit.
    """
    points, ends = _without_repeats(points_in, ends)
    step = points[1:] - points[:-1]
    length = np.hypot(step[:, 0], step[:, 1])
    length[ends[:-1] - 1] = BETWEEN_IN
    place = np.concatenate([[0.0], np.cumsum(length)])
    starts, stops = _lit(*_runs(step / length[:, None], place, ends), np.array(dash_in))
    starts, stops = _on_points(starts, place), _on_points(stops, place)
    places = np.unique(np.concatenate([starts, stops, place]))
    at = np.column_stack([np.interp(places, place, points[:, 0]), np.interp(places, place, points[:, 1])])
    first, last = np.searchsorted(places, starts), np.searchsorted(places, stops)
    counts = last - first + 1
    lit_ends = np.cumsum(counts)
    index = np.arange(counts.sum()) + np.repeat(first - (lit_ends - counts), counts)
    return at[index], lit_ends


def _without_repeats(points: Array, ends: Ends) -> tuple[Array, Ends]:
    """The paths without points that are where the one before them is: such a step has no direction."""
    kept = np.concatenate([[True], (points[1:] != points[:-1]).any(axis=1)])
    kept[ends[:-1]] = True
    return points[kept], np.cumsum(kept)[ends - 1]


def _runs(along: Array, place: Array, ends: Ends) -> tuple[Array, Array]:
    """Where runs start and end: at the ends of the paths, and at corners between them."""
    starts, stops = np.zeros((2, len(place)), bool)
    starts[1:-1] = stops[1:-1] = (along[1:] * along[:-1]).sum(axis=1) < CORNER_COS
    starts[0] = starts[ends[:-1]] = stops[ends - 1] = True
    starts[ends - 1] = stops[0] = stops[ends[:-1]] = False
    return place[starts], place[stops]


def _on_points(along: Array, place: Array) -> Array:
    """Dash ends that miss a point of the path by rounding, on it: twice the same point has no direction."""
    after = np.clip(np.searchsorted(place, along), 1, len(place) - 1)
    low, high = place[after - 1], place[after]
    nearest = np.where(along - low < high - along, low, high)
    return np.where(np.abs(nearest - along) < ROUNDING_IN, nearest, along)


def _lit(start: Array, end: Array, dash: Array) -> tuple[Array, Array]:
    """Where each dash starts and stops, of runs that start and end so far along."""
    period, first, kinds = dash.sum(), dash[0], len(dash) // 2
    periods = np.maximum(0, np.rint((end - start - first) / period)).astype(np.intp)
    stretch = (end - start) / (periods * period + first)
    counts = periods * kinds + 1
    after = np.cumsum(counts)
    number = np.arange(counts.sum()) - np.repeat(after - counts, counts)
    kind = number % kinds
    lit_from = number // kinds * period + np.concatenate([[0.0], np.cumsum(dash)])[:-1:2][kind]
    start, stretch = np.repeat(start, counts), np.repeat(stretch, counts)
    starts, stops = start + stretch * lit_from, start + stretch * (lit_from + dash[::2][kind])
    stops[after - 1] = end
    return starts, stops
