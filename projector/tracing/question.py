"""What is asked at the table about one edge of a trace, and answered by typed letters: its name, or a length."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from patterns.errors import PatternError
from patterns.measures import inches
from patterns.tracing.edge_names import NAMES
from patterns.tracing.hand_trace import HandTrace
from patterns.tracing.laid_piece import LaidPiece
from projector.tracing.bindings import ASKING_LENGTH, NAMING
from projector.words.typed_answer import TypedAnswer

USUAL_NAMES: Final = (*NAMES, "shoulder", "armhole", "waist", "opening", "band")

Work = HandTrace | LaidPiece


@dataclass(frozen=True, slots=True, kw_only=True)
class Question(TypedAnswer):
    """About the edge with that number; `answer` makes of the work and what was typed the work that follows."""

    edge: int
    answer: Callable[[Work, int, str], Work]

    def answered(self, work: Work) -> Work:
        """The work that follows; PatternError for what is no answer."""
        return self.answer(work, self.edge, self.text.strip())


def of_name(work: Work, edge: int) -> Question:
    """What an edge is called; the usual names that are not given yet are offered."""
    names = work.names if isinstance(work, HandTrace) else tuple(one.name for one in work.piece.edges)
    said = f"edge {edge + 1}" if not names[edge] else names[edge]
    return Question(
        edge=edge,
        asks=f"{said} is called:",
        bindings=NAMING,
        answer=_named,
        offers=tuple(name for name in USUAL_NAMES if name not in names),
    )


def of_length(work: LaidPiece, edge: int) -> Question:
    """How far an edge is to be moved."""
    return Question(
        edge=edge,
        asks=f"move the {work.piece.edges[edge].name} out by:",
        bindings=ASKING_LENGTH,
        answer=_moved,
    )


def _named(work: Work, edge: int, text: str) -> Work:
    small = text.casefold()
    name = small if small in USUAL_NAMES else text  # which the checks and the changes go by
    return work.named(edge, name) if isinstance(work, HandTrace) else work.renamed(edge, name)


def _moved(work: Work, edge: int, text: str) -> Work:
    if isinstance(work, HandTrace):
        raise TypeError("only an edge of a piece is moved by a length")
    try:
        out_in = inches(text)
    except PatternError as error:
        raise PatternError("that is no length: write 1/2 in or 1.5 cm") from error
    return work.shifted(edge, out_in)
