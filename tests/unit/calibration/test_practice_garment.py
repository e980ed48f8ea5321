"""The practice garment: its edge is where its outline says, in pixels of the photo."""

import cv2
import numpy as np
import pytest

from calibration.frames import Array, TableInches
from calibration.practice.garment import (
    FABRICS,
    Fabric,
    LaidGarment,
    garment_table,
    weights_on,
    wrinkled,
)
from calibration.practice.garment_photo import Picture, garment_photo
from calibration.practice.table import PracticeTable
from calibration.sheets.sheet import PAPERS, Sheet

PAGES = [Sheet(paper=PAPERS["letter"], number=1).page(50.0)]
ROOM = np.array([(-10.0, -7.0), (10.0, -7.0), (10.0, 7.0), (-10.0, 7.0)])
WHITE = Fabric(tone=(0.9, 0.9, 0.9), creases=0.0)


@pytest.fixture(scope="module")
def table() -> PracticeTable:
    return garment_table(3, "webcam", 1)


@pytest.fixture(scope="module")
def outline(table: PracticeTable) -> TableInches:
    return TableInches(table.frame_in_room.inward(ROOM))


def photo_of(table: PracticeTable, outline: TableInches, fabric: Fabric) -> Picture:
    return garment_photo(table, [LaidGarment(outline_in=outline, fabric=fabric)], PAGES, 50.0)


def across(table: PracticeTable, photo: Picture, inside_in: Array) -> Array:
    """Mean light so many inches inside the garment's long sides, a middle stretch of each."""
    along = np.linspace(-7, 7, 200)
    light = []
    for inside in inside_in:
        room = np.concatenate(
            [np.column_stack([along, np.full(200, side * (7 - inside))]) for side in (-1, 1)]
        )
        pixels = table.camera_from_table(table.frame_in_room.inward(room)).astype(np.float32)
        levels = cv2.remap(photo, pixels[None, :, 0], pixels[None, :, 1], cv2.INTER_LINEAR)
        light.append(float(((levels / 255.0) ** 2.2).mean()))
    return np.array(light)


def test_the_edge_lies_on_the_outline(table: PracticeTable, outline: TableInches) -> None:
    inside = np.linspace(-0.3, 0.3, 61)
    profile = across(table, photo_of(table, outline, WHITE), inside)
    half = (profile[0] + profile[-1]) / 2
    assert abs(np.interp(half, profile, inside)) < 0.006


def test_a_sheer_cloth_hides_three_tenths_of_the_table(table: PracticeTable, outline: TableInches) -> None:
    at = np.array([-1.0, 2.0])
    bare, thick = across(table, photo_of(table, outline, WHITE), at)
    _, thin = across(table, photo_of(table, outline, Fabric(tone=WHITE.tone, cover=0.3, creases=0.0)), at)
    assert (thin - bare) / (thick - bare) == pytest.approx(0.3, abs=0.04)


def test_the_same_number_gives_the_same_photo(table: PracticeTable, outline: TableInches) -> None:
    again = garment_table(3, "webcam", 1)
    assert np.array_equal(
        photo_of(table, outline, FABRICS["printed"]), photo_of(again, outline, FABRICS["printed"])
    )


def test_wrinkles_waver_about_the_outline(outline: TableInches) -> None:
    wavy = wrinkled(outline, 4, swing_in=0.02)
    x, y = (wavy - outline.mean(axis=0)).T
    assert len(wavy) > 3000
    turned = np.abs(np.stack([x, y]))
    assert turned.max() < 13
    straight = wrinkled(outline, 4, swing_in=0.0)
    off = np.linalg.norm(wavy - straight, axis=1)
    assert 0.014 < np.sqrt((off**2).mean()) < 0.026


def test_weights_lie_partly_over_the_edge(outline: TableInches) -> None:
    weights = weights_on(outline, 5)
    assert len(weights) == 2
    ring = np.concatenate([wrinkled(outline, 0, 0.0)])
    for weight in weights:
        nearest = np.linalg.norm(ring - weight.at_in, axis=1).min()
        assert 0.05 * weight.radius_in < nearest < 0.8 * weight.radius_in
    assert np.hypot(*np.subtract(weights[0].at_in, weights[1].at_in)) > 7
