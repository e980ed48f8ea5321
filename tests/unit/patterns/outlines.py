"""Garments traced for tests, and what they are held against."""

from functools import cache

import numpy as np
import pytest
import shapely

from patterns import PatternError, Placement
from patterns.curves import Array, Curve
from patterns.piece import Piece, closed_curves
from patterns.tracing.outline import TracedPiece, half_piece
from tests.unit.patterns.garments import (
    Garment,
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


def truth_corners(one: Garment) -> Array:
    return np.asarray(one.corners - one.corners[1] * (0, 1), dtype=np.float64)
