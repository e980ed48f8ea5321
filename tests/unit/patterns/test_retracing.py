from dataclasses import replace

import pytest

from patterns import PatternError, example, read_pattern
from patterns.measures import Length
from patterns.parts import Allowance, Bend, Corner, CutCount, Edge, Kind
from patterns.piece import Piece, in_inches
from patterns.tracing.retracing import retraced
from patterns.tracing.traced_edges import path_of

FRONT = read_pattern(example("harbour overtop")).pieces[0]


def wider(piece: Piece, times: float) -> Piece:
    """The bare outline of the piece, so many times wider: what a trace gives."""
    edges = tuple(
        Edge(
            name=edge.name,
            kind=edge.kind,
            path=path_of(in_inches(edge.path) * (times, 1.0), edge.path[0].x.unit),
            bend=edge.bend,
        )
        for edge in piece.edges
    )
    return Piece(name=piece.name, cut=CutCount(on_fold=True), edges=edges)


def with_hem(hem: Edge) -> Piece:
    """The front with another hem."""
    return replace(FRONT, edges=(*FRONT.edges[:4], hem, FRONT.edges[5]))


def test_what_was_authored_stays_and_the_outline_is_the_new_one() -> None:
    double = Allowance(parts=(Length(spelling="1/4 in"),) * 2)
    side = replace(
        FRONT.edges[3], corner=Corner.REFLECTED, allowance=Allowance(parts=(Length(spelling="5/8"),))
    )
    hem = replace(FRONT.edges[4], allowance=double)
    old = replace(FRONT, edges=(*FRONT.edges[:3], side, hem, FRONT.edges[5]))
    new = retraced(old, wider(FRONT, 1.02))
    assert [edge.name for edge in new.edges] == [edge.name for edge in FRONT.edges]
    assert (new.edges[3].allowance, new.edges[3].corner) == (side.allowance, Corner.REFLECTED)
    assert new.edges[4].allowance == double
    assert (new.grain, new.notches, new.cut) == (FRONT.grain, FRONT.notches, FRONT.cut)
    assert in_inches(new.edges[1].path)[:, 0] == pytest.approx(
        in_inches(FRONT.edges[1].path)[:, 0] * 1.02, abs=1e-3
    )


def test_a_kind_that_the_author_chose_stays() -> None:
    assert (
        retraced(with_hem(replace(FRONT.edges[4], kind=Kind.EDGE)), wider(FRONT, 1.0)).edges[4].kind
        is Kind.EDGE
    )


def test_the_first_edge_is_the_one_that_was_first() -> None:
    turned = replace(FRONT, edges=(*FRONT.edges[2:], *FRONT.edges[:2]))
    assert [edge.name for edge in retraced(turned, wider(FRONT, 1.0)).edges] == [
        edge.name for edge in turned.edges
    ]


def test_a_notch_without_its_edge_is_told() -> None:
    edges = list(wider(FRONT, 1.0).edges)
    edges[3] = replace(edges[3], name="flank")
    with pytest.raises(PatternError, match='found a notch on "side"; wanted an edge of front: neck, overarm'):
        retraced(FRONT, replace(wider(FRONT, 1.0), edges=tuple(edges)))


def test_a_bend_is_the_new_outline_s() -> None:
    hem = FRONT.edges[4]
    straight = with_hem(replace(hem, path=(hem.path[0], hem.path[-1]), bend=Bend.STRAIGHT))
    assert retraced(FRONT, wider(straight, 1.0)).edges[4].bend is Bend.STRAIGHT
