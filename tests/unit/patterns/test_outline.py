import math
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import shapely

from patterns import Kind, Pattern, PatternError, Placement, Unit, example, read_pattern, write_pattern
from patterns.curves import Array, Curve
from patterns.parts import Bend
from patterns.piece import Piece, closed_curves
from patterns.tracing.contour import Contour
from patterns.tracing.corner_finding import find_corners
from patterns.tracing.curve_fitting import CLOSE_IN
from patterns.tracing.outline import TracedPiece, half_piece
from tests.unit.patterns.garments import (
    EDGES,
    Garment,
    bezier,
    contour,
    garment,
    lying,
    sampled,
)

MM = 25.4
CLEAN = range(6)
ON_TABLE = Placement(x_in=12, y_in=30, turn_deg=33)


def ring_of(piece: Piece) -> Array:
    """(n, 2) the piece's flattened seam line."""
    return np.concatenate([curve.points[:-1] for curve in closed_curves(piece.edges)])


def corners_of(piece: Piece) -> Array:
    """(n, 2) where its edges begin."""
    return np.stack([curve.start for curve in closed_curves(piece.edges)])


def apart_in(one: Array, other: Array) -> float:
    """Hausdorff distance in inches of two closed lines, by shapely."""
    lines = [shapely.LinearRing(ring) for ring in (one, other)]
    shapely.prepare(lines)
    dense = [shapely.points(shapely.get_coordinates(shapely.segmentize(line, 0.05))) for line in lines]
    return float(max(shapely.distance(lines[0], dense[1]).max(), shapely.distance(lines[1], dense[0]).max()))


def names_of(traced: TracedPiece) -> list[str]:
    return [edge.name for edge in traced.piece.edges]


def polygon(*corners: tuple[float, float]) -> Array:
    """(n, 2) a dense closed contour with straight sides."""
    points = np.array([*corners, corners[0]], dtype=np.float64)
    return sampled(Curve.straight(points))[:-1]


def straight(*points: tuple[float, float]) -> Curve:
    return Curve.straight(np.array(points, dtype=np.float64))


@cache
def traced(seed: int, **noise: float) -> TracedPiece:
    one = garment(seed)
    found = contour(one, lying(seed), seed, **noise)
    return half_piece(found, noise_in=sum(noise.values()), piece="back" if one.back else "front")


def refused(points: Array, **given: object) -> str:
    with pytest.raises(PatternError) as error:
        half_piece(points, noise_in=0.0, **given)  # type: ignore[arg-type]
    return str(error.value)


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


def truth_corners(one: Garment) -> Array:
    return np.asarray(one.corners - one.corners[1] * (0, 1), dtype=np.float64)


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


def test_corners_set_by_hand_are_taken() -> None:
    one = garment(3)
    found = half_piece(ON_TABLE.placed(one.ring), noise_in=0.0, corners_in=ON_TABLE.placed(one.corners[1:5]))
    assert np.hypot(*(corners_of(found.piece) - truth_corners(one)).T).max() < 1 / 64


def test_too_small() -> None:
    points = Placement().placed(garment(3).ring) / 10
    assert "and a half garment is at least 6 in; trace the whole garment, and check the scale" in refused(
        points
    )


def test_crossing_itself() -> None:
    points = polygon((0, 0), (10, 20), (10, 0), (0, 20))
    assert refused(points) == (
        "the contour crosses or touches itself near [5.0 in, 10.0 in] on the table; lay the garment so that no "
        "part lies over another's edge, and trace it once round"
    )


@pytest.mark.parametrize("side", [1, -1])
def test_a_small_loop_is_taken_off(side: int) -> None:
    points = ON_TABLE.placed(garment(3).ring)
    angles = np.linspace(0, 2 * math.pi, 40)[1:-1] * side
    loop = points[900] + 0.15 * np.stack([np.cos(angles) - 1, np.sin(angles)], axis=1)
    found = half_piece(np.insert(points, 900, loop, axis=0), noise_in=0.0)
    assert names_of(found)[:5] == list(EDGES)
    assert apart_in(ring_of(found.piece), ring_of(traced(3).piece)) < 0.35


def test_no_straight_side() -> None:
    angles = np.linspace(0, 2 * math.pi, 3000, endpoint=False)
    points = np.stack([10 * np.cos(angles), 10 * np.sin(angles)], axis=1)
    assert refused(points).startswith("no straight side is long enough to be the fold: the longest is ")
    assert "and a fold is at least 6 in, with all the cloth on one side of it" in refused(points)


