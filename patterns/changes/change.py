"""What every change is: one frozen step from the traced pieces towards the garment that is wanted."""

from abc import ABC, abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar, Final

from patterns.changes.draft import Draft, EdgeRef
from patterns.errors import Complaint, PatternError
from patterns.measures import Length
from patterns.shape import Shape, crosses_itself

FINEST_IN: Final = 1 / 1000  # what no tape, cloth or light shows: a slip of the decimal point
OPENING: Final[Mapping[str, bool]] = {"opening": True}  # of the field whose value stands at the opening key


@dataclass(frozen=True, slots=True, kw_only=True)
class Change(ABC):
    """A step that makes a new draft of the draft before it; the outline that was traced stays as it is.

    In a pattern file a change is known by the key that it `opens` with; kinds that share it are told apart by
    what stands there, `says`. Its other keys are its fields, their names with spaces (`keys.keys_of`). What it
    `keeps` is said to the person at the table, after that very word. It may look only at the pieces it `needs`,
    unless its `turn` is a later one: then it is made after all others, wherever it stands in the list.
    """

    opens: ClassVar[str]
    says: ClassVar[str] = ""
    keeps: ClassVar[str]
    turn: ClassVar[int] = 0
    off: bool = False

    @property
    @abstractmethod
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """The edges and pieces that this change needs, each with the key that names it."""

    @property
    def aside(self) -> tuple[str, ...]:
        """The pieces of the file that are not to be cut because of this change, made or not."""
        return ()

    def makes(self, edges: Mapping[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
        """The pieces that this change adds, with the names of their edges, given those that are there."""
        return {}

    @abstractmethod
    def apply(self, draft: Draft) -> Draft:
        """The draft with the change made; PatternError, a sentence, where it cannot be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OfPieces(Change):
    """A change that is made to several pieces alike: to front and back where `pieces` names no others."""

    edges: ClassVar[tuple[str, ...]]  # that each of the pieces needs
    pieces: tuple[str, ...] = ("front", "back")

    def __post_init__(self) -> None:
        if not self.pieces or len(set(self.pieces)) < len(self.pieces):
            found = f'"{", ".join(self.pieces)}"' if self.pieces else "no pieces"
            raise PatternError.listing([Complaint(found=found, wanted="names of pieces, each once")])
        self.check()

    @property
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """The edges that this change works on, of each piece."""
        return tuple(
            ("pieces", EdgeRef(piece=name, edge=edge)) for name in self.pieces for edge in self.edges
        )

    def apply(self, draft: Draft) -> Draft:
        """The draft with each of the pieces changed; PatternError, a sentence, where one cannot be."""
        for name in self.pieces:
            draft = draft.with_shape(uncrossed(self.changed(draft.shape(name)), self.what))
        return draft

    @abstractmethod
    def check(self) -> None:
        """PatternError where what the change is given makes no sense."""

    @property
    @abstractmethod
    def what(self) -> str:
        """The change in a few words with an article, for a refusal."""

    @abstractmethod
    def changed(self, shape: Shape) -> Shape:
        """One piece with the change made; PatternError, a sentence, where it cannot be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ByLength(OfPieces):
    """A change of several pieces by one length of more than nothing, more of something or less of it."""

    sign: ClassVar[int]  # 1 for more, -1 for less
    measure: ClassVar[str]  # what the length is
    outcome: ClassVar[str]  # what comes of it, {} standing for the length
    by: Length = field(metadata=OPENING)

    @property
    def signed_in(self) -> float:
        """Inches more, or less than nothing for less."""
        return self.sign * self.by.inches

    @property
    def what(self) -> str:
        """The change in a few words with an article, for a refusal."""
        return self.outcome.format(self.by.words)

    def check(self) -> None:
        """PatternError unless the length is more than nothing."""
        check_positive(self.by, self.measure)


def uncrossed(shape: Shape, what: str) -> Shape:
    """The shape; PatternError where `what` has made it cross itself."""
    if crossed := crosses_itself(shape):
        raise PatternError(f"{shape.name}: {what} crosses {' and '.join(crossed)}; choose another")
    return shape


def check_positive(length: Length | None, what: str) -> None:
    """PatternError unless the length, where there is one, is more than nothing that could be seen."""
    if length is not None and length.inches < FINEST_IN:
        raise PatternError.listing([Complaint(found=f'"{length}"', wanted=f"{what} of more than nothing")])
