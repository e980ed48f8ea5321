"""Changes made one after another; one whose pieces are the very same as before is not made again.

While a pattern is changed at the table, each picture of it needs all its changes, and nearly all come to the same.
"""

from dataclasses import replace
from functools import lru_cache

from patterns.changes.change import Change
from patterns.changes.draft import Draft, Join, Strip
from patterns.shape import REMEMBERED, Shape, ShapeEdge


def after_change(draft: Draft, change: Change) -> Draft:
    """The draft with the change made; PatternError, a sentence, where it cannot be."""
    names = dict.fromkeys(ref.piece for _, ref in change.needs)
    if not all(draft.has(name) for name in names):
        return change.apply(draft)
    needed = tuple(draft.shape(name) for name in names)
    made = _made(change, needed, draft.joins, draft.unmeasured)
    shapes = {**draft.named, **made.named}
    return Draft(
        shapes=tuple(shapes.values()),
        joins=made.joins,
        unmeasured=made.unmeasured,
        notes=(*draft.notes, *made.notes),
    )


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