def test_too_few_corners() -> None:
    assert refused(polygon((0, 0), (12, 0), (12, 20), (0, 20))) == (
        "2 corners that jut out were found besides the fold's ends, and a garment with cut-on sleeves has 4: the "
        "shoulder point, both ends of the sleeve hem, and the side at the hem; spread it flat so that they show, "
        "or point them out; or, if the piece has another shape, name its edges in order from the fold's top"
    )


class TestSomethingOverTheEdge:
    """Stretches that were bridged are guesses; those that were not are bumps."""

    HALF = ((0, 3), (3.5, 0), (15, 3.5), (13.5, 9), (10.5, 11), (11, 25), (0, 25))

    def test_a_fold_runs_on_under_a_weight(self) -> None:
        ring, stretch = self.bulging(12.0, 14.0)
        found = half_piece(ON_TABLE.placed(ring), noise_in=0.0, hidden_in=ON_TABLE.placed(stretch)[None])
        assert names_of(found)[:5] == list(EDGES)
        assert found.fold_straightness_in < 0.01
        assert found.warnings == ()
        assert corners_of(found.piece)[5] == pytest.approx((0, 25), abs=0.01)

    def test_a_bump_on_the_fold_is_told_but_does_not_break_it(self) -> None:
        ring, _ = self.bulging(12.0, 14.0)
        found = half_piece(ON_TABLE.placed(ring), noise_in=0.0)
        assert names_of(found)[:5] == list(EDGES)
        assert corners_of(found.piece)[5] == pytest.approx((0, 25), abs=0.01)
        assert any("the fold strays" in warning for warning in found.warnings)

    @pytest.mark.parametrize("hidden_in", [None, np.zeros((0, 2, 2))])
    def test_a_corner_that_was_cut_off_is_missed(self, hidden_in: Array | None) -> None:
        assert corners_of(half_piece(self.cut(), noise_in=0.0, hidden_in=hidden_in).piece)[
            2
        ] != pytest.approx((15, 3.5), abs=0.2)

    def test_a_corner_that_was_hidden_is_where_its_sides_meet(self) -> None:
        found = half_piece(self.cut(), noise_in=0.0, hidden_in=ON_TABLE.placed(self.CUT)[None])
        assert corners_of(found.piece)[2] == pytest.approx((15, 3.5), abs=0.01)
        assert [edge.bend for edge in found.piece.edges[1:3]] == [Bend.STRAIGHT] * 2
        assert found.unsure == ()

    def test_a_corner_that_a_hidden_stretch_ends_in_is_kept(self) -> None:
        bridge = ON_TABLE.placed(np.array(self.HALF[3:5]))
        found = half_piece(ON_TABLE.placed(polygon(*self.HALF)), noise_in=0.0, hidden_in=bridge[None])
        assert names_of(found)[:5] == list(EDGES)
        assert corners_of(found.piece)[3] == pytest.approx((13.5, 9), abs=0.04)

    def test_a_bump_on_the_hem_is_told(self) -> None:
        ring = polygon(*self.HALF)
        away = (ring[:, 0] - 5) / 1.2
        bump = (ring[:, 1] == 25) & (np.abs(away) < 1)
        ring[bump, 1] += 0.6 * np.sqrt(1 - away[bump] ** 2)
        assert half_piece(ON_TABLE.placed(ring), noise_in=0.0).warnings[-1] == (
            "the hem has a sharp hollow, as where something lies over it; look there, and trace again without it"
        )

    CUT = np.array([(14.4, 3.3174), (14.8, 4.2333)])

    def cut(self) -> Array:
        """The garment with its outer sleeve corner cut off straight, on the table."""
        before, after = self.HALF[:2], self.HALF[3:]
        return ON_TABLE.placed(polygon(*before, *map(tuple, self.CUT), *after))

    def bulging(self, low_in: float, high_in: float) -> tuple[Array, Array]:
        """The garment with a bulge of 1/4 in out of its fold, and the bulge's ends (2, 2), in piece inches."""
        ring = polygon(*self.HALF)
        share = (ring[:, 1] - low_in) / (high_in - low_in)
        inside = (ring[:, 0] < 1e-9) & (share > 0) & (share < 1)
        ring[inside, 0] -= np.sin(np.pi * share[inside]) / 4
        return ring, np.array([(0, low_in), (0, high_in)])


