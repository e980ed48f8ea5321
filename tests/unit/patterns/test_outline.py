import numpy as np
import pytest
import shapely

from patterns import Kind, Placement, example, read_pattern
from patterns.curves import Array, Curve
from patterns.parts import Bend
from patterns.piece import closed_curves
from patterns.tracing.curve_fitting import CLOSE_IN
from patterns.tracing.outline import half_piece
from tests.unit.patterns.garments import (
    EDGES,
    garment,
    lying,
    sampled,
)
from tests.unit.patterns.outlines import (
    CLEAN,
    MM,
    ON_TABLE,
    apart_in,
    corners_of,
    names_of,
    polygon,
    refused,
    ring_of,
    traced,
    truth_corners,
)


@pytest.mark.parametrize("seed", CLEAN)
def test_a_clean_contour_becomes_a_half_piece_within_a_64th(seed: int) -> None:
    one, found = garment(seed), traced(seed)
    truth = one.ring - one.corners[1] * (0, 1)
    edges = found.piece.edges
    assert names_of(found) == [*EDGES, "centre back" if one.back else "centre front"]
    assert [edge.kind for edge in edges] == [
        Kind.SEAM, Kind.SEAM, Kind.HEM, Kind.SEAM, Kind.HEM, Kind.FOLD
    ]  # fmt: skip
    assert apart_in(ring_of(found.piece), truth) <= CLOSE_IN
    assert found.farthest_in <= found.tolerance_in <= CLOSE_IN + 0.001
    assert np.hypot(*(corners_of(found.piece) - truth_corners(one)).T).max() * MM < 0.2
    assert sum(len(edge.path) - 1 for edge in edges) < 60
    assert shapely.is_valid(shapely.Polygon(ring_of(found.piece)))
    assert {point.x.exact_inches for point in edges[-1].path} == {0}
    assert edges[0].path[-1].y.exact_inches == 0
    assert found.fold_straightness_in < 0.001
    assert found.unsure == ()
    assert found.warnings == ()


@pytest.mark.parametrize("seed", CLEAN)
def test_the_placement_brings_the_piece_back_on_to_the_garment(seed: int) -> None:
    found, one = traced(seed), garment(seed)
    back = found.placement.placed(ring_of(found.piece))
    assert apart_in(back, lying(seed).placed(one.ring)) <= CLOSE_IN
    assert found.placement.mirrored == lying(seed).mirrored


@pytest.mark.parametrize("seed", range(10, 14))
@pytest.mark.parametrize("noise", [{"white_in": 0.01}, {"smooth_in": 0.005}])
def test_noise_is_averaged_out(seed: int, noise: dict[str, float]) -> None:
    one, found = garment(seed), traced(seed, **noise)
    truth = shapely.LinearRing(one.ring - one.corners[1] * (0, 1))
    shapely.prepare(truth)
    strays = shapely.distance(truth, shapely.points(ring_of(found.piece)))
    assert names_of(found)[:5] == list(EDGES)
    assert strays.mean() * MM < 0.2
    assert np.hypot(*(corners_of(found.piece) - truth_corners(one)).T).max() * MM < 2
    assert sum(len(edge.path) - 1 for edge in found.piece.edges) < 60
    assert {point.x.exact_inches for point in found.piece.edges[-1].path} == {0}


@pytest.mark.parametrize("version", [None, "round neck", "low back"])
@pytest.mark.parametrize("name", ["front", "back"])
def test_the_example_traced_again_is_the_example(version: str | None, name: str) -> None:
    drafted = read_pattern(example("harbour overtop")).drafted(version).pieces[name]
    points = sampled(Curve.straight(np.concatenate([drafted.seam_line, drafted.seam_line[:1]])))
    found = half_piece(ON_TABLE.placed(points[:-1]), noise_in=0.0, piece=name)
    assert names_of(found) == list(drafted.edges)
    assert apart_in(ring_of(found.piece), drafted.seam_line) <= CLOSE_IN
    lengths = [curve.length_in for curve in closed_curves(found.piece.edges)]
    assert lengths == pytest.approx([edge.length_in for edge in drafted.edges.values()], abs=1 / 32)


def test_a_deep_v_meets_the_fold_at_its_point() -> None:
    drafted = read_pattern(example("harbour overtop")).drafted().pieces["front"]
    found = half_piece(ON_TABLE.placed(drafted.seam_line), noise_in=0.0)
    neck = found.piece.edges[0]
    assert neck.bend is Bend.STRAIGHT
    assert [(p.x.inches, p.y.inches) for p in neck.path] == [
        pytest.approx((0, 8), abs=1 / 128),
        pytest.approx((3.5, 0), abs=1 / 128),
    ]


@pytest.mark.parametrize("placement", [
    Placement(turn_deg=180), Placement(mirrored=True), Placement(mirrored=True, turn_deg=101.5),
])  # fmt: skip
def test_how_the_garment_lies_makes_no_difference(placement: Placement) -> None:
    found = half_piece(placement.placed(garment(3).ring)[::-1], noise_in=0.0)
    assert apart_in(ring_of(found.piece), ring_of(traced(3).piece)) < CLOSE_IN
    assert names_of(found)[:5] == names_of(traced(3))[:5]


