"""Cloth found again by two marks: where it lies, how much it grew, and how sure that is."""

import math
from dataclasses import replace
from itertools import product

import numpy as np
import pytest
import shapely
from scipy.spatial.transform import Rotation

from calibration.frames import Array
from patterns.cutting.placement import Placement
from patterns.measures import Unit
from patterns.saying import LengthError, Say
from patterns.tracing.hand_trace import Place
from projector.cloth.cloth_place import ClothPlace
from projector.cloth.laid_pieces import in_the_middle, middle, outline_in, shifted
from projector.cloth.reach_crosses import crosses_between, error_in
from projector.cloth.reach_lanes import split_of
from projector.cloth.reaches import LAP_IN, Reaches, room_in
from projector.cloth.stretch import MOST, FoundAgain, fitted
from projector.errors import ProjectorError
from projector.lighting.lit_area import lit_area
from projector.person import Person
from tests.unit.projector.long_pieces import cloak
from tests.unit.projector.samples import a_map

LIT = lit_area(a_map())
STEP_IN = 1 / 64
ROOM = room_in(LIT, Person())
SLID = ClothPlace(x_in=-17.3, y_in=2.1, turn_deg=4.2)


def a_split(turn_deg: float = 0.0) -> tuple[Placement, Reaches]:
    upright = in_the_middle(cloak(), Placement(), LIT, Person())
    turned = replace(upright, turn_deg=turn_deg)
    placement = shifted(turned, middle(outline_in(cloak(), upright)) - middle(outline_in(cloak(), turned)))
    return placement, split_of(cloak(), placement, ROOM)


def pair(points: Array) -> tuple[Place, Place]:
    (a, b), (c, d) = points.tolist()
    return (a, b), (c, d)


def found(were: tuple[Place, Place], now: tuple[Place, Place]) -> FoundAgain:
    return FoundAgain(were_in=were, found_in=now)


@pytest.mark.parametrize("grown", [1.0, 0.98, 1.01])
def test_two_marks_lay_the_cloth_as_an_independent_least_squares_does(grown: float) -> None:
    were = np.array([[3.0, -4.0], [11.0, 13.0]])
    now = SLID.on_table(were) * grown
    flat = [np.column_stack([points - points.mean(axis=0), [0, 0]]) for points in (now, were)]
    # two points leave the turn about their own line open in space; a third, upright, keeps it in the plane
    flat = [np.vstack([points, [0, 0, 1]]) for points in flat]
    turn, _ = Rotation.align_vectors(flat[0], flat[1])
    place = fitted(were, now)
    assert math.radians(place.turn_deg) == pytest.approx(turn.as_rotvec()[2], abs=1e-9)
    assert np.abs(place.on_table(were).mean(axis=0) - now.mean(axis=0)).max() < 1e-9
    lengths = [np.hypot(*np.diff(points, axis=0)[0]) for points in (were, place.on_table(were))]
    assert lengths[0] == pytest.approx(lengths[1], abs=1e-12), "never scaled"


@pytest.mark.parametrize("grown", [-0.02, -0.01, -0.002, 0.0, 0.003, 0.01, 0.05])
def test_a_stretch_is_what_the_marks_say_it_is(grown: float) -> None:
    were = np.array([[3.0, -4.0], [11.0, 13.0]])
    again = found(pair(were), pair(SLID.on_table(were) * (1 + grown)))
    assert again.stretch == pytest.approx(grown, abs=1e-12)
    assert again.too_far is (abs(grown) > 1 / 16 / 20)
    assert f"{abs(grown):.1%}" in again.words(Say(Unit.IN))
    assert ("1/16 in is the most" in again.words(Say(Unit.IN))) is again.too_far


def test_the_sentence_names_the_stretch_its_doubt_and_the_limit() -> None:
    assert found(((0, 0), (20, 0)), ((1, 1), (1, 21.2))).words(Say(Unit.IN)) == (
        "the cloth grew by 1.0%, give or take 0.1% between the marks: 13/64 in over 20 in, and 1/16 in is the most"
    )
    assert found(((0, 0), (20, 0)), ((1, 1), (1, 20.98))).words(Say(Unit.IN)) == (
        "the cloth shrank by 0.1%, give or take 0.1% between the marks"
    )
    assert pytest.approx(1 / 16 / 20) == MOST


