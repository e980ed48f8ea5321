"""What a drawing shows of one piece: its seam line, wherever that is drawn, told, or to be found from the cut line."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from patterns.curves import Array
from patterns.errors import PatternError
from patterns.exchange.drawn import DrawnPiece, Role, SaidEdge, counted
from patterns.exchange.drawn_outlines import Outlines, could_be_seam, outlines
from patterns.exchange.folded_walk import Walk, along_line, at_side, inset
from patterns.exchange.turns import kinks
from patterns.parts import Kind

NO_FOLD: Final = "none"
DENSE: Final = 5000  # points of an outline, more than chords of any piece's curves need
THINNED_IN: Final = 0.0001
MOST_KINKS: Final = 200  # of an outline: an edge may have some, such as a scalloped one
_ON_RING_IN: Final = 0.01  # of a place at which an edge is said to begin


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SeamOutline:
    """One piece on its seam line, in drawing inches, with what else the drawing has of it.

    `cut_line` (n, 2) is its cut line, closed, where both are drawn; `allowance_in` what lay outside the seam line where
    that was found from it. `grain` is (2, 2) and `notches` (k, 2).
    """

    drawn: DrawnPiece
    walk: Walk
    cut_line: Array | None = None
    allowance_in: float | None = None
    grain: Array | None = None
    notches: Array
    notes: tuple[str, ...] = ()

    @property
    def starts(self) -> tuple[tuple[SaidEdge, Array], ...]:
        """The edges that the drawing names, but for the fold, each with the place at which it begins."""
        return tuple((edge, place) for edge, place in self.drawn.starts if edge.kind is not Kind.FOLD)

    @property
    def fold(self) -> SaidEdge | None:
        """The fold, if the drawing names it."""
        return next((edge for edge, _ in self.drawn.starts if edge.kind is Kind.FOLD), None)


def seam_outline(piece: DrawnPiece, side: str | None, allowance_in: float | None) -> SeamOutline:
    """The piece on its seam line, its fold at so-named `side`, NO_FOLD for none, None for where the drawing says.

    With an allowance its outline is the cut line. Raises PatternError where it is not plain which line is meant.
    """
    found = outlines(piece.paths)
    seam, cut, left = _lines(found, allowance_in)
    notes = [f"{counted(left, 'outline')} within it left out"] if left else []
    walk, note = _folded(piece, found, _checked(seam), side)
    notes += note
    if allowance_in:
        walk = inset(walk, allowance_in)
    return SeamOutline(
        drawn=piece,
        walk=walk,
        cut_line=cut,
        allowance_in=allowance_in,
        grain=_grain(piece),
        notches=_notches(piece),
        notes=tuple(notes),
    )


def _checked(ring: Array) -> Array:
    """The outline with no more points than it needs; PatternError where it is as uneven as a scan."""
    if len(ring) > DENSE:
        thinner = shapely.simplify(shapely.LinearRing(ring), THINNED_IN)
        ring = shapely.get_coordinates(thinner)[:-1]
    uneven = int(kinks(ring)[1].sum())
    if uneven > MOST_KINKS:
        raise PatternError(
            f"its outline turns sharply at {uneven} places, as one that was scanned does; smooth it where it was "
            "drawn, or trace the piece from a photo"
        )
    return ring


def _lines(found: Outlines, allowance_in: float | None) -> tuple[Array, Array | None, int]:
    """The line to go by, closed, its cut line if that is another one, and how many outlines are left over."""
    seams, cuts, plain = map(found.largest_first, (Role.SEAM, Role.CUT, Role.UNSAID))
    if seams:
        if allowance_in:
            raise PatternError(
                "its seam line is drawn, from which --allowance would take more; leave that out"
            )
        rims = [*cuts, *plain]
        return seams[0], rims[0] if rims else None, len(seams) - 1 + len(plain) - (not cuts and bool(plain))
    if cuts:
        if allowance_in is None:
            raise PatternError(
                "only its cut line is there; say with --allowance what lies outside the seam line, 0 for nothing"
            )
        return cuts[0], None, len(plain)
    if not plain:
        raise PatternError("it has no closed outline; close its lines, or join those whose ends lie apart")
    if len(plain) > 1 and allowance_in is None and could_be_seam(plain[1], plain[0]):
        return plain[1], plain[0], len(plain) - 2
    return plain[0], None, len(plain) - 1


def _folded(piece: DrawnPiece, found: Outlines, ring: Array, side: str | None) -> tuple[Walk, list[str]]:
    """The ring with its fold, as the person or the drawing says; and what to look at."""
    said = _said_fold(piece, ring)
    if side == NO_FOLD:
        return Walk(points=ring), []
    if side is not None:
        return at_side(ring, side), []
    if said is not None:
        return said, []
    walk = along_line(ring, found.folds)
    if walk is None and found.folds:
        return Walk(points=ring), ["its fold line runs along no side of it, so it is taken as a whole piece"]
    return walk or Walk(points=ring), []


def _said_fold(piece: DrawnPiece, ring: Array) -> Walk | None:
    """The ring from where the edge after the fold begins on to where the fold begins, if the drawing names them."""
    kinds = [edge.kind for edge, _ in piece.starts]
    if Kind.FOLD not in kinds or len(kinds) < 2:
        return None
    fold = kinds.index(Kind.FOLD)
    first, last = (nearest(ring, piece.starts[i % len(kinds)][1]) for i in (fold + 1, fold))
    if first is None or last is None or first == last:
        return None
    count = (last - first) % len(ring)
    return Walk(points=ring[np.arange(first, first + count + 1) % len(ring)], folded=True)


def nearest(points: Array, place: Array) -> int | None:
    """The number of the point (n, 2) at a place (2,), None where none is."""
    apart = np.hypot(*(points - place).T)
    number = int(np.argmin(apart))
    return number if apart[number] <= _ON_RING_IN else None


def _grain(piece: DrawnPiece) -> Array | None:
    """(2, 2) the longest of its lines for the grain, which may have arrowheads."""
    lines = [path.points[[0, -1]] for path in piece.paths if path.role is Role.GRAIN and not path.closed]
    return max(lines, key=lambda ends: float(np.hypot(*(ends[1] - ends[0]))), default=None)


def _notches(piece: DrawnPiece) -> Array:
    """(k, 2) the middle of each notch, whatever it is drawn as."""
    places = [path.points.mean(axis=0) for path in piece.paths if path.role is Role.NOTCH]
    return np.array(places).reshape(-1, 2)
