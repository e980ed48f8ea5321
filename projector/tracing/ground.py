"""What stays the same while a garment is traced on the table."""

from collections.abc import Callable
from dataclasses import dataclass

from calibration.table.saved import Alignment
from patterns.measures import Unit
from patterns.piece import Piece
from patterns.tracing.edge_shift import all_shifted
from patterns.tracing.hand_trace import HandTrace
from patterns.tracing.laid_piece import LaidPiece
from patterns.tracing.retracing import retraced
from projector.lighting.lit_area import LitArea
from projector.person import QUARTER, Person


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TraceGround:
    """What stays the same while tracing; `file` is the name of the pattern file, `old` the piece that it has already.

    `names` are the edges', if they were given beforehand. `moves` are edges to be moved out, or in where negative,
    by inches once the piece is made. `judge` raises PatternError for a piece that the file cannot take.
    """

    piece: str
    unit: Unit
    file: str
    alignment: Alignment
    lit: LitArea
    judge: Callable[[Piece], object]
    old: Piece | None = None
    names: tuple[str, ...] = ()
    moves: tuple[tuple[str, float], ...] = ()
    warnings: tuple[str, ...] = ()

    def person(self, side: int) -> Person:
        """The person at one of the four sides, counted anticlockwise from the near one."""
        return Person(facing_deg=self.alignment.turn_deg + QUARTER * side)

    def made(self, trace: HandTrace) -> LaidPiece:
        """The piece of a closed outline, its edges moved as was asked; PatternError if it cannot be one.

        What was authored on the piece that the file has already stays.
        """
        piece = all_shifted(trace.piece(self.piece, self.unit), self.moves)
        piece = piece if self.old is None else retraced(self.old, piece)
        return LaidPiece(piece=piece, placement=trace.placement)
