"""What every change is: one frozen step from the traced pieces towards the garment that is wanted."""

from abc import ABC, abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar, Final

from patterns.changes.draft import Draft, EdgeRef
from patterns.errors import Complaint, PatternError
from patterns.measures import Length
from patterns.shape import Shape, crosses_itself

OPENING: Final[Mapping[str, bool]] = {"opening": True}  # of the field whose value stands at the opening key


@dataclass(frozen=True, slots=True, kw_only=True)
class Change(ABC):
    """A step that makes a new draft of the draft before it; the outline that was traced stays as it is.

    In a pattern file a change is known by the key that it `opens` with; kinds that share it are told apart by
    what stands there, `says`. Its other keys are its fields, their names with spaces (`keys.keys_of`). `keeps`
    is a sentence for the person at the table.
    """

    opens: ClassVar[str]
    says: ClassVar[str] = ""
    keeps: ClassVar[str]
    off: bool = False

    @property
    @abstractmethod
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """The edges and pieces that this change needs, each with the key that names it."""

    def makes(self, edges: Mapping[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
        """The pieces that this change adds, with the names of their edges, given those that are there."""
        return {}

    @abstractmethod
    def apply(self, draft: Draft) -> Draft:
        """The draft with the change made; PatternError, a sentence, where it cannot be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OfPieces(Change):
    """A change that is made to several pieces alike: to front and back where `pieces` names no others."""

    pieces: tuple[str, ...] = ("front", "back")
    edges: ClassVar[tuple[str, ...]] = ("",)

    @property
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """The edges and pieces that this change needs, each with the key that names it."""
        return tuple(
            ("pieces", EdgeRef(piece=name, edge=edge)) for name in self.pieces for edge in self.edges
        )

    def apply(self, draft: Draft) -> Draft:
        """The draft with each of the pieces changed; PatternError, a sentence, where one cannot be."""
        for name in self.pieces:
            draft = draft.with_shape(uncrossed(self.changed(draft.shape(name)), self.what))
        return draft

    @property
    @abstractmethod
    def what(self) -> str:
        """The change in a few words with an article, for a refusal."""

    @abstractmethod
    def changed(self, shape: Shape) -> Shape:
        """One piece with the change made; PatternError, a sentence, where it cannot be."""


def uncrossed(shape: Shape, what: str) -> Shape:
    """The shape; PatternError where `what` has made it cross itself."""
    if crossed := crosses_itself(shape):
        raise PatternError(f"{shape.name}: {what} crosses {' and '.join(crossed)}; choose another")
    return shape


def check_positive(length: Length | None, what: str) -> None:
    """PatternError unless the length, where there is one, is more than nothing."""
    if length is not None and length.inches <= 0:
        raise PatternError.listing([Complaint(found=f'"{length}"', wanted=f"{what} of more than nothing")])
