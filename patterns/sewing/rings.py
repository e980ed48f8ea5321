"""How long an edge is once all pieces are sewn together: once round the body, or round each sleeve."""

from collections.abc import Iterator, Sequence
from itertools import product
from typing import NamedTuple

from scipy.cluster.hierarchy import DisjointSet

from patterns.changes import EdgeRef
from patterns.cutting.drafted import DraftedPiece
from patterns.parts import Kind
from patterns.sewing.garment import Garment


class _Cut(NamedTuple):
    """One of the cut pieces, or half of one on the fold."""

    piece: str
    copy: int
    side: str = ""


class Ring(NamedTuple):
    """Edges that go on into one another: their length together, and whether they close on themselves."""

    pieces: tuple[str, ...]
    length_in: float
    closed: bool


def rings_of(garment: Garment, edges: Sequence[EdgeRef]) -> tuple[Ring, ...]:
    """Each ring or run that the edges make once all pieces are sewn together, in their order."""
    pieces = garment.pattern.pieces
    cuts = {ref.piece: _cuts(pieces[ref.piece]) for ref in edges}
    sewn = DisjointSet([(ref, cut) for ref in edges for cut in cuts[ref.piece]])
    for one, two in _links(garment, edges):
        for a, b in _matched(cuts[one.piece], cuts[two.piece]):
            sewn.merge((one, a), (two, b))
    for ref in edges:
        if _meets_itself(garment, ref):
            for a, b in product(cuts[ref.piece], repeat=2):
                if a.copy == b.copy:
                    sewn.merge((ref, a), (ref, b))
    return tuple(_ring(garment, [ref for ref, _ in ring]) for ring in sewn.subsets())


def _ring(garment: Garment, refs: Sequence[EdgeRef]) -> Ring:
    order = list(garment.pattern.pieces)
    return Ring(
        pieces=tuple(sorted({ref.piece for ref in refs}, key=order.index)),
        length_in=sum(garment.edge(ref).length_in for ref in refs),
        closed=all(garment.crosses(beside) for ref in refs for beside in garment.neighbours(ref)),
    )


def _cuts(piece: DraftedPiece) -> tuple[_Cut, ...]:
    copies = range(piece.cut.count // 2 if piece.cut.mirrored else piece.cut.count)
    sides = ("left", "right") if piece.cut.on_fold or piece.cut.mirrored else ("",)
    return tuple(_Cut(piece.name, copy, side) for copy, side in product(copies, sides))


def _links(garment: Garment, edges: Sequence[EdgeRef]) -> Iterator[tuple[EdgeRef, EdgeRef]]:
    """Pairs of the edges that go on into one another across a seam."""
    for report in garment.pattern.joins:
        ends = report.join
        for one, two in product(edges, repeat=2):
            sewn_here = one.piece == ends.first.piece and two.piece == ends.second.piece
            if (
                sewn_here
                and ends.first.edge in garment.beside(one)
                and ends.second.edge in garment.beside(two)
            ):
                yield one, two


def _matched(first: Sequence[_Cut], second: Sequence[_Cut]) -> Iterator[tuple[_Cut, _Cut]]:
    """Left to left and right to right, which leaves each sleeve to itself; to pieces that have no side, all."""
    for a, b in product(first, second):
        if not (a.side and b.side) or (a.copy, a.side) == (b.copy, b.side):
            yield a, b


def _meets_itself(garment: Garment, ref: EdgeRef) -> bool:
    """Whether left and right go on into one another, across the fold or the centre seam."""
    piece, centre = garment.pattern.pieces[ref.piece], garment.centre_seams
    return any(
        piece.edges[name].kind is Kind.FOLD or EdgeRef(piece=ref.piece, edge=name) in centre
        for name in garment.beside(ref)
    )