def test_jags_of_a_print_are_no_corners() -> None:
    corners = [(0, 3), (3.5, 0), (15, 3.5), (13.5, 9), (10.5, 11), (11, 25), (0, 25)]
    ring = polygon(*corners)
    way = np.roll(ring, -1, axis=0) - np.roll(ring, 1, axis=0)
    outward = np.stack([way[:, 1], -way[:, 0]], axis=1) / np.hypot(*way.T)[:, None]
    height = 0.1 * np.sin(np.linspace(0, np.pi, 10))[:, None]
    for middle in np.array(corners) / 2 + np.roll(corners, -1, axis=0) / 2:
        at = int(np.argmin(np.hypot(*(ring - middle).T)))
        ring[at : at + 10] += height * outward[at : at + 10]
    found = find_corners(Contour.read(ON_TABLE.placed(ring), 0.004))
    places = ON_TABLE.lifted(np.stack([corner.place for corner in found]))
    assert len(found) == len(corners)
    assert np.hypot(*(places[:, None] - np.array(corners)[None]).transpose(2, 0, 1)).min(axis=1).max() < 0.04


def test_the_top_of_the_fold_under_a_flat_v_is_found_on_a_wavy_edge() -> None:
    half = [(0, 8.5), (2.8, 0), (15, 3.5), (13.5, 9), (10.5, 11), (11, 25), (0, 25)]
    ring = polygon(*half)
    along = np.arange(len(ring)) * 0.02
    waves = 0.01 * np.stack([np.sin(2.1 * along), np.sin(2.9 * along + 1)], axis=1)
    found = half_piece(ON_TABLE.placed(ring + waves), noise_in=0.005)
    assert corners_of(found.piece)[0] * MM == pytest.approx((0, 8.5 * MM), abs=2)


# Each half piece with its fold last, in order from the fold's top.
BODICE = (
    bezier((0, 6), (2, 6), (3.4, 3), (3.4, 0)), straight((3.4, 0), (7.4, 1.7)),
    bezier((7.4, 1.7), (6.5, 4), (6.5, 7.5), (10.5, 9)), bezier((10.5, 9), (9, 15), (9.5, 20), (12, 28)),
    bezier((12, 28), (6, 28.7), (3, 28.7), (0, 28.7)), straight((0, 28.7), (0, 6)),
)  # fmt: skip
DROPPED = (
    bezier((0, 4), (2, 4), (3.4, 3), (3.4, 0)), straight((3.4, 0), (11, 2.5)),
    bezier((11, 2.5), (10, 4.5), (10, 8), (11.2, 9)), bezier((11.2, 9), (10, 14), (10, 20), (12, 27)),
    bezier((12, 27), (6, 27.7), (3, 27.7), (0, 27.7)), straight((0, 27.7), (0, 4)),
)  # fmt: skip
SKIRT = (
    bezier((0, 0.6), (3, 0.6), (6, 0.3), (7, 0)), bezier((7, 0), (9, 5), (9.5, 8), (11, 24)),
    bezier((11, 24), (6, 24.8), (3, 24.8), (0, 24.8)), straight((0, 24.8), (0, 0.6)),
)  # fmt: skip
FACING = (
    straight((0, 8), (3.5, 0)), straight((3.5, 0), (6, 0.7)),
    bezier((6, 0.7), (5, 4), (3, 10), (0, 10.2)), straight((0, 10.2), (0, 8)),
)  # fmt: skip


class TestOtherShapes:
    """Pieces without cut-on sleeves are traced when their edges are named and their fold is pointed to."""

    @pytest.mark.parametrize(("curves", "names"), [
        (BODICE, ("neck", "shoulder", "armhole", "side", "hem")),
        (SKIRT, ("waist", "side", "hem")),
        (FACING, ("neck", "shoulder", "outer edge")),
    ])  # fmt: skip
    def test_named_and_pointed_to(self, curves: tuple[Curve, ...], names: tuple[str, ...]) -> None:
        fold = (curves[-1].start + curves[-1].end)[None] / 2
        (near,) = ON_TABLE.placed(fold)
        found = half_piece(self.ring(curves), noise_in=0.0, piece="panel", names=names, fold_near=near)
        assert names_of(found) == [*names, "centre"]
        made = np.stack([curve.start for curve in curves]) - (0, curves[1].start[1])
        assert corners_of(found.piece) == pytest.approx(made, abs=0.01)
        assert found.unsure == ()

    @pytest.mark.parametrize("curves", [BODICE, DROPPED])
    def test_an_armhole_is_no_sleeve_hem(self, curves: tuple[Curve, ...]) -> None:
        (near,) = ON_TABLE.placed(np.array([[0.0, 15.0]]))
        found = half_piece(self.ring(curves), noise_in=0.0, fold_near=near)
        assert {doubt.why for doubt in found.unsure} == {
            "the outline is unlike a garment with cut-on sleeves"
        }

    def test_unnamed(self) -> None:
        assert refused(self.ring(SKIRT)).endswith(
            "or, if the piece has another shape, name its edges in order from the fold's top"
        )

    @pytest.mark.parametrize("curves", [SKIRT, FACING])
    def test_named_but_not_pointed_to(self, curves: tuple[Curve, ...]) -> None:
        assert refused(self.ring(curves), names=("waist", "side", "hem")) == (
            "the outline is unlike a garment with cut-on sleeves, so it does not show which side is the fold; "
            "point to it"
        )

    def test_what_is_pointed_to_must_be_straight(self) -> None:
        (near,) = ON_TABLE.placed(np.array([[7.0, 6.0]]))
        assert refused(self.ring(BODICE), fold_near=near) == (
            "the side there is not straight from corner to corner, as a fold is; point to the fold, or smooth it "
            "along a ruler and trace again"
        )

    def test_corners_set_by_hand_end_edges_where_the_contour_has_none(self) -> None:
        set_at = ON_TABLE.placed(np.array([(7, 0), (9.35, 7.5), (11, 24)]))
        (near,) = ON_TABLE.placed(np.array([[0.0, 15.0]]))
        names = ("waist", "hip", "side", "hem")
        found = half_piece(self.ring(SKIRT), noise_in=0.0, names=names, fold_near=near, corners_in=set_at)
        assert names_of(found)[:4] == list(names)
        assert corners_of(found.piece)[1:4] == pytest.approx(ON_TABLE.lifted(set_at), abs=0.01)

    def ring(self, curves: tuple[Curve, ...]) -> Array:
        """The outline on the table."""
        return ON_TABLE.placed(np.concatenate([sampled(curve)[:-1] for curve in curves]))


