"""The change that brings two joined edges to one length."""

from dataclasses import dataclass, field, replace
from typing import ClassVar, Final

import numpy as np

from patterns.alterations.hems import HEM
from patterns.changes.change import OPENING, Change, uncrossed
from patterns.changes.draft import Draft, EdgeRef
from patterns.curves import Curve
from patterns.errors import Complaint, PatternError
from patterns.parts import Kind
from patterns.saying import LengthError
from patterns.shape import Shape, ShapeEdge

TRUABLE_IN: Final = 1 / 8  # farther apart they are two different edges (common practice)
SAME_IN: Final = 1e-6  # what two lengths that were reckoned in two ways may differ by: no piece of cloth


@dataclass(frozen=True, slots=True, kw_only=True)
class Truing(Change):
    """`true up: [front/side, back/side]`: both edges as long as their mean.

    Each is run on straight, or cut off, at the hem, or else at the end of its walk, but never at the fold; the
    neighbour there comes along.
    """

    opens: ClassVar[str] = "true up"
    keeps: ClassVar[str] = "each edge but for its last end; the two together as long as they were"
    edges: tuple[EdgeRef, ...] = field(metadata=OPENING)

    def __post_init__(self) -> None:
        if len(set(self.edges)) != 2 or len(self.edges) != 2:
            found = f'"{", ".join(map(str, self.edges))}"'
            raise PatternError.listing([Complaint(found=found, wanted="two different edges to be trued")])

    @property
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """Both edges."""
        return tuple((self.opens, ref) for ref in self.edges)

    def apply(self, draft: Draft) -> Draft:
        """The draft with both as long; PatternError where they differ by more than TRUABLE_IN."""
        lengths = [draft.edge(ref).curve.length_in for ref in self.edges]
        apart = abs(lengths[0] - lengths[1])
        if apart > TRUABLE_IN:
            first, second = self.edges
            raise LengthError(
                lambda say: (
                    f"{first} and {second} differ by {say(apart, 32)}; no more than {say(TRUABLE_IN)} can be "
                    "trued, so redraw one"
                )
            )
        for ref in self.edges:
            shape = _as_long(draft.shape(ref.piece), ref.edge, sum(lengths) / 2)
            draft = draft.with_shape(uncrossed(shape, f"{ref.edge} as long as what it is sewn to"))
        return draft


def _as_long(shape: Shape, name: str, length_in: float) -> Shape:
    number = shape.number(name)
    edge = shape.edges[number]
    before, after = (shape.edges[i] for i in shape.neighbours(number))
    backwards = _gives_way(before) > _gives_way(after)
    curve = edge.curve.reversed() if backwards else edge.curve
    longer_in = length_in - curve.length_in
    if abs(longer_in) < SAME_IN:
        return shape
    if longer_in < 0:
        curve = curve.between(0.0, length_in)
    else:
        end = curve.end + curve.end_tangent * longer_in
        curve = Curve.chain(curve, Curve.straight(np.stack([curve.end, end])))
    return shape.with_edge(replace(edge, curve=curve.reversed() if backwards else curve), number)


def _gives_way(edge: ShapeEdge) -> tuple[bool, bool, bool]:
    """To be compared: the body's hem is moved rather than a sleeve's, any hem rather than a seam, last a fold."""
    return edge.kind is not Kind.FOLD, edge.name == HEM, edge.kind is Kind.HEM
