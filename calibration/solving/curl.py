"""Paper and table that do not lie flat, as photos show them: a little beside where they are.

A mark that stands up by h is seen where the flat table has h d / H further from the camera's foot, d being its
distance from there and H the camera's height. From one place it is always the same, so an alignment goes along
with it; from another place it looks like a move.
"""

from collections.abc import Sequence
from typing import Final

import numpy as np

from calibration.cameras.kept import Triple
from calibration.frames import Array
from calibration.lens import bend_slopes
from calibration.projector_map import project, project_slopes
from calibration.solving.joint_model import TABLE_UNIT_IN, JointModel

PAGE_STANDS_IN: Final = 1 / 32  # one sigma of what a loose page stands up somewhere (common practice)
TABLE_STANDS_IN: Final = 1 / 64  # the same of the table's rim against its middle (common practice)
TABLE_WAYS: Final = 3
_PAGE_REACH_IN: Final = 5.5  # half a page's long side


def lifts(model: JointModel, x: Array) -> Array:
    """(n, k) heights of every corner for each way to stand up by 1: `TABLE_WAYS` of the table, four of each sheet."""
    points = model.predicted_in(x)
    sheet = np.concatenate([np.full(len(seen.known), seen.sheet) for seen in model.seen])
    low, high = points[model.is_target].min(axis=0), points[model.is_target].max(axis=0)
    ways = list(_bows(2 * (points - low) / (high - low) - 1).T)
    known = np.concatenate([seen.known for seen in model.seen]) * TABLE_UNIT_IN / _PAGE_REACH_IN
    for number in range(len(model.sheet_numbers)):
        own = (sheet == number)[:, None]
        ways.extend((own * np.column_stack([np.ones(len(known)), _bows(known)])).T)
    return np.column_stack(ways)


def _bows(points: Array) -> Array:
    """(n, 3) x^2, x y and y^2."""
    x, y = points.T
    return np.column_stack([x * x, x * y, y * y])


def beside(points_in: Array, place: Triple) -> Array:
    """(n, 2) inches beside (n, 2) table inches, per inch that what is there stands up, as seen from a place."""
    shifted: Array = (points_in - place[:2]) / place[2]
    return shifted


def from_their_own_places(model: JointModel, x: Array, places: Sequence[Triple]) -> Array:
    """(n, 2) `beside` of every corner, as seen from the place of its own photo."""
    points = model.predicted_in(x)
    photo = np.concatenate([np.full(len(seen.known), seen.photo) for seen in model.seen])
    shifted = np.zeros_like(points)
    for number, place in enumerate(places):
        shifted[photo == number] = beside(points[photo == number], place)
    return shifted


def in_pictures(model: JointModel, x: Array, shifted: Array, ways: Array) -> Array:
    """(n, 2, k) picture units by which every corner shows beside its place, for each of the ways of `lifts`."""
    slopes, row = [], 0
    points = model.predicted_in(x) / TABLE_UNIT_IN
    for seen in model.seen:
        own = points[row : row + len(seen.known)]
        row += len(own)
        matrix = model.camera_matrix(x, seen.photo)
        k1, k2, *centre = model.camera_lens(x, seen.photo)
        by_straight, _ = bend_slopes(project(matrix, own), np.array(centre), k1, k2)
        slopes.append(by_straight @ project_slopes(matrix, own)[0])
    picture = np.einsum("nij,nj->ni", np.concatenate(slopes), shifted) / TABLE_UNIT_IN
    shows: Array = picture[:, :, None] * ways[:, None, :]
    return shows
