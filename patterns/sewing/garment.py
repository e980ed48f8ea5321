"""A drafted pattern as it is sewn: its facings, its seams in their order, and the edges that nothing is sewn to."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import IntEnum
from functools import cached_property

from scipy.cluster.hierarchy import DisjointSet

from patterns.changes import EdgeRef
from patterns.checks.joins import JoinReport
from patterns.checks.truing import NECK, facings_of_necks
from patterns.cutting.drafted import DraftedEdge, DraftedPattern, DraftedPiece
from patterns.cutting.finish import Finish, Gauge, gauge
from patterns.parts import Kind
from patterns.saying import Say
from patterns.shape import is_centre_seam


class Turn(IntEnum):
    """When a seam is sewn: in this order."""

    COLLAR = 0  # within a collar, before it is sewn to anything
    FROM_NECK = 1
    COLLAR_ON = 2
    BETWEEN = 3
    ROUND = 4  # across others at both its ends


@dataclass(frozen=True, kw_only=True, eq=False)
class Garment:
    """A drafted pattern and its finish, as the card asks for them."""

    pattern: DraftedPattern
    finish: Finish

    @property
    def say(self) -> Say:
        """Lengths in the pattern's own unit."""
        return self.pattern.say

    @property
    def gauge(self) -> Gauge:
        """The widths that finishes are sewn with, for who measures in that unit."""
        return gauge(self.pattern.unit)

    @cached_property
    def facings(self) -> Mapping[str, DraftedPiece]:
        """The pieces that are sewn to a neck, by name."""
        names = facings_of_necks(report.join for report in self.pattern.joins)
        return {name: piece for name, piece in self.pattern.pieces.items() if name in names}

    @property
    def faced(self) -> tuple[JoinReport, ...]:
        """The seams of necks to their facings."""
        return tuple(
            report
            for report in self.pattern.joins
            if report.join.second.piece in self.facings and report.join.second.edge == NECK
        )

    @property
    def seams(self) -> tuple[JoinReport, ...]:
        """The seams of the garment itself, in the order in which they are sewn."""
        own = (
            report
            for report in self.pattern.joins
            if not {report.join.first.piece, report.join.second.piece} & self.facings.keys()
        )
        return tuple(sorted(own, key=self.turn_of))

    def turn_of(self, report: JoinReport) -> Turn:
        """When that seam is sewn."""
        ends = (report.join.first, report.join.second)
        of_collar = [ref.piece in self.collar for ref in ends]
        if all(of_collar):
            return Turn.COLLAR
        if any(of_collar):
            return Turn.COLLAR_ON
        if any(NECK in self.beside(ref) and ref.edge != NECK for ref in ends):
            return Turn.FROM_NECK
        return Turn.ROUND if any(map(self.goes_round, ends)) else Turn.BETWEEN

    @cached_property
    def collar(self) -> frozenset[str]:
        """The pieces that hang together with the others by a seam at the neck alone: a collar and its under side."""
        hang, at_neck = DisjointSet(self.pattern.pieces), set()
        for report in self.pattern.joins:
            ends = (report.join.first, report.join.second)
            if any(ref.edge == NECK for ref in ends):
                at_neck |= {ref.piece for ref in ends if ref.edge != NECK}
            else:
                hang.merge(*(ref.piece for ref in ends))
        bodies = [name for name, piece in self.pattern.pieces.items() if NECK in piece.edges]
        return frozenset(
            name
            for name in self.pattern.pieces
            if any(hang.connected(name, sewn_on) for sewn_on in at_neck)
            and not any(hang.connected(name, body) for body in bodies)
        )

    def goes_round(self, ref: EdgeRef) -> bool:
        """Whether a seam or a fold runs into it at both its ends, so that these are sewn first."""
        return all(map(self.crosses, self.neighbours(ref)))

    @property
    def centre_seams(self) -> tuple[EdgeRef, ...]:
        """Edges along the centre of pieces that are cut as a pair, which are sewn to one another there."""
        return tuple(
            EdgeRef(piece=piece.name, edge=edge.name)
            for piece in self.pattern.pieces.values()
            for edge in piece.edges.values()
            if piece.cut.mirrored and edge.kind is Kind.SEAM and _is_centre(edge)
            if not self.is_sewn(piece.name, edge.name)
        )

    @property
    def bare(self) -> Iterator[tuple[DraftedPiece, DraftedEdge]]:
        """Edges with a seam's allowance that no other piece is sewn to."""
        centre = {str(ref) for ref in self.centre_seams}
        for piece in self.pattern.pieces.values():
            for edge in piece.edges.values():
                seam = edge.kind is Kind.SEAM and piece.name not in self.facings
                if (
                    seam
                    and not self.is_sewn(piece.name, edge.name)
                    and f"{piece.name}/{edge.name}" not in centre
                ):
                    yield piece, edge

    def is_sewn(self, piece: str, edge: str) -> bool:
        """Whether another piece, a facing or a strip is sewn to the edge."""
        return self.has_strip(piece, edge) or self.is_joined(EdgeRef(piece=piece, edge=edge))

    def is_joined(self, ref: EdgeRef) -> bool:
        """Whether another piece or a facing is sewn to the edge."""
        return any(ref in (report.join.first, report.join.second) for report in self.pattern.joins)

    def has_strip(self, piece: str, edge: str) -> bool:
        """Whether a binding or a band is sewn to the edge."""
        return any(EdgeRef(piece=piece, edge=edge) in strip.edges for strip in self.pattern.strips)

    def edge(self, ref: EdgeRef) -> DraftedEdge:
        """The edge that is meant."""
        return self.pattern.pieces[ref.piece].edges[ref.edge]

    def caught_in(self, seam: JoinReport) -> tuple[EdgeRef, ...]:
        """The ends of facings that are sewn in one with a seam of their garment's: two, or one beside a bare neck."""
        facings = ((report.join.first.piece, self.facings[report.join.second.piece]) for report in self.faced)
        return tuple(
            EdgeRef(piece=facing.name, edge=ref.edge)
            for garment, facing in facings
            for ref in (seam.join.first, seam.join.second)
            if ref.piece == garment and ref.edge in facing.edges and ref.edge != NECK
        )

    def beside(self, ref: EdgeRef) -> tuple[str, str]:
        """The names of the edges before and after."""
        names = list(self.pattern.pieces[ref.piece].edges)
        at = names.index(ref.edge)
        return names[at - 1], names[(at + 1) % len(names)]

    def neighbours(self, ref: EdgeRef) -> tuple[EdgeRef, EdgeRef]:
        """The edges before and after."""
        before, after = self.beside(ref)
        return EdgeRef(piece=ref.piece, edge=before), EdgeRef(piece=ref.piece, edge=after)

    def is_across_fold(self, ref: EdgeRef) -> bool:
        """Whether the edge goes on across the fold, so that it is sewn whole."""
        return any(self.edge(beside).kind is Kind.FOLD for beside in self.neighbours(ref))

    def whole_in(self, ref: EdgeRef) -> float:
        """Inches of the edge in one run: twice its half where it goes on across the fold."""
        return self.edge(ref).length_in * (2 if self.is_across_fold(ref) else 1)

    def crosses(self, ref: EdgeRef) -> bool:
        """Whether a seam or a fold runs there, which a seam round the garment goes across."""
        return self.edge(ref).kind is Kind.FOLD or (
            self.edge(ref).kind is Kind.SEAM and (self.is_joined(ref) or _is_centre(self.edge(ref)))
        )


def _is_centre(edge: DraftedEdge) -> bool:
    return is_centre_seam(edge.name, edge.points)
