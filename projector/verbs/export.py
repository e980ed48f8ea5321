"""The verb `export`: drafted pieces side by side at true size, for other programs and for printers."""

import json
from argparse import Namespace
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from patterns import read_pattern
from patterns.cutting.drafted import DraftedPattern
from patterns.exchange.dxf_out import spread_dxf
from patterns.exchange.marked import MarkedPiece, Spread, marked_pieces, spread
from patterns.exchange.pdf_out import one_page_pdf, tiled_pdf
from patterns.exchange.svg_out import spread_svg
from projector.outputs import write_bytes
from projector.usage.export import format_of


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Made:
    """A file's content, how the pieces lie in it, and the names of the sheets that it is over, if it is."""

    content: bytes
    sheet: Spread
    sheets: tuple[str, ...] = ()


def export(arguments: Namespace) -> int:
    """Run the verb; the exit code."""
    drafted = read_pattern(arguments.pattern).drafted(arguments.version)
    named = f"{drafted.name}, {arguments.version}" if arguments.version else drafted.name
    made = _made(arguments, named, drafted)
    write_bytes(arguments.out, made.content)
    print(json.dumps(_result(arguments, made)) if arguments.json else _words(arguments, made, drafted))
    return 0


def _made(arguments: Namespace, name: str, drafted: DraftedPattern) -> _Made:
    pieces = marked_pieces(drafted, arguments.piece, opened=arguments.opened)
    unit, to = drafted.unit, format_of(arguments)
    if arguments.paper is not None:
        content, tiling = tiled_pdf(name, pieces, arguments.paper, unit)
        return _Made(content=content, sheet=tiling.sheet, sheets=tuple(tile.name for tile in tiling.tiles))
    sheet = spread(name, pieces)
    if to == "svg":
        content = spread_svg(sheet, unit).encode("utf-8")
    else:
        content = spread_dxf(sheet, unit) if to == "dxf" else one_page_pdf(sheet, unit)
    return _Made(content=content, sheet=sheet)


def _words(arguments: Namespace, made: _Made, drafted: DraftedPattern) -> str:
    say = drafted.say
    wide, high = (say(side) for side in made.sheet.size_in)
    over = f", over {len(made.sheets)} sheets and a plan of them" if made.sheets else ""
    pieces = ", ".join(f"{one.piece.name} ({_state(one)})" for one in made.sheet.pieces)
    strips = (f"\nnot drawn: {strip.words(say)}" for strip in drafted.strips)
    return f"{arguments.out}: {pieces}; {wide} by {high}{over}{''.join(strips)}"


def _state(marked: MarkedPiece) -> str:
    half = "opened full" if marked.opened else "half, on the fold"
    return "whole" if marked.piece.fold is None else half


def _result(arguments: Namespace, made: _Made) -> Mapping[str, Any]:
    return {
        "file": str(arguments.out),
        "format": format_of(arguments),
        "pattern": made.sheet.name,
        "size_in": list(made.sheet.size_in),
        "pieces": _pieces(made.sheet.pieces),
        "sheets": list(made.sheets),
    }


def _pieces(pieces: Sequence[MarkedPiece]) -> Sequence[Mapping[str, Any]]:
    """Each with the place of its own nought on the sheet, whose top left corner is nought and whose y is up."""
    return [
        {
            "piece": one.piece.name,
            "state": _state(one),
            "at_in": [one.placement.x_in, one.placement.y_in],
        }
        for one in pieces
    ]
