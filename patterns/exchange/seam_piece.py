"""A seam line as it was drawn -> a piece of a pattern file, its edges named and fitted, its marks with it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from patterns.exchange.allowances import allowance_of, measured
from patterns.exchange.drawn import counted
from patterns.exchange.edged_walk import EdgedWalk, edged_walk
from patterns.exchange.fitted_edges import edge_along
from patterns.exchange.piece_marks import grain_of, notches_of
from patterns.exchange.said import cut_count
from patterns.exchange.seam_outline import SeamOutline
from patterns.exchange.turns import kinks
from patterns.measures import Unit
from patterns.parts import Allowance, CutCount, Edge, Kind
from patterns.piece import Piece
from patterns.saying import Say
from patterns.tracing.curve_fitting import CLOSE_IN


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ImportedPiece:
    """A piece from a drawing; `stray_in` is how far its edges lie from it at most, `notes` are to be looked at."""

    piece: Piece
    stray_in: float
    notes: tuple[str, ...]


def seam_piece(outline: SeamOutline, name: str, names: Sequence[str] | None, unit: Unit) -> ImportedPiece:
    """The piece so named, its edges called `names`, or as `edged_walk` finds them.

    Raises PatternError where there are not as many names as edges, or the outline is none of a piece.
    """
    say = Say(unit)
    walk = edged_walk(outline, name, names, say)
    edges, stray_in = _edges(walk, unit)
    allowances = tuple(_allowances(outline, walk, unit))
    uneven = [edge.name for edge, allowance in zip(walk.edges, allowances, strict=True) if allowance is None]
    edges = tuple(
        replace(edge, allowance=allowance) for edge, allowance in zip(edges, allowances, strict=True)
    )
    if walk.fold:
        edges = (*edges, Edge(name=walk.fold, kind=Kind.FOLD, path=(edges[-1].path[-1], edges[0].path[0])))
    grain = None if outline.grain is None else walk.frame.lifted(outline.grain)
    piece = Piece(name=name, cut=_cut(outline), edges=edges, grain=grain_of(grain, unit))
    notches, lost = notches_of(walk.frame.lifted(outline.notches), piece)
    notes = [*outline.notes, *([walk.note] if walk.note else [])]
    if uneven and outline.cut_line is not None:
        notes.append(f"the allowance of {', '.join(uneven)} is not even, so it is the pattern's own")
    if lost:
        notes.append(f"{counted(lost, 'mark')} for notches on no edge left out")
    if stray_in > CLOSE_IN:
        notes.append(f"its edges lie up to {say(stray_in, 64)} from the drawing, which is uneven there")
    return ImportedPiece(piece=replace(piece, notches=notches), stray_in=stray_in, notes=tuple(notes))


def _edges(walk: EdgedWalk, unit: Unit) -> tuple[tuple[Edge, ...], float]:
    """The edges but for the fold, fitted, and how far they stray at most."""
    _, sharp = kinks(walk.points if walk.fold else walk.points[:-1])
    if not walk.fold:
        sharp = np.append(sharp, sharp[0])
    spans = zip(walk.edges, pairwise(walk.ends), strict=True)
    made = [
        edge_along(walk.points[start : end + 1], sharp[start : end + 1], said, unit)
        for said, (start, end) in spans
    ]
    return tuple(edge for edge, _ in made), max(stray for _, stray in made)


def _allowances(outline: SeamOutline, walk: EdgedWalk, unit: Unit) -> Iterator[Allowance | None]:
    """Each edge's as the drawing says it, shows it or was asked to have it; None for the pattern's own."""
    cut_line = None if outline.cut_line is None else walk.frame.lifted(outline.cut_line)
    for said, (start, end) in zip(walk.edges, pairwise(walk.ends), strict=True):
        if said.allowance is not None:
            yield said.allowance
        elif cut_line is not None:
            yield measured(walk.points[start : end + 1], cut_line, unit)
        else:
            yield None if outline.allowance_in is None else allowance_of(outline.allowance_in, unit)


def _cut(outline: SeamOutline) -> CutCount:
    said = cut_count(outline.drawn.cut) or CutCount()
    folded = outline.walk.folded
    return CutCount(count=said.count, on_fold=folded, mirrored=said.mirrored and not folded)
