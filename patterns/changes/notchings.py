"""The changes that notch seams in matching pairs."""

from dataclasses import dataclass, field, replace
from enum import Enum
from typing import ClassVar, Final

from patterns.alterations.necks import NECK
from patterns.alterations.notching import EASE_PART, NOTCH_CLEAR_IN, Seam, notched, paired, seam_of
from patterns.changes.change import OPENING, Change
from patterns.changes.draft import Draft, EdgeRef
from patterns.errors import Complaint, PatternError
from patterns.parts import Kind, Notch
from patterns.saying import Sentence

FRONT, BACK = "front", "back"  # words in the names of pieces and edges
MOST_GROUPS: Final = 3
NECK_GROUPS: Final = 1  # of a neck and its facing: single in front, double at the back (common practice)


class Walk(Enum):
    """Whether two edges are walked from the same end of their seam or from opposite ones."""

    ALIKE = "alike"
    AGAINST = "against"


@dataclass(frozen=True, slots=True, kw_only=True)
class NotchSeam(Change):
    """`notch: [front/side, back/side]`: groups of notches on both edges, as far from the ends that meet.

    A front seam begins with a single notch, a back one with a double; a long seam has three groups, none like
    another. Which ends meet is told by the edges beside them, or by `walked`. An edge that has notches keeps
    them, and the other gets the same. One edge alone is sewn to that of the piece's mirror image.
    """

    opens: ClassVar[str] = "notch"
    keeps: ClassVar[str] = "notches that are there; those set follow their seam, whatever changes it"
    turn: ClassVar[int] = 1
    edges: tuple[EdgeRef, ...] = field(metadata=OPENING)
    walked: Walk | None = None

    def __post_init__(self) -> None:
        if len(set(self.edges)) != len(self.edges) or len(self.edges) not in (1, 2):
            found = f'"{", ".join(map(str, self.edges))}"'
            wanted = "two different edges sewn together, or one that is sewn to its mirror image"
            raise PatternError.listing([Complaint(found=found, wanted=wanted)])

    @property
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """Both edges."""
        return tuple((self.opens, ref) for ref in self.edges)

    def apply(self, draft: Draft) -> Draft:
        """The draft with both edges notched; a note says why where they cannot be.

        Raises PatternError for one edge of a piece that is cut without a mirror image.
        """
        first, second = self.edges[0], self.edges[-1]
        if first == second:
            if draft.has(first.piece) and not draft.shape(first.piece).cut.mirrored:
                raise PatternError(
                    f"{first} has no mirror image to be sewn to: {first.piece} is not cut mirrored; name the edge that "
                    "it is sewn to"
                )
            return _notched(draft, first, second, alike=True)
        return _notched(draft, first, second, None if self.walked is None else self.walked is Walk.ALIKE)


@dataclass(frozen=True, slots=True, kw_only=True)
class NotchAll(Change):
    """`notches: all`: every join notched as by `notch`, those of facings too."""

    opens: ClassVar[str] = "notches"
    says: ClassVar[str] = "all"
    keeps: ClassVar[str] = "notches that are there; those set follow their seams, whatever changes these"
    turn: ClassVar[int] = 2

    @property
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """Nothing: it takes the joins that are there."""
        return ()

    def apply(self, draft: Draft) -> Draft:
        """The draft with all its joins notched; notes say why where they cannot be."""
        for join in draft.joins:
            draft = _notched(draft, join.first, join.second, None)
        return draft


def _notched(draft: Draft, first: EdgeRef, second: EdgeRef, alike: bool | None) -> Draft:
    """The draft with both edges notched; as it is where a piece is not there in this version."""
    if not draft.has(first.piece) or not draft.has(second.piece):
        return draft
    seam = seam_of(draft.shape(first.piece), first.edge, draft.shape(second.piece), second.edge, alike)
    if Kind.FOLD in (seam.one.kind, seam.other.kind):
        return draft
    if not seam.is_eased:
        return replace(draft, notes=(*draft.notes, _uneven(first, second, seam)))
    necks = first.edge == NECK == second.edge
    here, there = paired(seam, _count(first, second), NECK_GROUPS if necks else MOST_GROUPS)
    if not any((*seam.notches, here)):
        return replace(draft, notes=(*draft.notes, _too_short(first, second, seam)))
    draft = _with_notches(draft, first.piece, here)
    return draft if first == second else _with_notches(draft, second.piece, there)


def _with_notches(draft: Draft, piece: str, added: tuple[Notch, ...]) -> Draft:
    marked = notched(draft.shape(piece), added)
    return replace(draft, shapes=tuple(marked if one.name == piece else one for one in draft.shapes))


def _count(*edges: EdgeRef) -> int:
    """Of clips in a seam's first group: two where it is of the back alone."""
    words = {word for ref in edges for word in f"{ref.piece} {ref.edge}".split()}
    return 2 if BACK in words and FRONT not in words else 1


def _too_short(first: EdgeRef, second: EdgeRef, seam: Seam) -> Sentence:
    return lambda say: (
        f"{first} and {second} are not notched: of {say(min(seam.lengths_in))} nothing lies "
        f"{say(NOTCH_CLEAR_IN)} from both corners and off the middle; match the seam by its ends"
    )


def _uneven(first: EdgeRef, second: EdgeRef, seam: Seam) -> Sentence:
    return lambda say: (
        f"{first} and {second} are not notched: {say(seam.lengths_in[0])} and "
        f"{say(seam.lengths_in[1])} differ by more than {EASE_PART:.0%}; set their notches by hand"
    )
