"""From a photo of a folded garment to its contour: true to the edge, or refused with a sentence."""

from pathlib import Path

import cv2
import numpy as np
import pytest
import shapely
from PIL import Image

from calibration.errors import AlignmentError
from calibration.frames import Array, TableInches
from calibration.garment.silhouette import Silhouette, find_silhouette, read_colour_photo
from calibration.practice.garment import Board, Fabric, LaidGarment, garment_table
from calibration.practice.garment_photo import Picture
from calibration.practice.table import PracticeTable
from patterns.tracing.outline import half_piece
from tests.whole.garment_scenes import (
    KINDS,
    PAPER,
    Seen,
    corners_off_mm,
    named_right,
    photographed,
    seen,
)

CALICO = Fabric(tone=(0.80, 0.77, 0.70))
SKIN = Fabric(tone=(0.62, 0.42, 0.32))
MAT = Board(tone=(0.25, 0.25, 0.27), grain=0.02, seams_in=200.0, grid_in=1.0)
FINGERS = shapely.union_all(
    [
        shapely.LineString([(3, -5.8), (4, -9.2)]).buffer(0.45),
        shapely.LineString([(4.1, -5.4), (4.9, -9.2)]).buffer(0.42),
        shapely.LineString([(4, -9.2), (4.9, -9.2)]).buffer(0.5),
    ]
)
ARM = shapely.LineString([(3, -5.8), (6, -40)]).buffer(1.6)
EXIF_ORIENTATION, TURNED_RIGHT = 0x0112, 8  # Exif 2.32, table 4: the photo's top is its left side


def off_mm(contour_in: Array, truth_in: Array) -> Array:
    ring = shapely.LinearRing(truth_in)
    return np.asarray(shapely.distance(shapely.points(contour_in), ring), dtype=np.float64) * 25.4


@pytest.fixture(scope="module")
def plain() -> Seen:
    """Light cloth and 2 sheets, by webcam."""
    return seen(5, "webcam", KINDS["light"], 2)


@pytest.fixture(scope="module")
def found(plain: Seen) -> Silhouette:
    return find_silhouette(plain.photo, PAPER, 2)


def test_a_phone_follows_wrinkled_cloth_to_a_tenth_of_a_millimetre() -> None:
    one = seen(24, "phone", KINDS["light, wrinkled"], 3)
    found = find_silhouette(one.photo, PAPER, 3)
    off = one.off_mm(found.contour_in)
    assert off.mean() < 0.1
    assert np.quantile(off, 0.95) < 0.3
    assert np.quantile(one.missed_mm(found.contour_in), 0.95) < 0.3
    assert found.error_in * 25.4 > off.mean()
    assert found.bridges == ()
    traced = half_piece(found.contour_in, noise_in=found.noise_in)
    assert corners_off_mm(one, traced).max() < 2.0
    assert named_right(one, traced)


@pytest.mark.parametrize(
    ("seed", "kind", "mean_mm"),
    [(3, "sheer, 30 % cover", 0.8), (9, "dark, all of it", 0.25)],  # 0.32 if the shadow drew the edge aside
)
def test_a_webcam_follows_any_cloth(seed: int, kind: str, mean_mm: float) -> None:
    one = seen(seed, "webcam", KINDS[kind], 4)
    found = find_silhouette(one.photo, PAPER, 4)
    off = one.off_mm(found.contour_in)
    assert off.mean() < mean_mm
    assert np.quantile(off, 0.95) < 2.5
    assert len(found.bridges) == len(one.laid.weights)
    assert not found.camera.size_checked


def test_the_contour_is_one_loop_with_even_steps(found: Silhouette) -> None:
    contour = found.contour_in
    steps = np.linalg.norm(np.roll(contour, -1, axis=0) - contour, axis=1)
    assert steps.max() < 2 * np.median(steps)
    x, y = contour.T
    assert x @ np.roll(y, -1) - y @ np.roll(x, -1) > 0  # counter-clockwise


def test_a_portrait_photo_turned_by_its_exif_is_traced_alike(
    plain: Seen, found: Silhouette, tmp_path: Path
) -> None:
    """The sensor's rows are the photo's columns; what holds it says so, as phones do."""
    sideways = Image.fromarray(np.ascontiguousarray(np.rot90(plain.photo, 2)))
    exif = Image.Exif()
    exif[EXIF_ORIENTATION] = TURNED_RIGHT
    sideways.save(tmp_path / "photo.jpg", quality=97, exif=exif)
    portrait = read_colour_photo(tmp_path / "photo.jpg")
    assert portrait.shape[:2] == plain.photo.shape[1::-1]
    again = find_silhouette(portrait, PAPER)
    assert off_mm(again.contour_in, found.contour_in).mean() < 0.15


def test_the_lines_of_a_cutting_mat_are_not_the_garments_edge() -> None:
    one = seen(5, "webcam", KINDS["light"], 2, board=MAT)
    traced = find_silhouette(one.photo, PAPER, 2)
    off = one.off_mm(traced.contour_in)
    assert off.mean() < 0.6
    assert np.quantile(off, 0.95) < 1.5
    assert traced.bridges == ()


