"""The changes that finish a neck or another edge: a facing, a binding."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from itertools import combinations
from typing import ClassVar, Final

from patterns.alterations.facing import OUTER, faced
from patterns.alterations.within import check_within
from patterns.changes.change import OPENING, Change, check_positive
from patterns.changes.draft import Draft, EdgeRef, Join, Strip
from patterns.errors import Complaint, PatternError
from patterns.measures import Length, said_in
from patterns.parts import Kind, check_name
from patterns.shape import Shape

SINGLE_WIDTHS: Final = 4  # of the finished width: front, back and both turned under (common practice)
DOUBLED_WIDTHS: Final = 6  # the strip folded along itself first (common practice)
DOUBLED_EASE_IN: Final = 1 / 4  # what folding over itself takes up (common practice)
LEAST_FACING_IN: Final = 1 / 4  # less cannot be turned and understitched (common practice)
WIDEST_BINDING_IN: Final = 2.0  # a wider strip does not bend round a neck and lie flat (common practice)
JOINING_IN: Final = 1.0  # of a strip's length, to close it on itself: 1/2 in at either end (common practice)


@dataclass(frozen=True, slots=True, kw_only=True)
class Facing(Change):
    """`facing: front`: a new piece "front facing" from the neck `of` and the shoulder next to it.

    `depth` is its width beside the neck, and along the shoulder where no `shoulder` is given; `below_point` how far
    it reaches below the neck at the centre (its depth where that is not given). A narrow one, for sheer cloth, is one
    of little depth.
    """

    opens: ClassVar[str] = "facing"
    keeps: ClassVar[str] = "the garment's pieces as they are; the facing's neck and shoulder are theirs"
    garment: str = field(metadata=OPENING)
    of: EdgeRef
    depth: Length
    shoulder: Length | None = None
    below_point: Length | None = None

    def __post_init__(self) -> None:
        check_name(self.name)
        check_positive(self.depth, "a depth")
        check_positive(self.shoulder, "a width along the shoulder")
        check_positive(self.below_point, "a distance below the point")
        for width in (self.depth, self.shoulder, self.below_point):
            if width is not None and width.inches < LEAST_FACING_IN:
                wanted = f"a facing at least {said_in(LEAST_FACING_IN, width.own_unit)} wide, so that it can be turned"
                raise PatternError.listing([Complaint(found=f'"{width}"', wanted=wanted)])

    @property
    def name(self) -> str:
        """The new piece's name."""
        return facing_name(self.garment)

    @property
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """The edge to be faced."""
        return (("of", self.of),)

    def makes(self, edges: Mapping[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
        """The facing, its edges named as the garment's, and "outer"."""
        names = edges.get(self.of.piece, ())
        if self.of.edge not in names:
            return {}
        place = names.index(self.of.edge)
        beside = (names[place - 1], names[(place + 1) % len(names)])
        return {self.name: (self.of.edge, *beside, OUTER)}

    def apply(self, draft: Draft) -> Draft:
        """The draft with the facing and its join to the neck; PatternError if it cannot be made."""
        if any(self.of in strip.edges for strip in draft.unmeasured):
            raise PatternError(f"{self.of} is bound, so it cannot be faced; switch one of the two off")
        below, shoulder = self.below_point or self.depth, self.shoulder or self.depth
        garment = draft.shape(self.of.piece)
        made = faced(
            garment,
            self.of.edge,
            self.name,
            depth_in=self.depth.inches,
            shoulder_in=shoulder.inches,
            below_in=below.inches,
        )
        check_within(made, garment)
        join = Join(first=self.of, second=EdgeRef(piece=self.name, edge=self.of.edge))
        return replace(draft, shapes=(*draft.shapes, made), joins=(*draft.joins, join))


@dataclass(frozen=True, slots=True, kw_only=True)
class Binding(Change):
    """`binding: front/neck`, or several edges in a list: bound with one bias strip in place of a facing.

    `width` is that of the finished binding, which wraps the edge, so that the edge is cut on its seam line. The
    strip is four times as wide, or for a `doubled` one six times and 1/4 in more (common practice). Cloth of some
    `thickness` takes up the turn of cloth besides.
    """

    opens: ClassVar[str] = "binding"
    keeps: ClassVar[str] = "the seam line, which becomes the cut edge"
    edges: tuple[EdgeRef, ...] = field(metadata=OPENING)
    width: Length
    doubled: bool = False
    thickness: Length | None = None

    def __post_init__(self) -> None:
        check_positive(self.width, "a width")
        check_positive(self.thickness, "a thickness")
        if self.width.inches > WIDEST_BINDING_IN:
            wanted = (
                f"a binding at most {said_in(WIDEST_BINDING_IN, self.width.own_unit)} wide, or else a facing"
            )
            raise PatternError.listing([Complaint(found=f'"{self.width}"', wanted=wanted)])
        if len(set(self.edges)) != len(self.edges) or not self.edges:
            found = f'"{", ".join(map(str, self.edges))}"'
            raise PatternError.listing([Complaint(found=found, wanted="edges to bind, each once")])

    @property
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """The edges to be bound."""
        return tuple((self.opens, ref) for ref in self.edges)

    @property
    def strip_width_in(self) -> float:
        """How wide the bias strip is cut, in inches."""
        turn_in = turn_of_cloth_in(self.thickness.inches) if self.thickness is not None else 0.0
        if self.doubled:
            return DOUBLED_WIDTHS * self.width.inches + DOUBLED_EASE_IN + turn_in
        return SINGLE_WIDTHS * self.width.inches + turn_in

    def apply(self, draft: Draft) -> Draft:
        """The draft with those edges bare and the strip; PatternError if one is sewn to something already."""
        self._check_one_line(draft)
        for ref in self.edges:
            draft.check_bare(ref)
            draft = draft.with_shape(_bare(draft, ref))
        strip = Strip(
            name=f"binding of {' and '.join(map(str, self.edges))}",
            edges=self.edges,
            width_in=self.strip_width_in,
            joining_in=JOINING_IN,
            wraps_in=self.width.inches,
            doubled=self.doubled,
        )
        return replace(draft, unmeasured=(*draft.unmeasured, strip))

    def _check_one_line(self, draft: Draft) -> None:
        """PatternError where two of the edges are of one piece and not next to one another, as neck and sleeve hem."""
        for one, two in combinations(self.edges, 2):
            shape = draft.shape(one.piece)
            if one.piece == two.piece and shape.number(two.edge) not in shape.neighbours(
                shape.number(one.edge)
            ):
                raise PatternError(
                    f"{one} and {two} do not run on into one another, so one strip cannot bind both; give each line "
                    "a binding of its own"
                )


def facing_name(garment: str) -> str:
    """What the facing of a piece is called."""
    return f"{garment} facing"


def turn_of_cloth_in(thickness_in: float) -> float:
    """Inches that cloth of that thickness takes up as a binding: half a turn round the edge, two where it is tucked in.

    The middle of the strip goes round an edge of the same cloth at a radius of the thickness, and round nothing at
    half of that, so that the three together take 2 pi times the thickness.
    """
    return 2 * math.pi * thickness_in


def _bare(draft: Draft, ref: EdgeRef) -> Shape:
    """The piece with the edge's allowance gone."""
    shape = draft.shape(ref.piece)
    number = shape.number(ref.edge)
    edge = shape.edges[number]
    if edge.kind is Kind.FOLD:
        raise PatternError(f"{ref} is a fold, which has no edge to bind; bind another")
    for join in draft.joins:
        if ref in (join.first, join.second):
            other = join.second if join.first == ref else join.first
            raise PatternError(f"{ref} is sewn to {other}, so it cannot be bound; switch one of the two off")
    return shape.with_edge(replace(edge, allowance_in=(0.0,)), number)
