"""Bumps of an edge are bridged; corners, noise and wide curves are left alone."""

import numpy as np
import numpy.typing as npt
import pytest
import shapely

from calibration.frames import Array, TableInches
from calibration.garment.bridges import Looks, bridged
from calibration.garment.cloth_edge import evenly

STEP_IN = 0.03
SHARP = shapely.Polygon([(0, 0), (20, 0), (20, 8), (12, 8), (9, 14), (0, 14)])
CLOTH = SHARP.buffer(1.5, join_style="mitre").buffer(-1.5)  # with a rounded underarm


def looks(there: bool, thing: shapely.Geometry | None = None) -> Looks:
    """Everything, or nothing, is unlike the table; the thing is darker than the cloth."""

    def covered(places_in: Array) -> npt.NDArray[np.bool_]:
        return np.full(len(places_in), there)

    def colours(places_in: Array) -> Array:
        dark = (
            np.zeros(len(places_in)) if thing is None else shapely.contains_xy(thing, places_in).astype(float)
        )
        levels: Array = -np.repeat(dark[:, None], 3, axis=1)
        return levels

    return Looks(covered=covered, colours=colours)


EVERYWHERE, NOWHERE = looks(there=True), looks(there=False)


def edge_of(shape: shapely.Geometry) -> TableInches:
    return TableInches(
        evenly(shapely.get_coordinates(shapely.get_exterior_ring(shape))[:-1], STEP_IN, STEP_IN)
    )


def off_in(points_in: Array) -> float:
    return float(shapely.distance(shapely.points(points_in), shapely.get_exterior_ring(CLOTH)).max())


@pytest.mark.parametrize("inside_in", [0.0, 0.4, 0.7])
@pytest.mark.parametrize("at", [(10.0, 0.0), (4.0, 14.0)])
def test_a_round_weight_is_bridged(inside_in: float, at: tuple[float, float]) -> None:
    x, y = at
    weight = shapely.Point(x, inside_in if y == 0 else y - inside_in).buffer(1.0, quad_segs=32)
    found = bridged(edge_of(CLOTH.union(weight)), STEP_IN, EVERYWHERE)
    assert len(found.bridges) == 1
    assert off_in(found.points_in) < 0.06  # nothing but the cloth's rounded corners
    assert abs(found.bridges[0].start_in[0] - x) < 1.6
    assert found.bridges[0].length_in > 1.3
    assert found.bridged.sum() * STEP_IN > 1.3
    assert found.jags == 0


def test_the_way_round_does_not_matter() -> None:
    weight = shapely.Point(10, 0.3).buffer(1.0)
    back = TableInches(edge_of(CLOTH.union(weight))[::-1])
    assert off_in(bridged(back, STEP_IN, EVERYWHERE).points_in) < 0.06


def test_two_weights_are_two_bridges() -> None:
    weights = [shapely.Point(x, 0.2).buffer(0.9) for x in (5, 14)]
    found = bridged(edge_of(shapely.union_all([CLOTH, *weights])), STEP_IN, EVERYWHERE)
    assert len(found.bridges) == 2
    assert off_in(found.points_in) < 0.06


def test_a_garment_without_weights_stays_as_it_is() -> None:
    edge = edge_of(CLOTH)
    found = bridged(edge, STEP_IN, EVERYWHERE)
    assert found.bridges == ()
    assert not found.bridged.any()
    assert np.array_equal(found.points_in, edge[::-1])  # counter-clockwise


def test_a_bump_of_bare_table_is_no_weight() -> None:
    bump = shapely.Point(10, 0.3).buffer(1.0)
    found = bridged(edge_of(CLOTH.union(bump)), STEP_IN, NOWHERE)
    assert found.bridges == ()
    assert found.jags + len(found.mended) > 0


def test_what_is_not_round_is_told_by_its_colours() -> None:
    ruler = shapely.box(9, -0.9, 10.6, 3)
    edge = edge_of(CLOTH.union(ruler))
    found = bridged(edge, STEP_IN, looks(there=True, thing=ruler))
    assert len(found.bridges) == 1
    assert off_in(found.points_in) < 0.06
    assert bridged(edge, STEP_IN, EVERYWHERE).bridges == ()  # of the cloth's own colours


def test_a_jag_on_a_straight_edge_is_mended() -> None:
    spike = shapely.box(9.8, -0.3, 10.2, 1)
    found = bridged(edge_of(CLOTH.union(spike)), STEP_IN, EVERYWHERE)
    assert found.bridges == ()
    assert found.jags == 0
    assert sum(one.length_in for one in found.mended) < 1.2
    assert off_in(found.points_in) < 0.06


def test_a_sharp_hollow_of_the_garment_itself_is_left() -> None:
    edge = edge_of(SHARP)
    found = bridged(edge, STEP_IN, EVERYWHERE)
    assert found.mended == ()
    assert found.jags == 1
    assert np.array_equal(found.points_in, edge)


def test_what_is_too_large_for_a_weight_is_no_weight() -> None:
    pocket = shapely.Point(10, 0.0).buffer(2.4)
    assert bridged(edge_of(CLOTH.union(pocket)), STEP_IN, EVERYWHERE).bridges == ()
