"""The changes that move a neck: raised, lowered, wider, narrower."""

from dataclasses import dataclass, field
from typing import ClassVar

from patterns.alterations.necks import LEAST_BODY_IN, NECK, Neck
from patterns.changes.change import OPENING, ByLength, Change, check_positive, uncrossed
from patterns.changes.draft import Draft, EdgeRef
from patterns.errors import PatternError
from patterns.measures import Length
from patterns.saying import LengthError
from patterns.shape import Shape


@dataclass(frozen=True, slots=True, kw_only=True)
class OfNeck(Change):
    """A change of one piece's neck."""

    piece: str

    @property
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """The neck."""
        return (("piece", EdgeRef(piece=self.piece, edge=NECK)),)


@dataclass(frozen=True, slots=True, kw_only=True)
class RaiseNeck(OfNeck):
    """`raise neck: L`: the neck higher by `by` at the centre, its neck-shoulder point where it was."""

    opens: ClassVar[str] = "raise neck"
    keeps: ClassVar[str] = "the neck-shoulder point where it is; a neck square to the fold stays so"
    by: Length = field(metadata=OPENING)

    def __post_init__(self) -> None:
        check_positive(self.by, "a rise")

    def apply(self, draft: Draft) -> Draft:
        """The draft with the neck raised; PatternError if it would rise to the shoulder or above."""
        neck = Neck.of(draft.shape(self.piece))
        if self.by.inches >= neck.room_in:
            raise LengthError(
                lambda say: (
                    f"{self.piece}: raising the neck {self.by.words} would bring its centre across the shoulder; "
                    f"it lies {say(neck.room_in)} below the neck-shoulder point, so raise it by less"
                )
            )
        changed = neck.with_depth(neck.room_in - self.by.inches)
        return draft.with_shape(uncrossed(changed, f"a neck raised {self.by.words}"))


@dataclass(frozen=True, slots=True, kw_only=True)
class LowerNeck(OfNeck):
    """`lower neck: L`: the neck lower by `by` at the centre, its neck-shoulder point where it was."""

    opens: ClassVar[str] = "lower neck"
    keeps: ClassVar[str] = "the neck-shoulder point where it is; a neck square to the fold stays so"
    by: Length = field(metadata=OPENING)

    def __post_init__(self) -> None:
        check_positive(self.by, "a fall")

    def apply(self, draft: Draft) -> Draft:
        """The draft with the neck lowered; PatternError if no body would be left below it."""
        neck = Neck.of(draft.shape(self.piece))
        if neck.room_in <= 0:
            raise PatternError(
                f"{self.piece}: the neck's centre does not lie below the neck-shoulder point, so its shape says "
                "nothing of a lower one; draw it with neck: round"
            )
        most = neck.body_end - LEAST_BODY_IN - neck.centre[1]
        if self.by.inches > most:
            raise LengthError(
                lambda say: (
                    f"{self.piece}: lowering the neck {self.by.words} leaves no body at the centre, which ends at "
                    f"{say(neck.body_end)}; lower it by at most {say(most)}"
                )
            )
        changed = neck.with_depth(neck.room_in + self.by.inches)
        return draft.with_shape(uncrossed(changed, f"a neck lowered {self.by.words}"))


@dataclass(frozen=True, slots=True, kw_only=True)
class _NeckWidth(ByLength):
    """The neck-shoulder point moved along the shoulder seam, the neck stretched to it, its centre where it was.

    On front and back alike, where `pieces` names no others; where one is left out, their shoulders no longer
    match and the joins say so.
    """

    measure: ClassVar[str] = "a distance along the shoulder"
    edges: ClassVar[tuple[str, ...]] = (NECK,)

    def changed(self, shape: Shape) -> Shape:
        """The piece with that neck; PatternError if no shoulder is left, or it would close across the centre."""
        return Neck.of(shape).moved_along_shoulder(self.signed_in).shape


@dataclass(frozen=True, slots=True, kw_only=True)
class WidenNeck(_NeckWidth):
    """`widen neck: L`: the neck-shoulder point `by` further out along the shoulder seam."""

    opens: ClassVar[str] = "widen neck"
    keeps: ClassVar[str] = "the neck's depth at the centre, and the line of the shoulder seam"
    sign: ClassVar[int] = 1
    outcome: ClassVar[str] = "a neck {} wider"


@dataclass(frozen=True, slots=True, kw_only=True)
class NarrowNeck(_NeckWidth):
    """`narrow neck: L`: the neck-shoulder point `by` further in, where the shoulder seam runs on straight."""

    opens: ClassVar[str] = "narrow neck"
    keeps: ClassVar[str] = "the neck's depth at the centre; the shoulder seam runs on in its own line"
    sign: ClassVar[int] = -1
    outcome: ClassVar[str] = "a neck {} narrower"
