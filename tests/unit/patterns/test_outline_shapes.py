"""What is refused, doubted or asked about; and garments of other shapes, once they are named."""

import math
from pathlib import Path

import numpy as np
import pytest

from patterns import Pattern, Placement, Unit, read_pattern, write_pattern
from patterns.curves import Array, Curve
from patterns.parts import Bend
from patterns.piece import closed_curves
from patterns.tracing.contour import Contour
from patterns.tracing.corner_finding import find_corners
from patterns.tracing.outline import half_piece
from tests.unit.patterns.garments import (
    EDGES,
    bezier,
    contour,
    garment,
    lying,
    sampled,
)
from tests.unit.patterns.outlines import (
    MM,
    ON_TABLE,
    apart_in,
    corners_of,
    names_of,
    polygon,
    refused,
    ring_of,
    straight,
    traced,
    truth_corners,
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
        "the contour crosses or touches itself near [5.00 in, 10.00 in] on the table; lay the garment so that no "
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
