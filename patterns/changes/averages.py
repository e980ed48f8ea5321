"""The change that makes one piece of two traces of it."""

from dataclasses import dataclass, field, replace
from typing import ClassVar

from patterns.alterations.between import APART_IN, Between, halfway, taken_from, with_curves
from patterns.changes.change import OPENING, Change, uncrossed
from patterns.changes.draft import Draft, EdgeRef
from patterns.errors import Complaint, PatternError
from patterns.saying import Sentence


@dataclass(frozen=True, slots=True, kw_only=True)
class Average(Change):
    """`average: [front, front left]`: the first piece half way between it and the second, another trace of it.

    Corners are matched, and between them places at equal shares of the edges' lengths. `use` takes the better
    trace of the two alone. The second is never cut, whether the change is made or not.
    """

    opens: ClassVar[str] = "average"
    keeps: ClassVar[str] = "the first trace's name, allowances, notches and grain; the fold straight"
    pieces: tuple[str, ...] = field(metadata=OPENING)
    use: str | None = None

    def __post_init__(self) -> None:
        if len(set(self.pieces)) != 2 or len(self.pieces) != 2:
            found = f'"{", ".join(self.pieces)}"'
            raise PatternError.listing(
                [Complaint(found=found, wanted="two traces, the piece and another of it")]
            )
        if self.use is not None and self.use not in self.pieces:
            raise PatternError.listing(
                [Complaint(found=f'"{self.use}"', wanted=f"the better trace: {' or '.join(self.pieces)}")]
            )

    @property
    def needs(self) -> tuple[tuple[str, EdgeRef], ...]:
        """Both traces."""
        return tuple((self.opens, EdgeRef(piece=name)) for name in self.pieces)

    @property
    def aside(self) -> tuple[str, ...]:
        """The second trace."""
        return self.pieces[1:]

    def apply(self, draft: Draft) -> Draft:
        """The draft with the first piece between the two; PatternError unless they are halves of the same edges."""
        one, other = (draft.shape(name) for name in self.pieces)
        if self.use is not None:
            return draft if self.use == one.name else draft.with_shape(taken_from(one, other))
        edges = halfway(one, other)
        made = uncrossed(with_curves(one, [edge.curve for edge in edges]), "the average of its two traces")
        notes = tuple(self._far_apart(edge) for edge in edges if edge.apart_in > APART_IN)
        return replace(draft.with_shape(made), notes=(*draft.notes, *notes))

    def _far_apart(self, edge: Between) -> Sentence:
        one, other = self.pieces
        return lambda say: (
            f"{one}, {edge.edge}: the two traces lie {say.beyond(APART_IN, edge.apart_in)} apart "
            f"{say(edge.along_in, 2)} along it, more than {say(APART_IN)}; trace the worse half again, "
            f"or use the better one: use: {one}, or use: {other}"
        )
