"""The contour of a folded garment on the table -> a half piece with named edges on its seam line."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from patterns.curves import Array
from patterns.cutting.placement import Placement
from patterns.measures import Unit
from patterns.parts import CutCount
from patterns.piece import Piece
from patterns.saying import Say
from patterns.tracing.contour import Contour
from patterns.tracing.corner_finding import find_corners, given_corners
from patterns.tracing.curve_fitting import tolerance_for
from patterns.tracing.edge_names import NAMES, fold_name
from patterns.tracing.fold_choice import bumps, chosen_reading, likeliest_fold
from patterns.tracing.fold_line import STRAIGHT_IN, pointed_side, straight_sides
from patterns.tracing.traced_edges import TracedEdges

_BUMP: Final = "has a sharp hollow, as where something lies over it; look there, and trace again without it"


@dataclass(frozen=True, slots=True, kw_only=True)
class Unsure:
    """An edge whose name should be asked for, and why, as the end of a sentence."""

    edge: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TracedPiece:
    """A half piece from a contour, and how it was found.

    `placement` brings the piece back on to the table where the garment lies. `fold_straightness_in` is how far
    the traced fold strays from its line; `farthest_in` how far the fitted edges lie from the contour at most,
    the fold and the noise left out, to be within `tolerance_in`. A piece without a fold strays by 0.
    """

    piece: Piece
    placement: Placement
    fold_straightness_in: float
    farthest_in: float
    tolerance_in: float
    unsure: tuple[Unsure, ...]
    warnings: tuple[str, ...]


def half_piece(
    contour_in: Array,
    *,
    noise_in: float,
    piece: str = "front",
    names: Sequence[str] | None = None,
    corners_in: Array | None = None,
    fold_near: Array | None = None,
    hidden_in: Array | None = None,
    unit: Unit = Unit.IN,
) -> TracedPiece:
    """The half piece whose closed contour, (n, 2) table inches, was traced with one-sigma noise `noise_in`.

    The contour may be walked either way, the garment lie at any angle and with either face up. `names` are
    the edges' in order from the fold's top, the fold's last or left out; `corners_in` (k, 2) are corners that
    a person has set, in place of those found; `fold_near` (2,) is a point at the side that is the fold;
    `hidden_in` (k, 2, 2) are both ends of each stretch of the contour that is a guess, since something lay over
    it: it makes no corner, and the fold is judged without it.

    Raises PatternError if the contour is too small or crosses itself, if no side or two sides could be the
    fold, if corners are missing, or if there are more or fewer names than edges.
    """
    contour = Contour.read(contour_in, noise_in, hidden_in)
    found = find_corners(contour)
    corners = found if corners_in is None else given_corners(contour, corners_in)
    fold_named = fold_name(piece)
    if names is not None and names[-1].startswith("centre"):
        *names, fold_named = names
    if fold_near is None:
        fold = likeliest_fold(contour, straight_sides(contour, found), corners, names)
    else:
        fold = pointed_side(contour, found, fold_near)
    reading, doubts = chosen_reading(contour, fold, corners, names)
    traced = TracedEdges(contour=contour, reading=reading)
    edges, farthest = traced.edges((*(names or NAMES), fold_named), unit)
    tolerance = tolerance_for(contour.waves_in)
    straightness = reading.fold.scatter_in
    return TracedPiece(
        piece=Piece(name=piece, cut=CutCount(on_fold=True), edges=edges),
        placement=traced.placement,
        fold_straightness_in=straightness,
        farthest_in=farthest,
        tolerance_in=tolerance,
        unsure=() if names else tuple(Unsure(edge=edge, why=why) for edge, why in doubts),
        warnings=(
            *warnings_of(straightness, farthest, tolerance, Say(unit)),
            *(f"the {edge} {_BUMP}" for edge in (() if names else bumps(reading))),
        ),
    )


def warnings_of(straightness_in: float, farthest_in: float, tolerance_in: float, say: Say) -> tuple[str, ...]:
    """What to look at in a traced piece."""
    found = []
    if straightness_in > STRAIGHT_IN:
        found.append(
            f"the fold strays {say.beyond(STRAIGHT_IN, straightness_in, 32)} from straight, more than "
            f"{say(STRAIGHT_IN)}; smooth it along a ruler and trace again, or the piece's width will be off by "
            "twice that"
        )
    if farthest_in > tolerance_in:
        found.append(
            f"the fitted edges lie up to {say(farthest_in, 64)} from the contour; look at the outline on "
            "the garment, and pull the points that are off"
        )
    return tuple(found)
