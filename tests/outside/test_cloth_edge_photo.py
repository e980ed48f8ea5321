"""A thing on a wooden table in a real photograph: found, and followed along its edge, with no word about its shape.

Photograph: Debian's opencv-doc, `stuff.jpg` of OpenCV's samples: a webcam's, of daylight that falls off, grain, a
pencil, a lighter and a soft shadow. The thing is a round white lid. Where light falls on its rim the edge is an
ellipse, and scikit-image's marching squares, at half the light between lid and table, tell where. Its lower rim is
in its own shade and as brown as the table, where nobody could follow it, which has to be told.
"""

from pathlib import Path

import cv2
import numpy as np
import pytest
import shapely
from skimage.measure import find_contours

from calibration.frames import Array
from calibration.garment.cloth_edge import ClothEdge, follow_edge
from calibration.garment.garment_region import find_region
from calibration.garment.sheet_camera import SheetCamera
from calibration.garment.silhouette import Picture
from calibration.garment.table_look import light
from calibration.lens import Lens
from calibration.projector_map import ProjectorMap
from calibration.sheets.sheet import PAPERS

PX_PER_IN = 13.0  # invented, so that the lid is as large as a garment and the lighter is not
SHEET_PX = (540.0, 380.0)  # where bare table is, as round a sheet
SHADED_BELOW_PX = 200.0


def straight_down(size_px: tuple[int, int]) -> SheetCamera:
    """A camera that looks straight down, at a table with a sheet where there is bare table."""
    half = (size_px[0] / 2, size_px[1] / 2)
    seen = ProjectorMap(
        screen_px=size_px,
        homography=((PX_PER_IN, 0.0, 0.0), (0.0, -PX_PER_IN, 0.0), (0.0, 0.0, 1.0)),
        lens=Lens(centre_px=half, unit_px=half[0]),
        covariance=((0.0,) * 12,) * 12,
    )
    return SheetCamera(
        seen=seen,
        sheet_numbers=(1,),
        sheet_places=((SHEET_PX[0] / PX_PER_IN, -SHEET_PX[1] / PX_PER_IN, 0.0),),
        size_sigma=0.0,
        size_checked=True,
    )


@pytest.fixture(scope="module")
def photo(opencv_pictures: Path) -> Picture:
    colours = cv2.imread(str(opencv_pictures / "stuff.jpg"), cv2.IMREAD_COLOR)
    assert colours is not None
    return np.asarray(cv2.cvtColor(colours, cv2.COLOR_BGR2RGB), dtype=np.uint8)


@pytest.fixture(scope="module")
def edge(photo: Picture) -> ClothEdge:
    camera = straight_down((photo.shape[1], photo.shape[0]))
    region = find_region(photo, camera, PAPERS["letter"])
    return follow_edge(photo, camera, region.table, region.outline_in)


def lit_px(edge: ClothEdge) -> Array:
    """(n, 2) pixels of the edge where light falls on the rim."""
    pixels = edge.points_in * (PX_PER_IN, -PX_PER_IN)
    return np.asarray(pixels[pixels[:, 1] < SHADED_BELOW_PX], dtype=np.float64)


def off_px(points: Array, ring: Array) -> Array:
    return np.asarray(shapely.distance(shapely.points(points), shapely.LinearRing(ring)), dtype=np.float64)


def test_the_lit_edge_of_a_round_lid_is_an_ellipse(edge: ClothEdge) -> None:
    """Measured: 0.33 px off in the mean, 1.2 px at most, on 114 by 113 px."""
    (x, y), (across, along), turn_deg = cv2.fitEllipse(lit_px(edge).astype(np.float32))
    angle, turn = np.linspace(0, 2 * np.pi, 720, endpoint=False), np.radians(turn_deg)
    own = np.column_stack([across / 2 * np.cos(angle), along / 2 * np.sin(angle)])
    ellipse = own @ np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]]) + (x, y)
    off = off_px(lit_px(edge), ellipse)
    assert off.mean() < 0.5
    assert off.max() < 2.0
    assert 0.95 < across / along < 1.05


def test_marching_squares_find_the_same_edge(photo: Picture, edge: ClothEdge) -> None:
    """Measured: 0.42 px apart in the mean, 0.97 px at the 95th percentile."""
    green = light(photo[..., 1].astype(np.float64))
    lid = shapely.Polygon(lit_px(edge))
    grid = np.meshgrid(np.arange(photo.shape[1]), np.arange(photo.shape[0]))
    around = lid.buffer(12).difference(lid.buffer(5))
    inside, outside = (
        float(np.median(green[shapely.contains_xy(part, *grid)])) for part in (lid.buffer(-5), around)
    )
    theirs = max(find_contours(green, (inside + outside) / 2), key=len)[:, ::-1]  # type: ignore[no-untyped-call]
    off = off_px(lit_px(edge), theirs)
    assert off.mean() < 0.7
    assert np.quantile(off, 0.95) < 1.5


def test_where_the_rim_is_as_brown_as_the_table_it_is_told(edge: ClothEdge) -> None:
    """Measured: the two sides hardly differ at 53 % of the edge, and at 7 % of what is lit."""
    shaded = edge.points_in[:, 1] * -PX_PER_IN >= SHADED_BELOW_PX
    assert edge.unclear > 0.3
    assert (edge.step[~shaded] < 3).mean() < 0.12
