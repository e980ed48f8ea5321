"""A garment traced by a camera that stands as it did, without a sheet in its photo."""

from dataclasses import replace

import cv2
import numpy as np
import pytest
import shapely

from calibration.cameras.kept import KeptCamera
from calibration.cameras.standing import standing_camera
from calibration.errors import AlignmentError
from calibration.frames import Array, TableInches
from calibration.garment.silhouette import find_silhouette_amid, shows_sheets
from calibration.lens import Lens
from calibration.practice.garment import garment_table
from calibration.practice.garment_photo import garment_photo
from calibration.practice.table import PracticeTable
from tests.unit.projector.samples import an_alignment
from tests.whole.garment_scenes import KINDS, MM_PER_IN, PAGE_PPI, PAPER, laid

SEED = 24
Place = tuple[float, float, float]


def kept_camera(table: PracticeTable) -> KeptCamera:
    """The practice camera as an alignment would keep it at best; its lens without decentring."""
    eye, frame = table.camera, table.frame_in_room
    x, y = frame.inward(np.array([eye.at_in[:2]]))[0].tolist()
    right, up = (
        frame.outward(np.array([one])) - frame.outward(np.zeros((1, 2))) for one in ((1.0, 0), (0, 1.0))
    )
    room_from_table = np.array([[*right[0], 0.0], [*up[0], 0.0], [0.0, 0.0, 1.0]]).T
    turn, _ = cv2.Rodrigues(np.array(eye.axes) @ room_from_table)
    a, b, c = np.asarray(turn, dtype=np.float64).ravel().tolist()
    k1, k2 = eye.bow
    lens = Lens(k1=k1, k2=k2, centre_px=eye.centre_px, unit_px=eye.size_px[0] / 2)
    return KeptCamera(
        photo_px=eye.size_px,
        focal_px=eye.focal_px,
        centre_px=eye.centre_px,
        lens=lens,
        turn=(a, b, c),
        at_in=(x, y, eye.at_in[2]),
    )


def sheet_places(table: PracticeTable) -> tuple[Place, ...]:
    """Where the sheets lie, in table inches."""
    frame = table.frame_in_room
    middles = frame.inward(np.array([[one.pose.x_in, one.pose.y_in] for one in table.sheets]))
    turns = [one.pose.turn_deg - frame.turn_deg for one in table.sheets]
    return tuple((float(x), float(y), turn) for (x, y), turn in zip(middles, turns, strict=True))


def test_a_garment_without_a_sheet_is_traced_where_it_lies() -> None:
    table = garment_table(SEED, "webcam")
    alignment = replace(an_alignment(), cameras=(kept_camera(table),))
    camera = standing_camera(alignment, table.camera.size_px)
    bare, places = replace(table, sheets=()), sheet_places(table)
    one, _ = laid(SEED, table, KINDS["light"])
    photo = garment_photo(bare, [one], [], PAGE_PPI)
    assert not shows_sheets(photo, PAPER)
    found = find_silhouette_amid(photo, camera, places, PAPER)
    off_mm = apart_mm(found.contour_in, one.outline_in)
    assert off_mm.mean() < 0.8  # what a webcam is to reach beside sheets
    assert np.quantile(off_mm, 0.95) < 2.5
    aside = replace(one, outline_in=TableInches(one.outline_in + (0.0, 14.0)))
    with pytest.raises(
        AlignmentError, match="the garment reaches out of what the sheets of the alignment lay round"
    ):
        find_silhouette_amid(garment_photo(bare, [aside], [], PAGE_PPI), camera, places, PAPER)


def apart_mm(points_in: Array, ring_in: Array) -> Array:
    """(n,) millimetres from (n, 2) points to a closed ring."""
    apart = shapely.distance(shapely.LinearRing(ring_in), shapely.points(points_in))
    return np.asarray(apart, dtype=np.float64) * MM_PER_IN
