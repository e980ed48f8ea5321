"""The verb `tape`: a captured piece held against a tape measure."""

import json
from argparse import Namespace
from collections.abc import Mapping, Sequence
from typing import Any

from patterns.half_measures import OPPOSITE, captured
from patterns.measures import said_in
from patterns.pattern import Pattern
from patterns.piece import Piece
from patterns.reader import read_pattern
from patterns.tape_check import TapeCheck, read_taped, tape_checks
from projector.errors import ProjectorError


def tape(arguments: Namespace) -> int:
    """What was taped beside what was captured; with nothing taped, all that was captured. The exit code."""
    pattern = read_pattern(arguments.pattern)
    piece = _piece(pattern, arguments)
    if arguments.taped:
        checks = checked(pattern, piece, arguments.taped)
        if arguments.json:
            warnings = [check.warning for check in checks if check.warning]
            print(json.dumps({"piece": piece.name, "taped": results(checks), "warnings": warnings}))
        else:
            print("\n".join(words(checks)))
        return 0
    told = captured(piece, _opposite(pattern, piece), pattern.unit)
    if arguments.json:
        print(json.dumps({"piece": piece.name, "captured_in": dict(told)}))
        return 0
    print(f"{piece.name} of {pattern.name}, as it lies folded, on its seam line:")
    for what, length_in in told:
        print(f"  {what:<22} {said_in(length_in, pattern.unit):>12}")
    return 0


def checked(pattern: Pattern, piece: Piece, taped: Sequence[str]) -> tuple[TapeCheck, ...]:
    """What was typed of a tape beside what the piece has; PatternError for what it does not have."""
    said = tuple(read_taped(text, pattern.unit) for text in taped)
    return tape_checks(piece, said, _opposite(pattern, piece))


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


def _piece(pattern: Pattern, arguments: Namespace) -> Piece:
    found = _named(pattern, arguments.piece)
    if found is None:
        names = ", ".join(piece.name for piece in pattern.pieces)
        raise ProjectorError(
            f"{arguments.pattern} has no piece {arguments.piece}; it has {names}: name one with --piece"
        )
    return found


def _opposite(pattern: Pattern, piece: Piece) -> Piece | None:
    """The back of a front, or the front of a back, where the pattern has it."""
    return _named(pattern, OPPOSITE.get(piece.name, ""))


def _named(pattern: Pattern, name: str) -> Piece | None:
    return next((piece for piece in pattern.pieces if piece.name == name), None)
