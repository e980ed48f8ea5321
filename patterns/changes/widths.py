"""The changes of width: of the body, of the sleeve's opening, and of how the hem hangs."""

from dataclasses import dataclass, field
from enum import Enum
from typing import ClassVar

from patterns.alterations.hems import HEM, hem_slanted
from patterns.alterations.sleeves import SIDE, SLEEVE_HEM, Sleeve
from patterns.alterations.widening import widened_at_fold, widened_at_side
from patterns.changes.change import OPENING, ByLength, OfPieces, check_positive
from patterns.changes.draft import EdgeRef
from patterns.errors import Complaint, PatternError
from patterns.measures import Length
from patterns.shape import Shape


class Place(Enum):
    """Where a piece is made wider or narrower."""

    FOLD = "fold"
    SIDE = "side"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Width(ByLength):
    """Each half piece wider or narrower by `by`: front and back change the girth by four times that.

    `at: fold`, all of the piece is moved and the neck and hem are stretched to the fold; `at: side`, only the
    side is, from the underarm down, and the hem is stretched to it.
    """

    measure: ClassVar[str] = "a width"
    at: Place

    @property
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """The pieces, with their sides where the change is made there."""
        edge = SIDE if self.at is Place.SIDE else ""
        return tuple(("pieces", EdgeRef(piece=name, edge=edge)) for name in self.pieces)

    def changed(self, shape: Shape) -> Shape:
        """The piece of that width; PatternError where it has no fold, or too little for it beside neck or side."""
        widened = widened_at_fold if self.at is Place.FOLD else widened_at_side
        return widened(shape, self.signed_in)


@dataclass(frozen=True, slots=True, kw_only=True)
class Widen(_Width):
    """`widen: L`: each half piece wider by `by`."""

    opens: ClassVar[str] = "widen"
    keeps: ClassVar[str] = "the fold straight; neck and hem at their depth on it, and square where they were"
    sign: ClassVar[int] = 1
    outcome: ClassVar[str] = "a piece {} wider"


@dataclass(frozen=True, slots=True, kw_only=True)
class Narrow(_Width):
    """`narrow: L`: each half piece narrower by `by`."""

    opens: ClassVar[str] = "narrow"
    keeps: ClassVar[str] = "the fold straight; neck and hem at their depth on it, and square where they were"
    sign: ClassVar[int] = -1
    outcome: ClassVar[str] = "a piece {} narrower"


@dataclass(frozen=True, slots=True, kw_only=True)
class SleeveOpening(OfPieces):
    """`sleeve opening: L`: the sleeve hem of each piece `length` long, half of what goes round the arm.

    Its end at the overarm stays; the side is re-joined smoothly between the sleeve hem and the underarm.
    """

    opens: ClassVar[str] = "sleeve opening"
    keeps: ClassVar[str] = "the overarm and the slant of the sleeve hem; the side from the underarm down"
    edges: ClassVar[tuple[str, ...]] = (SLEEVE_HEM, SIDE)
    length: Length = field(metadata=OPENING)

    def check(self) -> None:
        """PatternError unless the length is more than nothing."""
        check_positive(self.length, "a length")

    @property
    def what(self) -> str:
        """The change in a few words with an article, for a refusal."""
        return f"a sleeve opening of {self.length.words}"

    def changed(self, shape: Shape) -> Shape:
        """The piece with that opening; PatternError where it would hang below the piece."""
        return Sleeve.of(shape).opened(self.length.inches)


@dataclass(frozen=True, slots=True, kw_only=True)
class SlantHem(OfPieces):
    """`slant hem: L`: the hem lower by `by` at the side, or with a minus sign higher there.

    It sweeps there from half an inch beside the fold on, and comes to the side in the direction it had.
    """

    opens: ClassVar[str] = "slant hem"
    keeps: ClassVar[str] = (
        "the length at the fold; the hem's directions at fold and side; the side runs on or is cut off"
    )
    edges: ClassVar[tuple[str, ...]] = (HEM,)
    by: Length = field(metadata=OPENING)

    def check(self) -> None:
        """PatternError where the hem would stay as it is."""
        if not self.by.exact_inches:
            wanted = "how much lower the hem is at the side, or with a minus sign higher"
            raise PatternError.listing([Complaint(found=f'"{self.by}"', wanted=wanted)])

    @property
    def what(self) -> str:
        """The change in a few words with an article, for a refusal."""
        return f"a hem slanted by {self.by.words}"

    def changed(self, shape: Shape) -> Shape:
        """The piece with its hem slanted; PatternError where it has no fold or its side does not reach."""
        return hem_slanted(shape, self.by.inches)
