"""The contour of a piece without a fold on the table -> the whole piece with named edges on its seam line."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from patterns.curves import Array
from patterns.cutting.placement import Placement
from patterns.errors import PatternError
from patterns.measures import Unit
from patterns.parts import CutCount, Edge
from patterns.piece import Piece
from patterns.saying import Say
from patterns.tracing.contour import Contour
from patterns.tracing.corner_finding import FoundCorner, find_corners, given_corners
from patterns.tracing.curve_fitting import Fitted, fitted, tolerance_for
from patterns.tracing.outline import TracedPiece, warnings_of
from patterns.tracing.traced_edges import closely_enough, edge_of, kind_of, traced_between


def whole_piece(
    contour_in: Array,
    *,
    noise_in: float,
    piece: str,
    names: Sequence[str] | None = None,
    corners_in: Array | None = None,
    hidden_in: Array | None = None,
    unit: Unit = Unit.IN,
) -> TracedPiece:
    """The piece without a fold whose closed contour, (n, 2) table inches, was traced with noise `noise_in`.

    It is drawn as it lies, its y down from its highest corner and its x from its leftmost. `names` are the
    edges' clockwise from that corner which is nearest to the top left; the rest as for `half_piece`.

    Raises PatternError if the contour is too small or crosses itself, or if there are not as many names as edges.
    """
    contour = Contour.read(contour_in, noise_in, hidden_in)
    corners = find_corners(contour) if corners_in is None else given_corners(contour, corners_in)
    names = names or ()
    if len(names) != len(corners) or len(corners) < 2:
        raise PatternError(
            f"{len(names)} names for the edges, where {len(corners)} corners were found; name the edges from corner "
            "to corner, clockwise from the one at the top left as the piece lies, or set the corners"
        )
    placement, walked = _from_top_left(corners)

    def made(aim_in: float) -> tuple[tuple[Edge, ...], float]:
        fits = [_fit(contour, placement, one, two, aim_in) for one, two in pairwise([*walked, walked[0]])]
        edges = (edge_of(name, kind_of(name), [fit], unit) for name, fit in zip(names, fits, strict=True))
        return tuple(edges), max(fit.stray_in for fit in fits)

    edges, farthest = closely_enough(contour.waves_in, made)
    tolerance = tolerance_for(contour.waves_in)
    return TracedPiece(
        piece=Piece(name=piece, cut=CutCount(), edges=edges),
        placement=placement,
        fold_straightness_in=0.0,
        farthest_in=farthest,
        tolerance_in=tolerance,
        unsure=(),
        warnings=warnings_of(0.0, farthest, tolerance, Say(unit)),
    )


def _from_top_left(corners: tuple[FoundCorner, ...]) -> tuple[Placement, list[FoundCorner]]:
    """How the piece lies, and its corners clockwise from that at its top left."""
    places = np.stack([corner.place for corner in corners])
    placement = Placement(x_in=float(places[:, 0].min()), y_in=float(places[:, 1].max()))
    first = int(np.argmin(placement.lifted(places).sum(axis=1)))
    return placement, [*corners[first::-1], *corners[:first:-1]]


def _fit(contour: Contour, placement: Placement, one: FoundCorner, two: FoundCorner, aim_in: float) -> Fitted:
    """The contour from a corner on to the next one clockwise, against its walk, in piece inches."""
    last = one.along_in if one.along_in > two.along_in else one.along_in + contour.length_in
    points, _ = traced_between(contour, two.along_in, last)
    start, end = placement.lifted(np.stack([one.place, two.place]))
    return fitted(placement.lifted(points)[::-1], start, end, aim_in=aim_in, waves_in=contour.waves_in)
