"""The changes that turn traced pieces into the garment wanted, each a small value with `apply`.

A change never touches the outline that was traced: it makes a new draft from the draft before it.
"""

import math
from dataclasses import dataclass, replace
from typing import Final, TypeAlias

import numpy as np

from patterns.curves import Array, Curve
from patterns.errors import Complaint, PatternError
from patterns.facing import faced
from patterns.measures import Length, in_words
from patterns.parts import Kind, check_name
from patterns.shape import Shape, ShapeEdge, crosses_itself

NECK: Final = "neck"  # the edge that the neck changes work on
LEAST_BODY_IN: Final = 1.0  # of centre front or back left below a neck: less cannot be sewn
_RESHAPED_AT: Final = 17  # places at which a reshaped neck is held to its true curve


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
class VNeck:
    """`neck: v`: a straight line from the neck-shoulder point to `depth` below the high shoulder point."""

    piece: str
    depth: Length
    off: bool = False

    def __post_init__(self) -> None:
        _positive(self.depth, "a depth")

    @property
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """The edges this change needs, by the key that names them."""
        return (("piece", EdgeRef(piece=self.piece, edge=NECK)),)

    def makes(self, edges: dict[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
        """The pieces this change adds, with their edges: none."""
        return {}

    def apply(self, draft: Draft) -> Draft:
        """The draft with the V; PatternError if it lies beyond the shoulder, the hem or another edge."""
        shape = draft.shape(self.piece)
        neck = _Neck.of(shape)
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
class RaiseNeck:
    """`raise neck: L`: the neck higher by `by` at the centre, its neck-shoulder point where it was."""

    piece: str
    by: Length
    off: bool = False

    def __post_init__(self) -> None:
        _positive(self.by, "a rise")

    @property
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """The edges this change needs, by the key that names them."""
        return (("piece", EdgeRef(piece=self.piece, edge=NECK)),)

    def makes(self, edges: dict[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
        """The pieces this change adds, with their edges: none."""
        return {}

    def apply(self, draft: Draft) -> Draft:
        """The draft with the neck raised; PatternError if it would rise to the shoulder or above."""
        shape = draft.shape(self.piece)
        neck = _Neck.of(shape)
        room = neck.centre[1] - neck.shoulder[1]
        if self.by.inches >= room:
            raise PatternError(
                f"{shape.name}: raising the neck {self.by.words} would bring its centre across the shoulder; "
                f"it lies {in_words(room)} below the neck-shoulder point, so raise it by less"
            )
        changed = neck.replaced(_raised(neck.curve, room, room - self.by.inches))
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


Change: TypeAlias = VNeck | RaiseNeck | Facing


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Neck:
    """The neck of a piece on the fold, walked from the fold to the neck-shoulder point."""

    shape: Shape
    number: int
    from_fold: bool
    curve: Curve

    @classmethod
    def of(cls, shape: Shape) -> "_Neck":
        number = shape.number(NECK)
        fold, count = shape.fold, len(shape.edges)
        if fold is None or number not in ((fold + 1) % count, (fold - 1) % count):
            raise PatternError(
                f"{shape.name}: a neck is changed on a half piece; cut it on the fold, the neck beside it"
            )
        from_fold = number == (fold + 1) % count
        curve = shape.edges[number].curve
        return cls(
            shape=shape, number=number, from_fold=from_fold, curve=curve if from_fold else curve.reversed()
        )

    @property
    def centre(self) -> Array:
        return self.curve.start

    @property
    def shoulder(self) -> Array:
        return self.curve.end

    @property
    def body_end(self) -> float:
        """How far down the fold the piece ends, in inches."""
        fold = next(edge for edge in self.shape.edges if edge.kind is Kind.FOLD)
        return float(max(fold.curve.start[1], fold.curve.end[1]))

    def replaced(self, curve: Curve) -> Shape:
        edge: ShapeEdge = replace(
            self.shape.edges[self.number], curve=curve if self.from_fold else curve.reversed()
        )
        return self.shape.with_edge(edge, self.number)


def _raised(neck: Curve, room_in: float, left_in: float) -> Curve:
    """The neck curve with its centre `left_in` instead of `room_in` below its shoulder end.

    Two circles square to the fold belong to the two necks, before and after. Every point keeps its share of
    the circle's angle and of the distance from the circle: a circular neck stays circular, one that is square
    to the fold stays so, and the shoulder end does not move.
    """
    shoulder = neck.end
    width = float(shoulder[0])
    cells = np.linspace(0, 1, _RESHAPED_AT)
    lengths = cells * neck.length_in
    nudge = 1e-5 * neck.length_in
    before, after = _circle(width, room_in), _circle(width, left_in)

    def moved(points: Array) -> Array:
        centre_y = shoulder[1] + room_in - before[0]
        across, down = points[:, 0], points[:, 1] - centre_y
        share = np.arctan2(across, down) / before[1]
        out = np.hypot(across, down) - before[0]
        radius = after[0] + out * (left_in / room_in)
        angle = share * after[1]
        new_centre_y = shoulder[1] + left_in - after[0]
        placed: Array = np.stack([radius * np.sin(angle), new_centre_y + radius * np.cos(angle)], axis=1)
        return placed

    spans, along = neck.places_at(lengths)
    before_points = neck.at_parameters(spans, along)
    nudges = neck.tangents(spans, along) * nudge
    points = moved(before_points)
    slopes = (moved(before_points + nudges) - moved(before_points - nudges)) / (2 * nudge)
    points[0, 0], points[-1] = 0.0, shoulder
    return Curve.hermite(points, slopes, np.diff(lengths))


def _circle(width_in: float, depth_in: float) -> tuple[float, float]:
    """Radius and angle of the arc, square to the fold, that is `width_in` wide and `depth_in` deep."""
    radius = (width_in**2 + depth_in**2) / (2 * depth_in)
    return radius, math.atan2(width_in, radius - depth_in)


def _uncrossed(shape: Shape, what: str) -> Shape:
    crossed = crosses_itself(shape)
    if crossed:
        raise PatternError(f"{shape.name}: {what} crosses {' and '.join(crossed)}; choose another")
    return shape


def _positive(length: Length, what: str) -> None:
    if length.inches <= 0:
        raise PatternError.listing([Complaint(found=f'"{length}"', wanted=f"{what} of more than nothing")])