# Symmetric about its diagonal: body and sleeve are alike.
TWO_FOLDS = polygon((0, 4), (4, 0), (22, 0), (22, 8), (11, 11), (8, 22), (0, 22))


def test_two_sides_that_could_be_the_fold_are_asked_about() -> None:
    sentence = refused(TWO_FOLDS)
    assert sentence.startswith("two sides could be the fold: 18 in from [")
    assert sentence.endswith("; point to the one that is the fold")


def test_names_do_not_say_which_side_is_the_fold() -> None:
    assert refused(TWO_FOLDS, names=EDGES).startswith("two sides could be the fold: ")


def test_names_for_every_corner_stand_in_for_a_garments_shape() -> None:
    found = half_piece(polygon((0, 0), (12, 0), (12, 20), (0, 20)), noise_in=0.0, fold_near=np.array([0.0, 9.0]),
                       names=("neck", "side", "hem", "centre"))  # fmt: skip
    assert names_of(found) == ["neck", "side", "hem", "centre"]
    assert sorted(curve.length_in for curve in closed_curves(found.piece.edges)) == pytest.approx(
        [12, 12, 20, 20], abs=0.002
    )


@pytest.mark.parametrize(("near", "hem_x"), [((0.5, 12.0), 8.0), ((12.0, 0.5), 8.0)])
def test_pointing_to_the_fold_answers(near: tuple[float, float], hem_x: float) -> None:
    found = half_piece(TWO_FOLDS, noise_in=0.0, fold_near=np.array(near))
    assert found.piece.edges[4].path[0].x.inches == pytest.approx(hem_x, abs=0.01)
    fold_on_table = found.placement.placed(np.array([[0.0, 9.0]]))[0]
    assert fold_on_table[np.argmin(near)] == pytest.approx(0, abs=0.01)


def test_what_is_no_contour_is_a_bug() -> None:
    with pytest.raises(ValueError, match="a contour must be"):
        half_piece(np.zeros((4, 3)), noise_in=0.0)
    with pytest.raises(ValueError, match="is no noise"):
        half_piece(garment(3).ring, noise_in=-1.0)


@pytest.mark.parametrize("unit", [Unit.IN, Unit.MM])
def test_traced_pieces_are_written_and_read_back_equal_and_drafted(tmp_path: Path, unit: Unit) -> None:
    pieces = []
    for name in ("front", "back"):
        seed = next(seed for seed in range(20) if garment(seed).back == (name == "back"))
        points = contour(garment(seed), lying(seed), seed)
        pieces.append(half_piece(points, noise_in=0.0, piece=name, unit=unit).piece)
    pattern = Pattern(name="Ferryman's smock", unit=unit, pieces=tuple(pieces))
    path = tmp_path / "smock.yaml"
    write_pattern(path, pattern)
    assert read_pattern(path) == pattern
    drafted = read_pattern(path).drafted()
    assert set(drafted.pieces) == {"front", "back"}
    assert apart_in(drafted.pieces["front"].seam_line, ring_of(pieces[0])) < 0.001
