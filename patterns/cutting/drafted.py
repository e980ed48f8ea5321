"""Drafted pieces: seam line, cut line, edges, notches and grain in inches, ready to be laid and shown."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from patterns.changes import Draft, Strip
from patterns.checks.allowances import allowance_warnings
from patterns.checks.joins import JoinReport, join_reports
from patterns.checks.truing import junctions, off_square
from patterns.curves import Array, Curve
from patterns.cutting.clips import clips_of
from patterns.cutting.notches import DraftedNotch, drafted_notches, near_corners, unmatched
from patterns.cutting.seams import cut_line
from patterns.cutting.slips import check_allowances
from patterns.errors import PatternError
from patterns.measures import Unit
from patterns.parts import CutCount, Kind
from patterns.saying import Say, lengths_said_in
from patterns.shape import REMEMBERED, Shape, ShapeEdge, crosses_itself, signed_area


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DraftedEdge:
    """One edge on the seam line: `points` (n, 2) inches, its exact length, its whole allowance.

    `folds_in` are the allowance's parts: two of a hem that is folded twice.
    """

    name: str
    kind: Kind
    points: Array
    allowance_in: float
    folds_in: tuple[float, ...]
    curve: Curve

    @property
    def length_in(self) -> float:
        """Inches along it."""
        return self.curve.length_in


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DraftedPiece:
    """A piece in inches: x from the centre line, y down from the high shoulder point as it was traced.

    `seam_line` and `cut_line` (n, 2) are closed, the last point not repeating the first. With a fold, both
    begin at the fold's end and close along the fold, the cut line with x = 0 exactly at its first and last
    points. `clips` (2, 2) run from the cut edge to just short of the stitching, at corners that turn in.
    """

    name: str
    cut: CutCount
    seam_line: Array
    cut_line: Array
    edges: Mapping[str, DraftedEdge]
    notches: tuple[DraftedNotch, ...]
    clips: tuple[Array, ...]
    grain: Array | None

    @property
    def fold(self) -> DraftedEdge | None:
        """The fold edge, if the piece has one."""
        return next((edge for edge in self.edges.values() if edge.kind is Kind.FOLD), None)

    @property
    def area_in2(self) -> float:
        """Square inches within the cut line, of the piece as drawn (half of one on the fold)."""
        return abs(signed_area(self.cut_line))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DraftedPattern:
    """All drafted pieces in order, strips to cut beside them, how joined edges compare, what to look at again.

    Everything is in inches; `unit` is the author's, in which lengths are said.
    """

    name: str
    pieces: Mapping[str, DraftedPiece]
    joins: tuple[JoinReport, ...]
    warnings: tuple[str, ...]
    strips: tuple[Strip, ...] = ()
    unit: Unit = Unit.IN

    @property
    def say(self) -> Say:
        """Lengths in the author's unit."""
        return Say(self.unit)

    @classmethod
    def of(cls, name: str, draft: Draft, unit: Unit) -> "DraftedPattern":
        """The draft's pieces with all that is cut from them."""
        say = Say(unit)
        with lengths_said_in(unit):
            pieces = {shape.name: drafted_piece(shape) for shape in draft.shapes}
        joins = join_reports(draft, unit)
        warnings = [note(say) for note in draft.notes]
        warnings += filter(None, (report.warning for report in joins))
        warnings += allowance_warnings(draft, say)
        warnings += [warning for shape in draft.shapes for warning in near_corners(shape, say)]
        warnings += unmatched(draft)
        warnings += filter(None, (junction.warning for junction in junctions(draft)))
        warnings += off_square(draft, say)
        return cls(
            name=name,
            pieces=MappingProxyType(pieces),
            joins=joins,
            warnings=tuple(warnings),
            strips=draft.strips,
            unit=unit,
        )


@lru_cache(maxsize=REMEMBERED)
def drafted_piece(shape: Shape) -> DraftedPiece:
    """The shape with its allowances, notches and clips; PatternError where they cannot fit.

    The very same shape gives the very same piece, so that its marks too are made once.
    """
    if crossed := crosses_itself(shape):
        raise PatternError(f"{shape.name}: {' and '.join(crossed)} cross after the changes; undo one")
    check_allowances(shape)
    if shape.fold is not None:
        shape = shape.starting((shape.fold + 1) % len(shape.edges))
    cut = cut_line(shape)
    cut.setflags(write=False)
    return DraftedPiece(
        name=shape.name,
        cut=shape.cut,
        seam_line=shape.ring,
        cut_line=cut,
        edges=MappingProxyType({edge.name: _drafted_edge(edge) for edge in shape.edges}),
        notches=drafted_notches(shape),
        clips=clips_of(shape, cut),
        grain=shape.grain_in,
    )


@lru_cache(maxsize=REMEMBERED)
def _drafted_edge(edge: ShapeEdge) -> DraftedEdge:
    return DraftedEdge(
        name=edge.name,
        kind=edge.kind,
        points=edge.curve.points,
        allowance_in=edge.width_in,
        folds_in=edge.allowance_in,
        curve=edge.curve,
    )
