"""The verb `import`: closed outlines of another program's drawing become pieces of a pattern file."""

import json
from argparse import Namespace
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

from patterns.errors import PatternError
from patterns.exchange.asked import Asked
from patterns.exchange.imported import Imported, imported
from patterns.exchange.seam_piece import ImportedPiece
from patterns.files.editing import change_pattern
from patterns.files.reader import read_pattern
from patterns.files.writer import write_pattern
from patterns.measures import Length, Unit
from patterns.parts import Allowance, Kind
from patterns.pattern import Pattern
from patterns.piece import Piece
from patterns.saying import Say
from projector.errors import ProjectorError
from projector.tracing.traced_file import has_piece, with_piece

_NONE: Final = Allowance(parts=(Length(spelling="0"),))


def import_(arguments: Namespace) -> int:
    """Run the verb; the exit code."""
    out = arguments.out
    before = read_pattern(out) if out.exists() else None
    found = imported(arguments.drawing, _asked(arguments), _unit(arguments, before))
    pieces = [one.piece for one in found.pieces]
    _check_new(out, before, pieces)
    narrow = _write(out, before, found)
    if arguments.json:
        print(json.dumps(_result(out, found, narrow)))
    else:
        print("\n".join(_lines(out, found, narrow)))
    return 0


def _asked(arguments: Namespace) -> Asked:
    return Asked(
        names=tuple(arguments.piece),
        edges=dict(arguments.edges),
        folds=dict(arguments.fold),
        allowance_in=arguments.allowance,
        scale_in=arguments.scale,
        across_in=arguments.across,
    )


def _unit(arguments: Namespace, before: Pattern | None) -> Unit | None:
    """The unit to write in: that of the file that is there, or the one asked for; None to go by the drawing."""
    asked = None if arguments.unit is None else Unit(arguments.unit)
    if before is None:
        return asked
    if asked not in (None, before.unit):
        raise ProjectorError(
            f"{arguments.out} is in {before.unit.value}, and --unit is {arguments.unit}; leave --unit out, or write "
            "another file"
        )
    return before.unit


def _check_new(out: Path, before: Pattern | None, pieces: list[Piece]) -> None:
    there = [piece.name for piece in pieces if before is not None and has_piece(before, piece.name)]
    if there:
        raise ProjectorError(
            f"{out} has a piece {' and a piece '.join(there)} already; import into another file, or name the pieces "
            "with --piece"
        )


def _write(out: Path, before: Pattern | None, found: Imported) -> tuple[str, ...]:
    """Put the pieces into the file, whole or not at all; the names of those that the usual allowance does not fit.

    These get none where the drawing gives none.
    """
    begun = before or _new(out, found)
    bare = replace(begun, joins=(), changes=(), versions=())
    narrow = [one.piece.name for one in found.pieces if not _fits(replace(bare, pieces=(one.piece,)))]
    pieces = [
        _without_allowances(one.piece) if one.piece.name in narrow else one.piece for one in found.pieces
    ]

    def grown(pattern: Pattern) -> Pattern:
        for piece in pieces:
            pattern = with_piece(pattern, piece, out)
        pattern.drafted()
        return pattern

    if before is None:
        write_pattern(out, grown(begun))
    else:
        change_pattern(out, grown)
    return tuple(narrow)


def _new(out: Path, found: Imported) -> Pattern:
    """A pattern with the first piece, in the unit of them all."""
    return replace(with_piece(None, found.pieces[0].piece, out), unit=found.unit)


def _fits(pattern: Pattern) -> bool:
    try:
        pattern.drafted()
    except PatternError:
        return False
    return True


def _without_allowances(piece: Piece) -> Piece:
    """The piece with none for the edges that would have the pattern's own."""
    edges = (
        replace(edge, allowance=_NONE) if edge.allowance is None and edge.kind is not Kind.FOLD else edge
        for edge in piece.edges
    )
    return replace(piece, edges=tuple(edges))


def _notes(one: ImportedPiece, narrow: tuple[str, ...]) -> Iterator[str]:
    yield from one.notes
    if one.piece.name in narrow:
        yield (
            "the pattern's allowances do not fit it all round, so it has none where the drawing gives none; give its "
            "edges what they need"
        )


def _lines(out: Path, found: Imported, narrow: tuple[str, ...]) -> Iterator[str]:
    say = Say(found.unit)
    yield f"{out}: {len(found.pieces)} piece{'' if len(found.pieces) == 1 else 's'}"
    for one in found.pieces:
        piece = one.piece
        marks = (
            [f"{len(piece.notches)} notch{'' if len(piece.notches) == 1 else 'es'}"] if piece.notches else []
        )
        marks += ["grain"] if piece.grain is not None else []
        yield f"{piece.name}: {piece.cut.words}{''.join(f', {mark}' for mark in marks)}"
        for edge, curve in zip(piece.edges, piece.curves, strict=True):
            folds = "" if edge.allowance is None else " + ".join(map(say, edge.allowance.inches))
            allowance = f", allowance {folds}" if folds else ""
            yield f"  {edge.name:<14} {say(curve.length_in):>10}  {edge.kind.value}{allowance}"
        yield from (f"look: {piece.name}: {note}" for note in _notes(one, narrow))
    yield from (f"look: {note}" for note in found.notes)


def _result(out: Path, found: Imported, narrow: tuple[str, ...]) -> Mapping[str, Any]:
    return {
        "file": str(out),
        "unit": found.unit.value,
        "pieces": {one.piece.name: _piece_result(one) for one in found.pieces},
        "warnings": [
            *(f"{one.piece.name}: {note}" for one in found.pieces for note in _notes(one, narrow)),
            *found.notes,
        ],
    }


def _piece_result(one: ImportedPiece) -> Mapping[str, Any]:
    piece = one.piece
    return {
        "cut": str(piece.cut),
        "edges": {edge.name: curve.length_in for edge, curve in zip(piece.edges, piece.curves, strict=True)},
        "fold": next((edge.name for edge in piece.edges if edge.kind is Kind.FOLD), None),
        "notches": len(piece.notches),
        "grain": piece.grain is not None,
        "expected_error_in": one.stray_in,
    }