def refused(photo: Picture, sheets: int | None = None) -> str:
    with pytest.raises(AlignmentError) as error:
        find_silhouette(photo, PAPER, sheets)
    return str(error.value)


def without_sheets(one: Seen) -> Picture:
    """The photo with its pages painted over."""
    photo = one.photo.copy()
    for sheet in one.table.sheets:
        page = np.array([(-4.4, -5.7), (4.4, -5.7), (4.4, 5.7), (-4.4, 5.7)])
        room = np.column_stack([sheet.pose.outward(page), np.zeros(4)])
        cv2.fillConvexPoly(
            photo, np.rint(one.table.camera.pixels_from_room(room)).astype(int), (150, 125, 100)
        )
    return photo


def box(table: PracticeTable, middle: tuple[float, float], size: tuple[float, float]) -> TableInches:
    """A rectangle about a place of the table, in table inches."""
    corners: Array = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * np.array(size) / 2 + middle
    return TableInches(table.frame_in_room.inward(corners))


def boxes(*places: tuple[tuple[float, float], tuple[float, float]], fabric: Fabric = CALICO) -> Picture:
    """A photo of rectangles of cloth (middle, size), with 2 sheets."""
    table = garment_table(6, "webcam", 2)
    laid = [LaidGarment(outline_in=box(table, *place), fabric=fabric) for place in places]
    return photographed(table, laid)


def with_hand(hand: shapely.Geometry) -> tuple[Picture, TableInches]:
    """A cloth with a hand over its edge, 2 sheets; and the cloth's true outline."""
    table = garment_table(6, "webcam", 2)
    cloth = box(table, (0, 0), (22, 14))
    rim = shapely.get_coordinates(shapely.get_exterior_ring(hand))[:-1]
    over = LaidGarment(outline_in=TableInches(table.frame_in_room.inward(rim)), fabric=SKIN)
    return photographed(table, [LaidGarment(outline_in=cloth, fabric=CALICO), over]), cloth


def test_the_edge_under_two_fingers_is_bridged() -> None:
    photo, cloth = with_hand(FINGERS)
    found = find_silhouette(photo, PAPER, 2)
    assert len(found.bridges) == 1
    off = off_mm(found.contour_in, cloth)
    assert off.max() < 3.0
    assert found.error_in * 25.4 > off.mean()


def test_an_arm_that_reaches_in_over_the_garment() -> None:
    photo, _ = with_hand(ARM)
    assert "an arm reaches in over it" in refused(photo, 2)


def test_a_photo_without_a_sheet(plain: Seen) -> None:
    assert refused(without_sheets(plain)) == (
        "no sheet is seen; lay the printed sheets in the light, get them all into the photo and retake it"
    )


def test_a_blurred_photo(plain: Seen) -> None:
    assert "blurred" in refused(np.asarray(cv2.GaussianBlur(plain.photo, (0, 0), 5.0), dtype=np.uint8))


def test_a_sheet_half_covered() -> None:
    assert refused(boxes(((-19, 6), (16, 14))), 2) == (
        "found 4 of 24 corners on sheet 1, 12 are needed; it is half hidden, in glare or blurred: clear it and "
        "retake the photo"
    )


def test_a_garment_that_touches_a_sheet() -> None:
    assert refused(boxes(((-8, 8), (24, 12))), 2) == (
        "the garment touches a sheet; lay the sheets beside it, an inch or more away, and retake the photo"
    )


def test_a_garment_that_runs_out_of_the_picture() -> None:
    assert refused(boxes(((0, 30), (18, 60))), 2) == (
        "what is unlike the table reaches the picture's edge: the garment runs out of the picture or off the "
        "table, or an arm reaches in over it; get all of it into the photo with nothing but bare table round "
        "it, and retake it"
    )


def test_a_garment_as_bright_as_the_table() -> None:
    assert refused(boxes(((0, 0), (22, 14)), fabric=Fabric(tone=Board().tone, creases=0.02)), 2) == (
        "no garment can be told from the table: it is as bright as the table and of its colour, or it is not "
        "wholly in the picture; lay a cloth or paper of another colour under it, and retake the photo"
    )


def test_cloth_so_sheer_that_its_edge_is_lost() -> None:
    gauze = Fabric(tone=(0.88, 0.88, 0.90), cover=0.1, creases=0.02)
    said = refused(boxes(((0, 0), (22, 14)), fabric=gauze), 2)
    assert said.endswith(
        "of its edge the garment looks like the table; lay a cloth of another colour under it, or plain paper if "
        "it is sheer, and retake the photo nearer and in more light"
    )


def test_two_garments() -> None:
    assert refused(boxes(((-6, 0), (9, 14)), ((6, 0), (9, 14))), 2) == (
        "2 things as large as a garment lie on the table, sheets that cannot be read among them; leave one "
        "garment, lay the sheets flat in the light, and retake the photo"
    )
