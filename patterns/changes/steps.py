"""Changes made one after another; one whose pieces are the very same as before is not made again.

While a pattern is changed at the table, each picture of it needs all its changes, and nearly all come to the same.
"""

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

from patterns.changes.change import Change
from patterns.changes.draft import Draft, Join, Strip
from patterns.shape import REMEMBERED, Shape, ShapeEdge


def after_changes(draft: Draft, changes: Iterable[Change]) -> Draft:
    """The draft with the changes made; PatternError, a sentence, where one cannot be."""
    shapes, joins, unmeasured, notes = dict(draft.named), draft.joins, draft.unmeasured, draft.notes
    for change in changes:
        names = dict.fromkeys(ref.piece for _, ref in change.needs)
        given = [shapes[name] for name in names] if names.keys() <= shapes.keys() else shapes.values()
        made = _made(change, tuple(given), joins, unmeasured)
        shapes.update(made.named)
        joins, unmeasured, notes = made.joins, made.unmeasured, (*notes, *made.notes)
    return Draft(shapes=tuple(shapes.values()), joins=joins, unmeasured=unmeasured, notes=notes)


@lru_cache(maxsize=REMEMBERED)
def _made(
    change: Change, needed: tuple[Shape, ...], joins: tuple[Join, ...], unmeasured: tuple[Strip, ...]
) -> Draft:
    """The change on a draft of the pieces that it needs, and no others. Shapes are known by identity."""
    made = change.apply(Draft(shapes=needed, joins=joins, unmeasured=unmeasured))
    shapes = (shape if shape in needed else _of_known_edges(shape) for shape in made.shapes)
    return replace(made, shapes=tuple(shapes))


@lru_cache(maxsize=REMEMBERED)
def _of_known_edges(shape: Shape) -> Shape:
    """An edge that was made before comes with all that has been found out about it."""
    known = tuple(map(_known, shape.edges))
    same = all(one is edge for one, edge in zip(known, shape.edges, strict=True))
    return shape if same else replace(shape, edges=known)


@lru_cache(maxsize=REMEMBERED)
def _known(edge: ShapeEdge) -> ShapeEdge:
    """The first that was met of those that are alike."""
    return edge
