"""The edges of a garment that no seam takes up: raw edges, hems, and what is still to be finished."""

from collections.abc import Iterator
from typing import Final

from patterns.changes import EdgeRef
from patterns.changes.facings import JOINING_IN
from patterns.cutting.drafted import DraftedEdge, DraftedPiece
from patterns.cutting.finish import HemFinish, SeamFinish
from patterns.parts import Kind
from patterns.sewing.garment import Garment
from patterns.sewing.rings import Ring, rings_of
from patterns.sewing.step import Step, edge_of, listed

_EDGED: Final = {
    SeamFinish.OVERLOCKED: "overlock",
    SeamFinish.OVERCAST: "overcast with a zigzag stitch",
    SeamFinish.BOUND: "bind with a strip of bias cloth",
    SeamFinish.FRENCH: "overcast by hand or with a zigzag stitch",
}


def raw_edges(garment: Garment) -> Iterator[Step]:
    """A step for all edges that are finished singly, which is easiest while the pieces lie flat."""
    ways: dict[str, list[str]] = {}
    for piece in garment.pattern.pieces.values():
        for edge in piece.edges.values():
            if way := _way(garment, piece, edge):
                ways.setdefault(way, []).append(edge_of(piece.name, _called(garment, piece, edge)))
    if ways:
        yield Step(
            title="Finish the single edges while the pieces lie flat",
            says=tuple(f"{way[0].upper()}{way[1:]}: {', '.join(edges)}." for way, edges in ways.items()),
        )


def _way(garment: Garment, piece: DraftedPiece, edge: DraftedEdge) -> str:
    """How a single edge is finished; empty for one that a seam, a strip or a double hem takes up."""
    if garment.has_strip(piece.name, edge.name):
        return ""
    if edge.kind is Kind.EDGE and edge.allowance_in > 0:
        return f"turn under by {garment.say.allowance(edge.allowance_in)} and edge-stitch"
    single = edge.kind is Kind.HEM and edge.allowance_in > 0 and not _is_double(garment, edge)
    if not single and edge.kind is not Kind.EDGE:
        return ""
    wide = (
        f" {garment.say(garment.gauge.strip.inches)} wide" if garment.finish.seam is SeamFinish.BOUND else ""
    )
    return f"{_EDGED[garment.finish.seam]}{wide}"


def _called(garment: Garment, piece: DraftedPiece, edge: DraftedEdge) -> str:
    """The edge, with the length of the strip where it is bound."""
    called = edge.name if edge.kind is Kind.HEM else f"{edge.name} edge"
    if garment.finish.seam is not SeamFinish.BOUND or (edge.kind is Kind.EDGE and edge.allowance_in > 0):
        return called
    whole_in = garment.whole_in(EdgeRef(piece=piece.name, edge=edge.name))
    return f"{called} {garment.say(whole_in + JOINING_IN)} long"


def bare_edges(garment: Garment) -> Iterator[Step]:
    """A step for seams' allowances that nothing is sewn to."""
    say = garment.say
    listed = [
        f"{edge_of(piece.name, edge.name)}, {say(edge.length_in)} {_to_turn(garment, edge)}."
        for piece, edge in garment.bare
    ]
    if listed:
        yield Step(
            title="Finish what nothing is sewn to",
            lengths=tuple(listed),
            says=(
                "The pattern joins no piece, facing or binding to these: face or bind them, or turn the allowance "
                "under, before they stretch.",
            ),
        )


def _to_turn(garment: Garment, edge: DraftedEdge) -> str:
    if not edge.allowance_in:
        return "cut on the seam line"
    return f"with {garment.say.allowance(edge.allowance_in)} to turn"


def hems(garment: Garment) -> Iterator[Step]:
    """A step a name of hem that is turned up: its length all round, from the pieces that have it."""
    found: dict[str, list[EdgeRef]] = {}
    for piece in garment.pattern.pieces.values():
        for edge in piece.edges.values():
            turned = edge.kind is Kind.HEM and edge.allowance_in > 0
            if turned and not garment.has_strip(piece.name, edge.name):
                found.setdefault(edge.name, []).append(EdgeRef(piece=piece.name, edge=edge.name))
    for name, refs in found.items():
        rings: dict[tuple[str, ...], list[Ring]] = {}
        for ring in rings_of(garment, refs):
            rings.setdefault(ring.pieces, []).append(ring)
        for pieces, alike in rings.items():
            of = f" of the {listed(pieces)}" if len(rings) > 1 else ""
            edge = garment.edge(EdgeRef(piece=pieces[0], edge=name))
            yield Step(
                title=f"Turn up the {name}{of}",
                lengths=(f"{_length(garment, alike)}.",),
                says=tuple(_turned_up(garment, edge)),
            )


def _length(garment: Garment, rings: list[Ring]) -> str:
    """Of rings or runs of the same pieces, which are all alike: "44 in round", "12 in round each"."""
    each = " each" if len(rings) > 1 else ""
    return f"{garment.say(rings[0].length_in)} {'round' if rings[0].closed else 'long'}{each}"


def _turned_up(garment: Garment, edge: DraftedEdge) -> Iterator[str]:
    say = garment.say.allowance
    if not _is_double(garment, edge):
        yield f"Fold up {say(edge.allowance_in)}, press, and stitch close to the finished edge."
        return
    shown, under = edge.folds_in if len(edge.folds_in) > 1 else 2 * (edge.allowance_in / 2,)
    yield (
        f"Fold it up twice, {say(under)} and then {say(shown)}, {say(edge.allowance_in)} in all; press, and "
        "stitch close to the inner fold."
    )


def _is_double(garment: Garment, edge: DraftedEdge) -> bool:
    return garment.finish.hem is HemFinish.DOUBLE or len(edge.folds_in) > 1
