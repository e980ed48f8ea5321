from dataclasses import replace

import numpy as np
import pytest
import shapely

from patterns import PatternError, example, read_pattern
from patterns.curves import Array
from patterns.measures import Length
from patterns.parts import Edge, Kind
from patterns.piece import Piece, closed_curves, in_inches
from patterns.tracing.averaging import averaged
from patterns.tracing.outline import half_piece
from patterns.tracing.smoothing import pulled
from patterns.tracing.traced_edges import path_of
from tests.unit.patterns.garments import contour, garment, lying

FRONT = read_pattern(example("harbour overtop")).pieces[0]


def stretched(piece: Piece, x: float, y: float) -> Piece:
    """The piece so many times wider and longer."""

    def edge(one: Edge) -> Edge:
        return replace(one, path=path_of(in_inches(one.path) * (x, y), one.path[0].x.unit))

    notches = tuple(replace(notch, at=Length.of(notch.at.inches * 0.9)) for notch in piece.notches)
    return replace(piece, edges=tuple(edge(one) for one in piece.edges), notches=notches)


def ring_of(piece: Piece) -> Array:
    return np.concatenate([curve.points[:-1] for curve in closed_curves(piece.edges)])


def half(width: float) -> Piece:
    """A half piece that wide all the way down."""
    return stretched(replace(FRONT, notches=()), width / 11.2, 1.0)


def test_23_halves_of_19_8_and_20_2_average_to_20_and_warn() -> None:
    """Plain geometry: their mean is 20.0; they differ by 0.4, more than 1/4 (common practice)."""
    found = averaged(half(19.8), half(20.2))
    hem = found.piece.edges[4].path[0]
    assert hem.x.inches == pytest.approx(20.0, abs=0.001)
    assert any(
        warning.startswith(
            "hem: the two traces lie 3/8 in apart 0 in along it, more than 1/4 in; trace the worse"
        )
        for warning in found.warnings
    )


def test_halves_a_quarter_apart_are_averaged_without_a_word() -> None:
    found = averaged(FRONT, stretched(FRONT, 1.01, 1.0))
    assert found.apart_in == pytest.approx(0.155, abs=0.005)
    assert (found.edge, found.along_in) == ("sleeve hem", 0.0)  # the widest place
    assert found.warnings == ()


def test_every_point_lies_half_way() -> None:
    """Of a piece and the same stretched, the average is the piece stretched half as much."""
    found = averaged(FRONT, stretched(FRONT, 1.02, 1.01))
    between = shapely.LinearRing(ring_of(stretched(FRONT, 1.01, 1.005)))
    strays = shapely.distance(between, shapely.points(ring_of(found.piece)))
    assert strays.max() < 1 / 64
    assert [edge.name for edge in found.piece.edges] == [edge.name for edge in FRONT.edges]
    assert [edge.kind for edge in found.piece.edges] == [edge.kind for edge in FRONT.edges]
    fold = next(edge for edge in found.piece.edges if edge.kind is Kind.FOLD)
    assert {point.x.exact_inches for point in fold.path} == {0}


def test_a_piece_with_itself_is_itself() -> None:
    found = averaged(FRONT, FRONT)
    strays = shapely.distance(shapely.LinearRing(ring_of(FRONT)), shapely.points(ring_of(found.piece)))
    assert found.apart_in == 0
    assert strays.max() < 1 / 64
    assert found.piece.notches == FRONT.notches


def test_two_traces_of_one_garment_average_nearer_to_it() -> None:
    one = garment(3)
    left, right = (
        half_piece(contour(one, lying(seed), seed, white_in=0.02), noise_in=0.02).piece for seed in (31, 32)
    )
    found = averaged(left, right)
    truth = shapely.LinearRing(one.ring - one.corners[1] * (0, 1))
    shapely.prepare(truth)
    off, *offs = (
        float(np.square(shapely.distance(truth, shapely.points(ring_of(piece)))).mean())
        for piece in (found.piece, left, right)
    )
    assert 0 < found.apart_in < 1 / 8
    assert found.warnings == ()
    assert off < max(offs)


def test_it_says_where_the_two_part() -> None:
    side = FRONT.edges[3]
    under = in_inches((side.path[3],))[0]
    other = pulled(FRONT, "side", under, under + (-0.5, 0.0))
    (warning,) = averaged(FRONT, other).warnings
    assert warning.startswith("side: the two traces lie ")
    assert warning.endswith(
        " apart 5 in along it, more than 1/4 in; trace the worse half again, or use the better one"
    )


def test_pieces_with_other_edges_are_refused() -> None:
    other = replace(FRONT, edges=(replace(FRONT.edges[0], name="collar"), *FRONT.edges[1:]), notches=())
    with pytest.raises(PatternError) as refused:
        averaged(FRONT, other)
    assert str(refused.value).startswith(
        "two traces with edges neck, overarm, sleeve hem, side, hem, centre front"
    )
    assert str(refused.value).endswith(
        "both need the same edges in the same order, so name those of one again"
    )
