"""What a tape says of the garment beside what was captured, as it is printed."""

from collections.abc import Mapping, Sequence
from typing import Any

from patterns.checks.half_measures import OPPOSITE
from patterns.checks.tape_check import TapeCheck, read_taped, tape_checks
from patterns.pattern import Pattern
from patterns.piece import Piece


def checked(pattern: Pattern, piece: Piece, taped: Sequence[str]) -> tuple[TapeCheck, ...]:
    """What was typed of a tape beside what the piece has; PatternError for what it does not have."""
    said = tuple(read_taped(text, pattern.unit) for text in taped)
    return tape_checks(piece, said, opposite(pattern, piece))


def words(checks: Sequence[TapeCheck]) -> list[str]:
    """A line for each measure, then what to look at."""
    lines = [f"{'':<24} {'captured':>12} {'taped':>12}"]
    for check in checks:
        agrees = "agrees" if not check.warning else check.difference_words
        said = f"{check.captured_words:>12} {check.taped.length.words:>12}"
        lines.append(f"  {check.taped.name:<22} {said}   {agrees}")
    return lines + [f"look: {check.warning}" for check in checks if check.warning]


def results(checks: Sequence[TapeCheck]) -> list[Mapping[str, Any]]:
    """The same for a JSON object."""
    return [
        {
            "what": check.taped.name,
            "captured_in": check.captured_in,
            "taped_in": check.taped_in,
            "difference_in": check.difference_in,
        }
        for check in checks
    ]


def opposite(pattern: Pattern, piece: Piece) -> Piece | None:
    """The back of a front, or the front of a back, where the pattern has it."""
    name = OPPOSITE.get(piece.name)
    return next((one for one in pattern.pieces if one.name == name), None)