def pulled(points: Array, far_in: float) -> Array:
    """The garment with both ends of its fold, and what is within an inch of them, pulled into the cloth."""
    fold = points[points[:, 0] < 1e-9]
    ends = fold[[np.argmin(fold[:, 1]), np.argmax(fold[:, 1])]]
    near = np.min([np.hypot(*(points - end).T) for end in ends], axis=0)
    pull = far_in * np.clip(1 - near, 0, 1) ** 2
    return np.stack([points[:, 0] + pull, points[:, 1]], axis=1)


@pytest.mark.parametrize("far_in", [3 / 16, -3 / 16])
@pytest.mark.parametrize(("pointed", "most_in"), [(False, 1 / 32), (True, 0.13)])
def test_ends_of_the_fold_that_are_pulled_do_not_tip_it(far_in: float, pointed: bool, most_in: float) -> None:
    one = next(one for one in map(garment, range(40)) if one.curves[0].is_straight is pointed)
    found = half_piece(ON_TABLE.placed(pulled(one.ring, far_in)), noise_in=0.0)
    assert found.fold_straightness_in < 0.01
    assert np.hypot(*(corners_of(found.piece) - truth_corners(one)).T).max() < most_in
    neck = closed_curves(found.piece.edges)[0]
    assert neck.points[:, 1].max() < neck.start[1] + 0.02
    assert neck.is_straight is (pointed and far_in > 0)


@pytest.mark.parametrize(("bow_in", "warned"), [(0.1, False), (0.2, True)])
def test_a_wavy_fold_is_straightened_and_told(bow_in: float, warned: bool) -> None:
    ring = garment(5).ring
    fold = ring[:, 0] < 1e-9
    ring[fold, 0] += bow_in * np.sin(2 * np.pi * (ring[fold, 1] - ring[fold, 1].min()) / 5)
    found = half_piece(ON_TABLE.placed(ring), noise_in=0.0)
    assert found.fold_straightness_in == pytest.approx(bow_in, rel=0.3)
    assert {point.x.exact_inches for point in found.piece.edges[-1].path} == {0}
    assert any("the fold strays" in warning for warning in found.warnings) is warned


def test_a_wavy_fold_is_told_in_words() -> None:
    ring = garment(5).ring
    fold = ring[:, 0] < 1e-9
    ring[fold, 0] += 0.2 * np.sin(2 * np.pi * (ring[fold, 1] - ring[fold, 1].min()) / 5)
    (warning,) = half_piece(ON_TABLE.placed(ring), noise_in=0.0).warnings
    assert warning.endswith(
        "from straight, more than 1/8 in; smooth it along a ruler and trace again, or the piece's width will be "
        "off by twice that"
    )


def test_a_round_underarm_is_no_corner_and_a_sharp_one_is_kept() -> None:
    half = [(0, 3), (3.5, 0), (15, 3.5), (13.5, 9), (10.5, 11), (11, 25), (0, 25)]
    found = half_piece(ON_TABLE.placed(polygon(*half)), noise_in=0.0)
    side = found.piece.edges[3]
    assert names_of(found)[:5] == list(EDGES)
    assert (side.bend, len(side.path)) == (Bend.STRAIGHT, 3)
    assert (side.path[1].x.inches, side.path[1].y.inches) == pytest.approx((10.5, 11), abs=0.005)
    assert found.unsure == ()


def test_a_corner_too_many_is_doubted() -> None:
    half = [(0, 3), (3.5, 0), (15, 3.5), (13.5, 9), (10.5, 11), (11, 18), (14, 18.5), (14, 25), (0, 25)]
    found = half_piece(ON_TABLE.placed(polygon(*half)), noise_in=0.0)
    assert names_of(found)[:5] == list(EDGES)
    assert {(doubt.edge, doubt.why) for doubt in found.unsure} <= {
        ("side", "it has a corner within it"),
        ("side", "another corner could be its end"),
        ("hem", "another corner could be its end"),
    }
    assert any(doubt.edge == "side" for doubt in found.unsure)


class TestNamesGiven:
    POINTS = ON_TABLE.placed(garment(3).ring)

    def test_they_are_taken_and_not_doubted(self) -> None:
        names = ("neck", "shoulder", "cuff hem", "flank", "hem", "centre")
        found = half_piece(self.POINTS, noise_in=0.0, names=names)
        assert names_of(found) == list(names)
        assert [edge.kind for edge in found.piece.edges][2:5] == [Kind.HEM, Kind.SEAM, Kind.HEM]
        assert found.unsure == ()

    def test_a_neck_named_last_puts_the_other_end_on_top(self) -> None:
        found = half_piece(self.POINTS, noise_in=0.0, names=tuple(reversed(EDGES)))
        plain = half_piece(self.POINTS, noise_in=0.0)
        assert found.placement.mirrored is not plain.placement.mirrored
        assert names_of(found)[0] == "hem"

    def test_as_many_as_all_corners_split_the_side(self) -> None:
        half = [(0, 3), (3.5, 0), (15, 3.5), (13.5, 9), (10.5, 11), (11, 25), (0, 25)]
        names = ("neck", "overarm", "sleeve hem", "underarm", "side", "hem")
        found = half_piece(ON_TABLE.placed(polygon(*half)), noise_in=0.0, names=names)
        assert names_of(found) == [*names, "centre front"]

    def test_too_few_are_refused(self) -> None:
        assert refused(self.POINTS, names=("neck", "side", "hem")) == (
            "3 names for the edges, besides the fold's, where 5, or 5 with every corner found as the end of an "
            "edge, were wanted; name them in order from the fold's top, or set the corners"
        )
