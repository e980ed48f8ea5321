"""A piece whose outline is taken anew: what was authored on its edges stays where the edge's name does."""

from dataclasses import replace

from patterns.parts import Edge, Kind
from patterns.piece import Piece


def retraced(old: Piece, new: Piece) -> Piece:
    """The old piece on the new one's outline.

    Its cut count, grain and notches stay, and of edges that have the same name their kind, allowance and corner.
    Raises PatternError where a notch is left without its edge, or lies beyond its end.
    """
    known = {edge.name: edge for edge in old.edges}
    edges = [_kept(known.get(edge.name), edge) for edge in new.edges]
    return replace(old, edges=tuple(_begun_at(edges, old.edges[0].name)))


def _kept(old: Edge | None, new: Edge) -> Edge:
    if old is None or (old.kind is Kind.FOLD) != (new.kind is Kind.FOLD):
        return new
    return replace(old, path=new.path, bend=new.bend)


def _begun_at(edges: list[Edge], name: str) -> list[Edge]:
    """The edges in the same order round, from the one so named on where there is one."""
    first = next((i for i, edge in enumerate(edges) if edge.name == name), 0)
    return edges[first:] + edges[:first]
