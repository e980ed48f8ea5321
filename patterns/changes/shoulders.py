"""The change of where the seam along the top of the shoulder lies."""

from dataclasses import dataclass, field
from typing import ClassVar

from patterns.alterations.shoulder import OVERARM, shoulder_forward
from patterns.changes.change import OPENING, Change, check_positive, uncrossed
from patterns.changes.draft import Draft, EdgeRef
from patterns.errors import PatternError
from patterns.measures import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class ShoulderForward(Change):
    """`shoulder forward: L`: the overarm seam lies `by` in front of the fold that was traced as the top.

    The front is shortened by so much at its overarm and the back lengthened, so that their sum is kept. Depths
    still count from the top of the shoulder as it was traced.
    """

    opens: ClassVar[str] = "shoulder forward"
    keeps: ClassVar[str] = "front and back together as long as they were; side and hem stay as they are"
    by: Length = field(metadata=OPENING)
    front: str = "front"
    back: str = "back"

    def __post_init__(self) -> None:
        check_positive(self.by, "a distance")

    @property
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """The overarms of both pieces."""
        pieces = (("front", self.front), ("back", self.back))
        return tuple((key, EdgeRef(piece=name, edge=OVERARM)) for key, name in pieces)

    def apply(self, draft: Draft) -> Draft:
        """The draft with both overarms moved; PatternError if one is both, or would not meet its neighbours."""
        if self.front == self.back:
            raise PatternError(
                f"{self.front} is given as front and back, and cannot be shorter and longer at once; name two pieces"
            )
        moved = shoulder_forward(draft.shape(self.front), draft.shape(self.back), self.by.inches)
        for shape in moved:
            draft = draft.with_shape(uncrossed(shape, f"a shoulder {self.by.words} forward"))
        return draft
