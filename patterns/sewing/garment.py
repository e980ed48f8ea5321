"""A drafted pattern as it is sewn: its facings, its seams in their order, and the edges that nothing is sewn to."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from patterns.changes import EdgeRef
from patterns.checks.joins import JoinReport
from patterns.checks.truing import NECK, facings_of_necks
from patterns.cutting.drafted import DraftedEdge, DraftedPattern, DraftedPiece
from patterns.cutting.finish import Finish
from patterns.parts import Kind
from patterns.saying import Say

CENTRE: Final = ("centre", "center", "crotch")
ALONG_CENTRE_IN: Final = 1 / 4  # off the centre line, and an edge of any name is the centre seam


@dataclass(frozen=True, kw_only=True, eq=False)
class Garment:
    """A drafted pattern and its finish, as the card asks for them."""

    pattern: DraftedPattern
    finish: Finish

    @property
    def say(self) -> Say:
        """Lengths in the pattern's own unit."""
        return self.pattern.say

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
        """The seams of the garment itself: those at the neck first, those that go round others last."""
        own = (
            report
            for report in self.pattern.joins
            if not {report.join.first.piece, report.join.second.piece} & self.facings.keys()
        )
        return tuple(sorted(own, key=self.turn_of))

    def turn_of(self, report: JoinReport) -> int:
        """0 for a seam that begins at a neck, 2 for one that crosses others at both its ends, else 1."""
        ends = (report.join.first, report.join.second)
        if any(NECK in self.beside(ref) and ref.edge != NECK for ref in ends):
            return 0
        return 2 if any(map(self.goes_round, ends)) else 1

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
        joined = (ref for report in self.pattern.joins for ref in (report.join.first, report.join.second))
        return self.has_strip(piece, edge) or any((ref.piece, ref.edge) == (piece, edge) for ref in joined)

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

    def crosses(self, ref: EdgeRef) -> bool:
        """Whether a seam or a fold runs there, which a seam round the garment goes across."""
        return self.edge(ref).kind is Kind.FOLD or (
            self.edge(ref).kind is Kind.SEAM
            and (self.is_sewn(ref.piece, ref.edge) or _is_centre(self.edge(ref)))
        )


def _is_centre(edge: DraftedEdge) -> bool:
    return edge.name.startswith(CENTRE) or bool(abs(edge.points[:, 0]).max() <= ALONG_CENTRE_IN)
