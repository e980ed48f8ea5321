"""Random patterns to lay on cloth: bodies and collars on the fold, pairs of sleeves, pockets, a piece on the bias.

Each is drafted from a few corners with an allowance all round, seeded, so that a number names a pattern.
"""

from collections.abc import Callable
from types import MappingProxyType

import numpy as np

from patterns.curves import Array, Curve
from patterns.cutting.drafted import DraftedPattern, DraftedPiece, drafted_piece
from patterns.parts import CutCount, Kind
from patterns.shape import Shape, ShapeEdge

ALLOWANCE_IN = 0.5


def pattern_of_pieces(*pieces: DraftedPiece) -> DraftedPattern:
    """The pieces as a pattern."""
    named = MappingProxyType({piece.name: piece for piece in pieces})
    return DraftedPattern(name="Random wardrobe", pieces=named, joins=(), warnings=())


def piece(
    name: str,
    cut: CutCount,
    corners: list[tuple[float, float]] | Array,
    *,
    grain: Array | None = None,
    allowance_in: float = ALLOWANCE_IN,
) -> DraftedPiece:
    """A piece of straight edges through its corners on the seam line; on the fold, from the fold's top to its foot."""
    points = np.asarray(corners, dtype=np.float64)
    closed = np.concatenate([points, points[:1]])
    count = len(points)
    edges = [
        ShapeEdge(
            name=f"e{i}",
            kind=Kind.FOLD if cut.on_fold and i == count - 1 else Kind.SEAM,
            curve=Curve.straight(closed[i : i + 2]),
            allowance_in=(0.0 if cut.on_fold and i == count - 1 else allowance_in,),
        )
        for i in range(count)
    ]
    return drafted_piece(Shape(name=name, cut=cut, edges=tuple(edges), grain_in=grain))


def box(name: str, cut: CutCount, width_in: float, length_in: float) -> DraftedPiece:
    """A rectangle without an allowance, its left edge on x = 0."""
    corners = [(0.0, 0.0), (width_in, 0.0), (width_in, length_in), (0.0, length_in)]
    return piece(name, cut, corners, allowance_in=0.0)


def body(chance: np.random.Generator, name: str, cut: CutCount) -> DraftedPiece:
    """Half a top with a sleeve cut on."""
    neck, reach, half = chance.uniform(2, 4), chance.uniform(9, 15), chance.uniform(6, 9)
    length, opening, drop = chance.uniform(12, 26), chance.uniform(4, 6), chance.uniform(0, 3)
    corners = [
        (0, chance.uniform(1, 5)), (neck, 0), (reach, drop), (reach - 1, drop + opening), (half, drop + opening + 1),
        (half + chance.uniform(-1, 2), length), (0, length),
    ]  # fmt: skip
    return piece(name, cut, corners)


def sleeve(chance: np.random.Generator, name: str, cut: CutCount, grain: Array | None = None) -> DraftedPiece:
    """A piece that is not symmetrical."""
    wide, long = chance.uniform(5, 9), chance.uniform(6, 16)
    corners = [
        (0, 3), (wide * 0.4, 0), (wide, 2.5), (wide - chance.uniform(0, 2), long), (chance.uniform(0.5, 2), long),
    ]  # fmt: skip
    return piece(name, cut, corners, grain=grain)


def pocket(chance: np.random.Generator, name: str, cut: CutCount) -> DraftedPiece:
    """A symmetrical piece."""
    wide, long = chance.uniform(3, 7), chance.uniform(3, 8)
    return piece(name, cut, [(0, 0), (wide, 0), (wide, long - 1), (wide / 2, long), (0, long - 1)])


def collar(chance: np.random.Generator, name: str, cut: CutCount) -> DraftedPiece:
    """Half a band that curves down from the fold."""
    wide, deep = chance.uniform(4, 7), chance.uniform(2, 4)
    return piece(name, cut, [(0, 1), (wide, 0), (wide + 0.5, deep - 0.5), (0, deep + 1)])


def wardrobe(number: int, *, doubled: bool) -> DraftedPattern:
    """A random pattern; one whose every piece can be cut through two layers at once where that is asked."""
    chance = np.random.default_rng(number)
    times = 2 if doubled else 1
    pieces = [body(chance, "front", CutCount(count=times, on_fold=True))]
    makers: tuple[Callable[[str], DraftedPiece], ...] = (
        lambda name: body(chance, name, CutCount(count=times, on_fold=True)),
        lambda name: collar(chance, name, CutCount(count=2, on_fold=True)),
        lambda name: sleeve(chance, name, CutCount(count=2, mirrored=True)),
        lambda name: pocket(chance, name, CutCount(count=2)),
        lambda name: sleeve(chance, name, CutCount(count=2, mirrored=True), _bias()),
        lambda name: sleeve(chance, name, CutCount(count=1)),
    )
    for i in range(int(chance.integers(1, 4))):
        make = makers[int(chance.integers(5 if doubled else 6))]
        pieces.append(make(f"piece {i}"))
    return pattern_of_pieces(*pieces)


def _bias() -> Array:
    return np.array([[1.5, 5.5], [4.5, 2.5]])
