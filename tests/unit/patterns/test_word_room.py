"""Words laid in a piece, held against every place of a fine grid, each looked at by another library."""

import math
from itertools import product

import numpy as np
import pytest
import shapely
from shapely import affinity

from patterns import example, read_pattern
from patterns.curves import Array
from patterns.cutting.word_room import CLEAR_IN, Blocks, Ints, WordRoom

TURNS_DEG = (0, 40, 90)
SLANTED_PART = 0.7
HALVES_IN = np.array([2.0, 0.7])
PIECES = read_pattern(example("harbour overtop")).drafted().pieces
NAMES = [*PIECES, "slab", "wedge"]
SHAPES = {
    "slab": np.array([[0.0, 0.0], [9.0, 0.0], [9.0, 2.0], [0.0, 2.0]]),
    "wedge": np.array([[0.0, 0.0], [12.0, 5.0], [2.0, 9.0]]),
}


def blocks() -> Blocks:
    angles = np.radians(TURNS_DEG)
    along = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    return Blocks(
        axes=np.stack([along, along[:, ::-1] * (-1.0, 1.0)], axis=1),
        halves_in=np.tile(HALVES_IN, (len(TURNS_DEG), 1)),
        share=np.where(np.array(TURNS_DEG) == 0, 1.0, SLANTED_PART),
    )


def worth(way: Ints, sizes: Array) -> Array:
    """Words off all lines count double."""
    of_each: Array = blocks().share[way] * np.maximum(sizes[0], 2 * sizes[1])
    return of_each


def lines_of(name: str) -> tuple[Array, list[Array], list[Array]]:
    """An outline, what is strong within it, what is faint."""
    if name in SHAPES:
        outline = SHAPES[name]
        return outline, [], [np.array([outline.mean(axis=0), outline[1]])]
    piece = PIECES[name]
    return piece.cut_line, list(piece.clips), [np.concatenate([piece.seam_line, piece.seam_line[:1]])]


def block_at(middle: Array, turn_deg: float, size: float) -> shapely.Polygon:
    box = affinity.rotate(shapely.box(*(-size * HALVES_IN), *(size * HALVES_IN)), turn_deg, origin=(0, 0))
    return affinity.translate(box, *middle)


def largest_at(place: Array, turn_deg: float, lines: shapely.MultiLineString) -> float:
    """The size to 1/1000 of words about a place that keep CLEAR_IN off the lines; 0 where none do."""
    low, high = 0.0, 8.0
    while high - low > 1e-3:
        size = (low + high) / 2
        fits = shapely.distance(block_at(place, turn_deg, size), lines) >= CLEAR_IN
        low, high = (size, high) if fits else (low, size)
    return low


@pytest.mark.parametrize("name", NAMES)
def test_no_place_of_a_grid_holds_words_of_more_worth(name: str) -> None:
    outline, strong, faint = lines_of(name)
    found = WordRoom(outline, strong, faint, blocks()).largest(worth)
    most = float(worth(np.array([found.way]), found.sizes[:, None])[0])
    area = shapely.Polygon(outline)
    ring = [np.concatenate([outline, outline[:1]]), *strong]
    rooms = [shapely.MultiLineString(lines) for lines in (ring, [*ring, *faint])]
    low, high = outline.min(axis=0), outline.max(axis=0)
    places = [
        np.array(at) for at in product(*(np.linspace(*ends, 25) for ends in zip(low, high, strict=True)))
    ]
    for place in places:
        if not shapely.contains_xy(area, *place):
            continue
        for way, turn_deg in enumerate(TURNS_DEG):
            # no size below what would be of 3 % more worth is looked for
            for gain, room in zip((1, 2), rooms, strict=True):
                size = most * 1.03 / (gain * blocks().share[way])
                assert shapely.distance(block_at(place, turn_deg, size), room) < CLEAR_IN


@pytest.mark.parametrize("name", NAMES)
def test_the_words_found_keep_off_the_lines_and_are_as_large_as_that_lets_them(name: str) -> None:
    outline, strong, faint = lines_of(name)
    found = WordRoom(outline, strong, faint, blocks()).largest(worth)
    ring = [np.concatenate([outline, outline[:1]]), *strong]
    assert shapely.contains_xy(shapely.Polygon(outline), *found.middle)
    for size, lines in zip(found.sizes, (ring, [*ring, *faint]), strict=True):
        room = largest_at(found.middle, TURNS_DEG[found.way], shapely.MultiLineString(lines))
        assert max(size, 0.0) <= room + 2e-3
        assert size >= room - CLEAR_IN * (math.sqrt(2) - 1) / min(
            HALVES_IN
        )  # a corner is kept off as a box is


@pytest.mark.parametrize("name", ["slab", "front"])
def test_of_places_as_good_the_one_towards_the_middle_is_taken(name: str) -> None:
    outline = SHAPES["slab"] if name == "slab" else PIECES["front"].cut_line
    outline = outline * [4.0, 1.0] if name == "slab" else outline
    far_off = [np.array([[100.0, 0.0], [101.0, 0.0]])]
    found = WordRoom(outline, [], far_off, blocks()).largest(lambda way, sizes: np.minimum(sizes[0], 0.4))
    middle = (outline.min(axis=0) + outline.max(axis=0)) / 2
    assert np.hypot(*(found.middle - middle)) < 0.05


def test_in_a_strip_too_narrow_for_any_words_they_lie_within_it() -> None:
    outline = np.array([[0.0, 0.0], [40.0, 0.0], [40.0, 0.1], [0.0, 0.1]])
    found = WordRoom(outline, [], [outline[:2]], blocks()).largest(worth)
    assert shapely.contains_xy(shapely.Polygon(outline), *found.middle)
    assert found.sizes.max() <= 0.0
