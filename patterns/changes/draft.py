"""The pieces while they are changed, and what refers to them."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

from patterns.alterations.grain import grain_within
from patterns.errors import Complaint, PatternError
from patterns.measures import Length
from patterns.parts import Kind
from patterns.saying import Say, Sentence
from patterns.shape import Shape, ShapeEdge, is_centre_seam


class EdgeRef(NamedTuple):
    """An edge of a piece, "front/side"; a whole piece where `edge` is empty."""

    piece: str
    edge: str = ""

    def __str__(self) -> str:
        return f"{self.piece}/{self.edge}" if self.edge else self.piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """Two edges that are sewn to one another, the second longer by the `ease` that is worked into it."""

    first: EdgeRef
    second: EdgeRef
    ease: Length | None = None

    def __post_init__(self) -> None:
        if self.ease is not None and self.ease.inches <= 0:
            wanted = "by how much the second edge is to be longer"
            raise PatternError.listing([Complaint(found=f'"{self.ease}"', wanted=wanted, at=("ease",))])
        if self.first == self.second:
            raise PatternError.listing(
                [Complaint(found=f'"{self.first}" joined to itself', wanted="two different edges")]
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A strip to cut beside the pieces: a binding on the bias, or a band.

    `length_in` goes once along all its `edges` on the opened garment, with `joining_in` of it for closing the
    strip on itself. Edges that lie left and right, as sleeve hems do, have a strip for each side: `count` is 2.
    A binding wraps them `wraps_in` wide, `doubled` where the strip is folded along itself first; a band does not.
    """

    name: str
    edges: tuple[EdgeRef, ...]
    width_in: float
    joining_in: float
    length_in: float = 0.0
    count: int = 1
    wraps_in: float = 0.0
    doubled: bool = False

    def words(self, say: Say) -> str:
        """What to cut: "hem band: cut 4 1/2 in wide, 45 in long"."""
        each = f"{self.count}, each " if self.count > 1 else ""
        return f"{self.name}: cut {each}{say(self.width_in)} wide, {say(self.length_in)} long"


@dataclass(frozen=True, kw_only=True, eq=False)
class Draft:
    """The pieces as they stand after some of the changes; `notes` say what these could not do, or doubt."""

    shapes: tuple[Shape, ...]
    joins: tuple[Join, ...] = ()
    unmeasured: tuple[Strip, ...] = ()
    notes: tuple[Sentence, ...] = ()

    @property
    def strips(self) -> tuple[Strip, ...]:
        """The strips to cut, as long as their edges are at this step."""
        return tuple(map(self._measured, self.unmeasured))

    def check_bare(self, ref: EdgeRef) -> None:
        """PatternError where a strip is sewn to that edge already."""
        for strip in self.unmeasured:
            if ref in strip.edges:
                raise PatternError(f"{ref} has a {strip.name} already; switch one of the two off")

    @cached_property
    def named(self) -> Mapping[str, Shape]:
        """The pieces by their names."""
        return {shape.name: shape for shape in self.shapes}

    @cached_property
    def sewn(self) -> tuple[Join, ...]:
        """The joins whose pieces are there at this step."""
        return tuple(
            join for join in self.joins if self.has(join.first.piece) and self.has(join.second.piece)
        )

    @cached_property
    def sewn_edges(self) -> tuple[tuple[Join, ShapeEdge, ShapeEdge], ...]:
        """Those joins, each with its two edges."""
        return tuple((join, self.edge(join.first), self.edge(join.second)) for join in self.sewn)

    def shape(self, name: str) -> Shape:
        """The piece so named; PatternError if there is none."""
        if name not in self.named:
            raise PatternError(f'there is no piece "{name}" at this step; there are {", ".join(self.named)}')
        return self.named[name]

    def edge(self, ref: EdgeRef) -> ShapeEdge:
        """That edge; PatternError if there is none."""
        shape = self.shape(ref.piece)
        return shape.edges[shape.number(ref.edge)]

    def has(self, piece: str) -> bool:
        """Whether a piece of that name is there at this step."""
        return piece in self.named

    def with_shape(self, new: Shape) -> "Draft":
        """The draft with the piece of that name replaced, its grainline within it."""
        if new.grain_in is not None:
            grain_in = grain_within(new.grain_in, new.loop)
            new = new if grain_in is new.grain_in else replace(new, grain_in=grain_in)
        return replace(self, shapes=tuple(new if s.name == new.name else s for s in self.shapes))

    def _measured(self, strip: Strip) -> Strip:
        count = 2 if all(map(self._is_pair, strip.edges)) else 1
        along_in = sum(map(self._opened_in, strip.edges))
        return replace(strip, length_in=along_in / count + strip.joining_in, count=count)

    def _opened_in(self, ref: EdgeRef) -> float:
        """Inches of the edge on the garment, all that are cut of it together."""
        return self.shape(ref.piece).cut.times * self.edge(ref).curve.length_in

    def _is_pair(self, ref: EdgeRef) -> bool:
        """Whether left and right do not run on into one another, across the fold or the centre seam."""
        shape = self.shape(ref.piece)
        beside = [shape.edges[i] for i in shape.neighbours(shape.number(ref.edge))]
        if shape.cut.mirrored:
            return not any(is_centre_seam(edge.name, edge.curve.points) for edge in beside)
        return shape.fold is not None and all(edge.kind is not Kind.FOLD for edge in beside)