@pytest.mark.parametrize(
    ("now", "sentence"),
    [
        (
            ((0, 0), (0, 3)),
            "the marks were set 3 in apart and lay 20 in apart: set the cross on each of the two",
        ),
        (((20, 0), (0, 0)), "the two marks were taken one for the other: set the first on mark 1"),
    ],
)
def test_marks_that_cannot_be_the_same_are_refused(now: tuple[Place, Place], sentence: str) -> None:
    with pytest.raises((ProjectorError, LengthError), match=f"^{sentence}$"):
        found(((0, 0), (20, 0)), now)


@pytest.mark.parametrize("turn_deg", [0.0, 90.0])
def test_reaches_go_on_to_1_64_in_with_crosses_set_to_1_64_in_and_tell_1_percent_within_a_tenth(
    turn_deg: float,
) -> None:
    """Crosses move by 1/64 in: each is left at the nearest such place to its mark."""
    placement, reaches = a_split(turn_deg)
    rng = np.random.default_rng(5)
    assert len(reaches.reaches) > 1
    for number in range(len(reaches.reaches) - 1):
        crosses = crosses_between(cloak(), placement, reaches, number, ROOM)
        were = placement.placed(np.array(crosses.marks_in))
        ahead = _ahead(placement, reaches, number)
        along = reaches.along_in(placement.lifted(ahead))
        join = ahead[along < along.min() + LAP_IN / 2]
        told = []
        for grown, _ in product((0.0, 0.01), range(300)):
            turn, x, y = rng.uniform((-6, -20, -3), (6, -10, 3)).tolist()
            cloth = ClothPlace(x_in=x, y_in=y, turn_deg=turn)
            middle = were.mean(axis=0)
            marks = cloth.on_table(middle + (were - middle) * (1 + grown))
            again = found(pair(were), pair(np.round(marks / STEP_IN) * STEP_IN))
            told.append(abs(again.stretch - grown))
            assert np.hypot(*(again.place.on_table(join) - cloth.on_table(join)).T).max() <= 1 / 64
        assert np.quantile(told, 0.99) <= 0.001


def test_the_error_foreseen_is_the_one_that_marks_amiss_make() -> None:
    """Root mean square of 4000 draws, marks 1/64 in amiss in root mean square."""
    placement, reaches = a_split()
    crosses = crosses_between(cloak(), placement, reaches, 0, ROOM)
    rng = np.random.default_rng(6)
    were, ahead = placement.placed(np.array(crosses.marks_in)), _ahead(placement, reaches, 0)[::40]
    square = np.zeros(len(ahead))
    for _ in range(4000):
        amiss = rng.normal(0, 1 / 64 / math.sqrt(2), (2, 2))
        place = fitted(were, SLID.on_table(were) + amiss)
        square += ((place.on_table(ahead) - SLID.on_table(ahead)) ** 2).sum(axis=1) / 4000
    foreseen = error_in(crosses.marks_in, placement.lifted(ahead))
    assert np.sqrt(square) == pytest.approx(foreseen, rel=0.05)
    assert crosses.at_join_in <= 1 / 64
    most = error_in(crosses.marks_in, placement.lifted(_ahead(placement, reaches, 0))).max()
    assert crosses.at_most_in == pytest.approx(most, rel=0.03)


def _ahead(placement: Placement, reaches: Reaches, number: int) -> Array:
    """The cut line of the next reach, where the piece lies."""
    outline = shapely.get_coordinates(shapely.LineString(outline_in(cloak(), placement)).segmentize(0.2))
    along = reaches.along_in(placement.lifted(outline))
    after = reaches.reaches[number + 1]
    return outline[(along >= after.start_in) & (along <= after.end_in)]
