"""The changes that turn traced pieces into the garment wanted, each a small value with `apply`.

A change never touches the outline that was traced: it makes a new draft from the draft before it.
"""

from dataclasses import dataclass, replace
from typing import Final, TypeAlias

import numpy as np

from patterns.curves import Curve
from patterns.errors import Complaint, PatternError
from patterns.facing import faced
from patterns.measures import Length, in_words
from patterns.necks import NECK, Neck, raised
from patterns.parts import check_name
from patterns.shape import Shape, crosses_itself
from patterns.shoulder import OVERARM, shoulder_forward

LEAST_BODY_IN: Final = 1.0  # of centre front or back left below a neck: less cannot be sewn


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeRef:
    """An edge of a piece, "front/side"; a whole piece where `edge` is empty."""

    piece: str
    edge: str = ""

    def __str__(self) -> str:
        return f"{self.piece}/{self.edge}" if self.edge else self.piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """Two edges that are sewn to one another."""

    first: EdgeRef
    second: EdgeRef

    def __post_init__(self) -> None:
        if self.first == self.second:
            raise PatternError.listing(
                [Complaint(found=f'"{self.first}" joined to itself', wanted="two different edges")]
            )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Draft:
    """The pieces as they stand after some of the changes."""

    shapes: tuple[Shape, ...]
    joins: tuple[Join, ...] = ()

    def shape(self, name: str) -> Shape:
        """The piece so named; PatternError if there is none."""
        for shape in self.shapes:
            if shape.name == name:
                return shape
        raise PatternError(
            f'there is no piece "{name}" at this step; there are {", ".join(s.name for s in self.shapes)}'
        )

    def with_shape(self, new: Shape) -> "Draft":
        """The draft with the piece of that name replaced."""
        return replace(self, shapes=tuple(new if s.name == new.name else s for s in self.shapes))


@dataclass(frozen=True, slots=True, kw_only=True)
class _OfNeck:
    """A change of one piece's neck."""

    piece: str
    off: bool = False

    @property
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """The edges this change needs, by the key that names them."""
        return (("piece", EdgeRef(piece=self.piece, edge=NECK)),)

    def makes(self, edges: dict[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
        """The pieces this change adds, with their edges: none."""
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class VNeck(_OfNeck):
    """`neck: v`: a straight line from the neck-shoulder point to `depth` below the high shoulder point."""

    depth: Length

    def __post_init__(self) -> None:
        _positive(self.depth, "a depth")

    def apply(self, draft: Draft) -> Draft:
        """The draft with the V; PatternError if it lies beyond the shoulder, the hem or another edge."""
        shape = draft.shape(self.piece)
        neck = Neck.of(shape)
        depth = self.depth.inches
        if depth <= neck.shoulder[1]:
            raise PatternError(
                f"{shape.name}: a V {self.depth.words} deep would lie above the neck-shoulder point, "
                f"which is at {in_words(neck.shoulder[1])}; make it deeper"
            )
        if depth > neck.body_end - LEAST_BODY_IN:
            raise PatternError(
                f"{shape.name}: a V {self.depth.words} deep leaves no body at the centre, which ends at "
                f"{in_words(neck.body_end)}; make it at most {in_words(neck.body_end - LEAST_BODY_IN)}"
            )
        changed = neck.replaced(Curve.straight(np.array([[0.0, depth], neck.shoulder])))
        return draft.with_shape(_uncrossed(changed, f"a V {self.depth.words} deep"))


@dataclass(frozen=True, slots=True, kw_only=True)
class RaiseNeck(_OfNeck):
    """`raise neck: L`: the neck higher by `by` at the centre, its neck-shoulder point where it was."""

    by: Length

    def __post_init__(self) -> None:
        _positive(self.by, "a rise")

    def apply(self, draft: Draft) -> Draft:
        """The draft with the neck raised; PatternError if it would rise to the shoulder or above."""
        shape = draft.shape(self.piece)
        neck = Neck.of(shape)
        room = neck.centre[1] - neck.shoulder[1]
        if self.by.inches >= room:
            raise PatternError(
                f"{shape.name}: raising the neck {self.by.words} would bring its centre across the shoulder; "
                f"it lies {in_words(room)} below the neck-shoulder point, so raise it by less"
            )
        changed = neck.replaced(raised(neck.curve, room, room - self.by.inches))
        return draft.with_shape(_uncrossed(changed, f"a neck raised {self.by.words}"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Facing:
    """`facing: front`: a new piece "front facing" from the neck `of` and the shoulder next to it.

    `depth` is its width along the shoulder and beside the neck; `below_point` how far it reaches below the
    neck at the centre (its depth where that is not given).
    """

    garment: str
    of: EdgeRef
    depth: Length
    below_point: Length | None = None
    off: bool = False

    def __post_init__(self) -> None:
        check_name(self.name)
        _positive(self.depth, "a depth")
        if self.below_point is not None:
            _positive(self.below_point, "a distance below the point")

    @property
    def name(self) -> str:
        """The new piece's name."""
        return f"{self.garment} facing"

    @property
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """The edges this change needs, by the key that names them."""
        return (("of", self.of),)

    def makes(self, edges: dict[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
        """The pieces this change adds, with their edges: named as the garment's, and "outer"."""
        names = edges.get(self.of.piece, ())
        if self.of.edge not in names:
            return {}
        place = names.index(self.of.edge)
        beside = (names[place - 1], names[(place + 1) % len(names)])
        return {self.name: (self.of.edge, *beside, "outer")}

    def apply(self, draft: Draft) -> Draft:
        """The draft with the facing and its join to the neck; PatternError if it cannot be made."""
        below = self.below_point or self.depth
        made = faced(draft.shape(self.of.piece), self.of.edge, self.name, self.depth.inches, below.inches)
        join = Join(first=self.of, second=EdgeRef(piece=self.name, edge=self.of.edge))
        return replace(draft, shapes=(*draft.shapes, made), joins=(*draft.joins, join))


@dataclass(frozen=True, slots=True, kw_only=True)
class ShoulderForward:
    """`shoulder forward: L`: the overarm seam lies `by` in front of the fold that was traced as the top.

    The front is shortened by so much at its overarm and the back lengthened, so that their sum is kept. Depths
    still count from the top of the shoulder as it was traced.
    """

    by: Length
    front: str = "front"
    back: str = "back"
    off: bool = False

    def __post_init__(self) -> None:
        _positive(self.by, "a distance")

    @property
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """The edges this change needs, by the key that names them."""
        pieces = (("front", self.front), ("back", self.back))
        return tuple((key, EdgeRef(piece=name, edge=OVERARM)) for key, name in pieces)

    def makes(self, edges: dict[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
        """The pieces this change adds, with their edges: none."""
        return {}

    def apply(self, draft: Draft) -> Draft:
        """The draft with both overarms moved; PatternError if one would not meet its neighbours any more."""
        moved = shoulder_forward(draft.shape(self.front), draft.shape(self.back), self.by.inches)
        for shape in moved:
            draft = draft.with_shape(_uncrossed(shape, f"a shoulder {self.by.words} forward"))
        return draft


Change: TypeAlias = VNeck | RaiseNeck | Facing | ShoulderForward


def _uncrossed(shape: Shape, what: str) -> Shape:
    crossed = crosses_itself(shape)
    if crossed:
        raise PatternError(f"{shape.name}: {what} crosses {' and '.join(crossed)}; choose another")
    return shape


def _positive(length: Length, what: str) -> None:
    if length.inches <= 0:
        raise PatternError.listing([Complaint(found=f'"{length}"', wanted=f"{what} of more than nothing")])
