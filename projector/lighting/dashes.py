"""Dashes, cut along a line on the table in inches."""

from itertools import pairwise

import numpy as np

from calibration.frames import Array
from projector.lighting.strokes import Ends

CORNER_COS = 0.9  # a turn of more than about 25 degrees is a corner
ROUNDING_IN = 1e-9


def dashed(path_in: Array, dash_in: tuple[float, ...]) -> tuple[Array, Ends]:
    """The lit parts of a path of shape (n, 2), as points and the index past each part's last point.

    `dash_in` alternates lit and dark lengths. Each run between corners begins and ends lit, so that corners
    and ends show; the dashes are stretched a little to fit.
    """
    step = np.diff(path_in, axis=0)
    length = np.hypot(step[:, 0], step[:, 1])
    kept = length > 0
    path, step, length = np.vstack([path_in[:1], path_in[1:][kept]]), step[kept], length[kept]
    place = np.concatenate([[0.0], np.cumsum(length)])
    lit = _lit(place, _corners(step / length[:, None]), np.array(dash_in))
    starts, stops = (_on_points(along, place) for along in lit)
    places = np.unique(np.concatenate([starts, stops, place]))
    points = np.column_stack([np.interp(places, place, path[:, 0]), np.interp(places, place, path[:, 1])])
    first, last = np.searchsorted(places, starts), np.searchsorted(places, stops)
    counts = last - first + 1
    ends = np.cumsum(counts)
    index = np.arange(ends[-1]) + np.repeat(first - (ends - counts), counts)
    return points[index], ends


def _corners(along: Array) -> Ends:
    turns = (along[1:] * along[:-1]).sum(axis=1)
    return np.flatnonzero(turns < CORNER_COS) + 1


def _on_points(along: Array, place: Array) -> Array:
    """Dash ends that miss a point of the path by rounding, on it: twice the same point has no direction."""
    after = np.clip(np.searchsorted(place, along), 1, len(place) - 1)
    low, high = place[after - 1], place[after]
    nearest = np.where(along - low < high - along, low, high)
    return np.where(np.abs(nearest - along) < ROUNDING_IN, nearest, along)


def _lit(place: Array, corners: Ends, dash: Array) -> tuple[Array, Array]:
    """Where along the path each dash starts and stops."""
    period, first = dash.sum(), dash[0]
    bounds = place[np.concatenate([[0], corners, [len(place) - 1]])]
    starts, stops = [], []
    for start, end in pairwise(bounds):
        periods = max(0, round((end - start - first) / period))
        stretch = (end - start) / (periods * period + first)
        turns = start + stretch * np.cumsum(np.concatenate([np.tile(dash, periods), [first]]))
        turns[-1] = end
        starts.append(np.concatenate([[start], turns[1:-1:2]]))
        stops.append(turns[0::2])
    return np.concatenate(starts), np.concatenate(stops)
