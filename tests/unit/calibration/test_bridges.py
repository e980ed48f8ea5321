"""Bumps of an edge are bridged; corners, noise and wide curves are left alone."""

import numpy as np
import numpy.typing as npt
import pytest
import shapely

from calibration.bridges import bridged
from calibration.cloth_edge import evenly
from calibration.frames import Array, TableInches

STEP_IN = 0.03
SHARP = shapely.Polygon([(0, 0), (20, 0), (20, 8), (12, 8), (9, 14), (0, 14)])
CLOTH = SHARP.buffer(1.5, join_style="mitre").buffer(-1.5)  # with a rounded underarm


def everywhere(places_in: Array) -> npt.NDArray[np.bool_]:
    return np.ones(len(places_in), dtype=np.bool_)


def nowhere(places_in: Array) -> npt.NDArray[np.bool_]:
    return np.zeros(len(places_in), dtype=np.bool_)


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
    found = bridged(edge_of(CLOTH.union(weight)), STEP_IN, everywhere)
    assert len(found.bridges) == 1
    assert off_in(found.points_in) < 0.06  # nothing but the cloth's rounded corners
    assert abs(found.bridges[0].start_in[0] - x) < 1.6
    assert found.bridges[0].length_in > 1.3
    assert found.bridged.sum() * STEP_IN > 1.3
    assert found.jags == 0


def test_the_way_round_does_not_matter() -> None:
    weight = shapely.Point(10, 0.3).buffer(1.0)
    back = TableInches(edge_of(CLOTH.union(weight))[::-1])
    assert off_in(bridged(back, STEP_IN, everywhere).points_in) < 0.06


def test_two_weights_are_two_bridges() -> None:
    weights = [shapely.Point(x, 0.2).buffer(0.9) for x in (5, 14)]
    found = bridged(edge_of(shapely.union_all([CLOTH, *weights])), STEP_IN, everywhere)
    assert len(found.bridges) == 2
    assert off_in(found.points_in) < 0.06


def test_a_garment_without_weights_stays_as_it_is() -> None:
    edge = edge_of(CLOTH)
    found = bridged(edge, STEP_IN, everywhere)
    assert found.bridges == ()
    assert not found.bridged.any()
    assert np.array_equal(found.points_in, edge[::-1])  # counter-clockwise


def test_a_bump_of_bare_table_is_no_weight() -> None:
    bump = shapely.Point(10, 0.3).buffer(1.0)
    found = bridged(edge_of(CLOTH.union(bump)), STEP_IN, nowhere)
    assert found.bridges == ()
    assert found.jags == 2


def test_what_is_too_large_for_a_weight_is_no_weight() -> None:
    pocket = shapely.Point(10, 0.0).buffer(2.4)
    assert bridged(edge_of(CLOTH.union(pocket)), STEP_IN, everywhere).bridges == ()
